"""Sets: the odd one out against published worked examples, and against counting by hand."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from planish.reasoning.measuring.engraved import engraved_grams
from planish.reasoning.measuring.members import (
    grubbs_chance,
    grubbs_statistic,
    odd_one,
    student_above,
    two_groups,
)

from .conftest import Look

# NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.1: mass-spectrometer data of Tietjen and Moore (1972).
TIETJEN_MOORE = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57]


def test_the_handbook_example_comes_out() -> None:
    assert grubbs_statistic(TIETJEN_MOORE) == pytest.approx(2.468765, abs=1e-6)
    odd = odd_one(TIETJEN_MOORE)
    assert odd.index == 7
    assert odd.exact
    assert odd.chance is not None
    assert odd.chance < 1e-5


@pytest.mark.parametrize(
    ("n", "critical"),
    # Two-sided 5 % points: F. E. Grubbs and G. Beck, Technometrics 14 (1972) 847-854 (upper 2.5 % column).
    [
        (4, 1.481),
        (5, 1.715),
        (6, 1.887),
        (7, 2.020),
        (8, 2.126),
        (9, 2.215),
        (10, 2.290),
        (12, 2.412),
        (20, 2.709),
    ],
)
def test_critical_values_are_the_printed_ones(n: int, critical: float) -> None:
    assert grubbs_chance(critical, n)[0] == pytest.approx(0.05, abs=0.0015)


@given(t=st.floats(0, 50), degrees=st.integers(1, 40))
def test_students_tail_agrees_with_scipy(t: float, degrees: int) -> None:
    assert student_above(t, degrees) == pytest.approx(stats.t.sf(t, degrees), rel=1e-6, abs=1e-12)


def test_three_members_are_too_few_to_tell(look: Look) -> None:
    found = look("members", {"1": 310.0, "2": 305.0, "3": 402.0}, more={"measure": "weight"})
    assert found.details["chance"] is None
    assert any("no test can tell" in s for s in found.sentences)


def test_one_heavy_member_of_four_is_odd(look: Look) -> None:
    found = look("members", {"1": 310.0, "2": 305.0, "3": 298.0, "4": 402.0}, more={"measure": "weight"})
    assert found.details["odd_one"] == "4"
    assert found.details["chance"] < 0.05
    assert found.items == ()


def test_members_that_scatter_alike_are_not_called_odd(look: Look) -> None:
    found = look("members", {str(i): v for i, v in enumerate([310.0, 305.0, 298.0, 302.0, 307.0, 300.0])})
    assert found.details["chance"] > 0.3
    assert any("cannot call it odd" in s for s in found.sentences)


def test_a_poor_scale_takes_the_oddness_away() -> None:
    sharp, blunt = (
        odd_one([310.0, 310.5, 309.8, 311.6, 310.2]),
        odd_one([310.0, 310.5, 309.8, 311.6, 310.2], spread=2.0),
    )
    assert sharp.chance is not None
    assert blunt.chance is not None
    assert blunt.chance > sharp.chance


def test_two_odd_members_hide_one_another_and_are_said_to() -> None:
    odd = odd_one([100.0, 101.0, 99.5, 100.5, 100.2, 140.0, 141.0])
    assert odd.others


def test_two_groups_are_compared_by_counting_every_split() -> None:
    first, second = [310.0, 305.0, 298.0], [340.0, 352.0, 347.0, 344.0]
    pool = first + second
    seen = abs(sum(first) / 3 - sum(second) / 4)
    count = 0
    for chosen in itertools.combinations(range(7), 3):
        part = sum(pool[i] for i in chosen)
        count += abs(part / 3 - (sum(pool) - part) / 4) >= seen - 1e-9
    found = two_groups(first, second)
    assert found is not None
    assert found.splits == math.comb(7, 3) == 35
    assert found.chance == pytest.approx(count / 35)
    assert found.least == pytest.approx(1 / 35)


def test_two_groups_agree_with_scipys_permutation_test() -> None:
    first, second = [21.1, 22.4, 20.9, 21.8], [22.0, 23.1, 22.9, 24.0]
    theirs = stats.permutation_test(
        (first, second),
        lambda a, b: abs(a.mean() - b.mean()),
        alternative="greater",
        n_resamples=10**6,
        vectorized=False,
    )
    found = two_groups(first, second)
    assert found is not None
    assert found.chance == pytest.approx(theirs.pvalue)


@given(
    values=st.lists(st.integers(1, 10**6).map(float), min_size=4, max_size=8, unique=True),
    seed=st.permutations(range(8)),
)
def test_the_order_of_members_never_matters(values: list[float], seed: list[int]) -> None:
    shuffled = [values[i] for i in seed if i < len(values)]
    one, other = odd_one(values), odd_one(shuffled)
    assert one.chance == pytest.approx(other.chance, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "grams"),
    # 1 oz troy = 31.1034768 g, 1 lb = 453.59237 g: Weights and Measures Act 1985, schedule 1.
    [
        ("22-10", 22.5 * 31.1034768),
        ("22 oz 10 dwt", 22.5 * 31.1034768),
        ("22=10", 22.5 * 31.1034768),
        ("9 oz", 9 * 31.1034768),
        ("12-7½", 12.375 * 31.1034768),
        ("1 lb 4 oz", 1.25 * 453.59237),
    ],
)
def test_an_engraved_weight_in_grams(text: str, grams: float) -> None:
    assert engraved_grams(text, "test") == pytest.approx(grams)


@pytest.mark.parametrize(("grams", "words"), [(688.4, "agrees with"), (720.0, "Heavier"), (600.0, "Lighter")])
def test_the_present_weight_is_judged_against_the_engraved(look: Look, grams: float, words: str) -> None:
    found = look("weight", {"weight": grams}, more={"engraved": "22-10"})
    assert any(words in s for s in found.sentences)


@pytest.mark.parametrize("text", ["22-25", "heavy", "", "1 lb 17 oz", "-3"])
def test_an_engraved_weight_that_cannot_be_is_a_problem(look: Look, text: str) -> None:
    found = look("weight", {"weight": 700.0}, more={"engraved": text})
    assert found.problems
    assert found.sentences == ()


def test_two_kinds_of_member_are_compared_and_a_small_set_says_it_is_too_small(look: Look) -> None:
    six = {str(i): v for i, v in enumerate([310.0, 305.0, 298.0, 402.0, 399.0, 405.0])}
    small = look("members", six, more={"groups": "AAABBB"})
    assert any("no test can tell" in s for s in small.sentences)
    eight = {str(i): v for i, v in enumerate([310.0, 305.0, 298.0, 301.0, 402.0, 399.0, 405.0, 398.0])}
    large = look("members", eight, more={"groups": "AAAABBBB"})
    assert large.details["chance"] == pytest.approx(2 / 70)
    assert any("the kinds differ" in s for s in large.sentences)


@pytest.mark.parametrize("groups", ["AAB", "AAAAAA", "ABCABC", ""])
def test_groups_that_do_not_part_the_set_in_two_are_a_problem(look: Look, groups: str) -> None:
    six = {str(i): v for i, v in enumerate([310.0, 305.0, 298.0, 402.0, 399.0, 405.0])}
    assert [p.code for p in look("members", six, more={"groups": groups}).problems] == ["members.groups"]
