"""What votes are worth, against closed forms and tables."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import betabinom

from planish.reasoning.trending import odds as o

HOUSE = o.Costs()


def test_condorcets_jurors():
    # Binomial; 0.83692 also printed by surpyval's Binomial.ff(2, 5, 0.3); the rest derived
    got = [[round(o.majority_right(n, p), 5) for n in (1, 3, 5, 7, 9, 11)] for p in (0.55, 0.7, 0.8)]
    assert got == [
        [0.55, 0.57475, 0.59313, 0.60829, 0.62142, 0.63312],
        [0.7, 0.784, 0.83692, 0.87396, 0.90119, 0.92178],
        [0.8, 0.896, 0.94208, 0.96666, 0.98042, 0.98835],
    ]


def test_shared_errors_make_five_hardly_better_than_one():
    # Beta-binomial, closed form
    assert [o.majority_right(5, 0.8, r) for r in (0, 0.1, 0.3, 0.5)] == pytest.approx(
        [0.9421, 0.9019, 0.8497, 0.8212], abs=6e-5
    )
    wrong = o.vote_chances(5, 0.2, 0.3)
    assert [sum(wrong[k:]) for k in (3, 4, 5)] == pytest.approx([0.1503, 0.0709, 0.0230], abs=6e-5)


@given(st.integers(1, 9), st.floats(0.05, 0.95), st.floats(0.01, 0.9))
def test_vote_chances_are_those_of_scipys_beta_binomial(n, p, rho):
    a, b = p * (1 - rho) / rho, (1 - p) * (1 - rho) / rho
    assert o.vote_chances(n, p, rho) == pytest.approx(betabinom.pmf(range(n + 1), n, a, b), abs=1e-9)


def test_three_of_five_against_is_weak_evidence_where_most_labels_are_right():
    # Bayes with binomial and beta-binomial votes, base rate 10 %, accuracy .8
    assert [o.wrong_given(k, 5, rho=0) for k in range(6)] == pytest.approx(
        [0, 0.002, 0.027, 0.308, 0.877, 0.991], abs=6e-4
    )
    assert [o.wrong_given(k, 5, rho=0.3) for k in range(6)] == pytest.approx(
        [0.005, 0.025, 0.066, 0.148, 0.323, 0.715], abs=6e-4
    )


def test_cost_thresholds():
    assert o.break_even(HOUSE) == pytest.approx(0.2)
    assert o.second_look_band(HOUSE) == pytest.approx((0.0625, 0.75))
    assert o.gain(0.0625, HOUSE) == pytest.approx(0)
    assert o.gain(0.75, HOUSE) == pytest.approx(0)


def test_walds_plan_and_the_gamblers_ruin():
    # NIST/SEMATECH e-Handbook 6.2.6 (Wald 1947), from memory
    h1, h2, s = o.wald_plan(0.01, 0.10, 0.05, 0.10)
    assert (h1, h2, s) == pytest.approx((0.9389, 1.2054, 0.0397), abs=6e-5)
    # error q^m/(p^m+q^m), mean votes m/(2p-1)(1-2 error)
    assert [o.asking_until(2, p) for p in (0.7, 0.8, 0.9)] == [
        pytest.approx(x, abs=6e-4) for x in ((0.1552, 3.448), (0.0588, 2.941), (0.0122, 2.439))
    ]
    assert [o.asking_until(3, p) for p in (0.7, 0.8, 0.9)] == [
        pytest.approx(x, abs=6e-4) for x in ((0.073, 6.405), (0.0154, 4.846), (0.0014, 3.740))
    ]
    assert o.wald_margin(0.8) == 3


def test_one_more_opinion_is_worth_most_where_it_can_turn_the_answer():
    # 20/5 and accuracy .8, worked by hand from the definition
    probabilities = (0.02, 0.05, 0.10, 0.20, 0.30, 0.50, 0.80)
    assert [round(o.value_of_one_more(p, HOUSE), 1) for p in probabilities] == [0, 0, 0.7, 2.4, 1.6, 0, 0]


# Expected results per 1000 objects: base rate 10 %, accuracy .8, costs 20 and 5, a look costs 1 and is right 95 %
RULES = [
    (2, 3, 0.0, (5.792, 52.128, 0.0, 376.48)),
    (2, 3, 0.3, (15.030, 135.273, 0.0, 976.97)),
    (1, 4, 0.0, (1.952, 17.568, 256.0, 382.88)),
    (1, 4, 0.3, (8.113, 73.021, 203.754, 731.13)),
    (1, 5, 0.0, (4.0, 12.096, 302.72, 443.2)),
    (1, 5, 0.3, (9.145, 31.995, 267.577, 610.46)),
    (0, 5, 0.0, (3.392, 30.528, 672.0, 892.48)),
    (0, 5, 0.3, (4.587, 41.283, 458.123, 756.27)),
]


@pytest.mark.parametrize(("pass_at_most", "act_from", "rho", "expected"), RULES)
def test_what_each_counting_rule_costs(pass_at_most, act_from, rho, expected):
    got = o.rule_result(pass_at_most, act_from, rho=rho)
    assert (got.passed_wrong, got.hit_right, got.looks, got.cost) == pytest.approx(expected, abs=0.006)


def test_second_looks_go_where_they_save_most_up_to_the_days_capacity():
    votes = [o.Votes(object_id=f"17-{k}", against=k, decided=5) for k in range(6)]
    looks = o.second_looks(votes, 2)
    assert len(looks) == 2
    assert looks[0].gain >= looks[1].gain > 0
    assert o.second_looks(votes, 100) == o.second_looks(votes[::-1], 100)
    assert all(s.gain > 0 for s in o.second_looks(votes, 100))
    assert o.second_looks(votes, 0) == ()


def test_a_suggestion_that_turns_on_its_assumptions_is_fragile():
    split = o.weigh_votes(o.Votes(object_id="a", against=4, decided=5))
    clear = o.weigh_votes(o.Votes(object_id="b", against=0, decided=5))
    assert (split.fragile, clear.fragile) == (True, False)
    assert split.low < split.p < split.high
    assert [o.band_in_words(p) for p in (0.01, 0.1, 0.95, 0.96)] == [
        "under 5 %",
        "5-20 %",
        "80-95 %",
        "over 95 %",
    ]


def test_the_movement_log_counts_changes_and_moves_to_the_majority():
    assert o.conformity("SSSNN", "SSSSC") == (0.4, 0.5)
    assert o.conformity("SSNN", "SSSS") == (0.5, 0.0)
    assert o.conformity("SSS", "SSS") == (0.0, 0.0)


def test_the_cheapest_outcome_by_the_house_losses_of_the_three_states():
    # Derived by hand from the table: right / too strong / must not stay
    assert o.expected_losses(1, 0, 0) == {"accept": 0, "relabel": 3, "remove": 10, "refer": 2}
    assert o.expected_losses(0, 1, 0) == {"accept": 10, "relabel": 0, "remove": 6, "refer": 2}
    assert o.expected_losses(0, 0, 1) == {"accept": 40, "relabel": 20, "remove": 0, "refer": 2}
    mixed = o.expected_losses(0.5, 0.3, 0.2)
    assert mixed == pytest.approx({"accept": 11, "relabel": 5.5, "remove": 6.8, "refer": 2 + 0.2 * 5.5})
    assert min(mixed, key=lambda name: mixed[name]) == "refer"
