"""Agreement figures against published tables and the libraries krippendorff, irrCAC and statsmodels."""

import json
from pathlib import Path

import irrCAC.raw
import krippendorff
import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from statsmodels.stats.inter_rater import fleiss_kappa

from planish.reasoning.settling import agreement as a
from planish.records import VotingRules

DATA = json.loads((Path(__file__).parent / "agreement.json").read_text(encoding="utf-8"))
FLEISS = np.array(DATA["fleiss_1971"]["counts"], float)


def counted(rows, values):
    return np.array([[sum(r[i] == v for r in rows) for v in values] for i in range(len(rows[0]))], float)


def from_pairs(table):
    """Counts per object of a square table of two raters."""
    q, rows = len(table), []
    for i, line in enumerate(table):
        for j, n in enumerate(line):
            one = [0] * q
            one[i] += 1
            one[j] += 1
            rows += [one] * n
    return np.array(rows, float)


def test_fleiss_kappa_of_the_thirty_patients():
    # Fleiss 1971, Psychological Bulletin 76:378-382 (data read; the answer 0.430 from memory)
    assert a.fleiss(FLEISS) == pytest.approx(0.430, abs=0.0005)
    assert a.fleiss(FLEISS) == pytest.approx(fleiss_kappa(FLEISS), abs=1e-12)
    # Ten subjects by fourteen raters: encyclopaedia example, 0.210
    table = np.array(DATA["ten_by_fourteen"]["counts"], float)
    assert a.fleiss(table) == pytest.approx(0.210, abs=0.0005)


def test_fleiss_kappa_by_diagnosis():
    # Fleiss 1971 (from memory): .245 .245 .520 .471 .566, each diagnosis against the rest
    per = [a.fleiss(np.stack([FLEISS[:, k], 6 - FLEISS[:, k]], axis=1)) for k in range(5)]
    assert per == pytest.approx([0.245, 0.245, 0.520, 0.471, 0.566], abs=0.0006)


def test_gwet_and_krippendorff_on_the_first_fifteen_patients():
    # Gwet, package irrCAC, vignette "overview"
    table = FLEISS[:15]
    assert a.gwet(table) == pytest.approx(0.4448007, abs=6e-6)
    assert a.fleiss(table) == pytest.approx(0.4139265, abs=6e-6)
    assert a.alpha(table) == pytest.approx(0.4204384, abs=6e-6)


def test_two_abstractors():
    # irrCAC vignette "overview", data cont3x3abstractors: AC1 0.8493305
    assert a.gwet(from_pairs([[13, 0, 0], [0, 20, 7], [0, 4, 56]])) == pytest.approx(0.8493305, abs=6e-6)


@pytest.mark.parametrize(
    ("table", "ac1"),
    [
        ([[118, 5], [2, 0]], 0.9408),  # Gwet 2002, from memory: kappa is -0.023 here
        ([[40, 9], [6, 45]], 0.70),  # tables of Feinstein & Cicchetti 1990, from memory; AC1 computed
        ([[80, 10], [5, 5]], 0.81),
    ],
)
def test_agreement_stays_high_where_kappa_breaks_down(table, ac1):
    assert a.gwet(from_pairs(table)) == pytest.approx(ac1, abs=0.005)


# Krippendorff 2011, Computing Krippendorff's Alpha-Reliability, example C (ordinal and ratio from memory)
@pytest.mark.parametrize(
    ("scale", "published"),
    [("nominal", 0.743), ("ordinal", 0.815), ("interval", 0.849), ("ratio", 0.797)],
)
def test_alpha_of_four_observers_on_twelve_units(scale, published):
    rows = DATA["krippendorff_2011_c"]["rows"]
    table = counted(rows, [1, 2, 3, 4, 5])
    got = a.alpha(table, scale, values=[1, 2, 3, 4, 5])
    assert got == pytest.approx(published, abs=0.0006)
    data = np.array([[np.nan if v is None else v for v in r] for r in rows], float)
    library = krippendorff.alpha(reliability_data=data, level_of_measurement=scale)
    assert got == pytest.approx(library, abs=1e-12)


def test_alpha_of_three_coders_on_fifteen_units():
    table = counted(DATA["krippendorff_3x15"]["rows"], [1, 2, 3, 4])
    assert a.alpha(table) == pytest.approx(0.691, abs=0.0006)
    assert a.alpha(table, "interval") == pytest.approx(0.811, abs=0.0006)


votes = st.lists(st.lists(st.integers(0, 2), min_size=5, max_size=5), min_size=4, max_size=25).filter(
    lambda rows: len({v for r in rows for v in r}) > 1
)


@settings(deadline=None, max_examples=40)
@given(votes)
def test_all_figures_equal_the_reference_libraries(rows):
    table = np.array([[r.count(v) for v in range(3)] for r in rows], float)
    data = np.array(rows, float).T
    for scale in ("nominal", "ordinal", "interval"):
        library = krippendorff.alpha(
            reliability_data=data, level_of_measurement=scale, value_domain=[0, 1, 2]
        )
        assert a.alpha(table, scale) == pytest.approx(library, abs=1e-9)
    frame = pd.DataFrame(rows)
    for weights, ours in (("identity", None), ("quadratic", a.quadratic_weights(3))):
        cac = irrCAC.raw.CAC(frame, weights=weights, categories=[0, 1, 2])
        assert a.gwet(table, ours) == pytest.approx(cac.gwet()["est"]["coefficient_value"], abs=2e-5)


@pytest.mark.parametrize(
    ("counts", "share"),
    [((5, 0, 0), 1.0), ((4, 1, 0), 0.6), ((3, 2, 0), 0.4), ((3, 1, 1), 0.3), ((2, 2, 1), 0.2)],
)
def test_pairwise_agreement_of_one_object(counts, share):
    assert a.pairwise(counts) == pytest.approx(share)
    assert a.pairwise((1, 0, 0)) is None


GOOD_FAIR = [(5, 0, 0)] * 18 + [(4, 1, 0), (4, 0, 1)]


def test_a_good_fair_shows_three_figures_because_kappa_alone_says_no_agreement():
    # Derived from the formulae checked above: 98 of 100 verdicts alike
    table = np.array(GOOD_FAIR, float)
    assert a.fleiss(table) == pytest.approx(-0.0152284264, abs=1e-9)
    day = a.day_agreement(GOOD_FAIR, rules=VotingRules(), seed=7)
    assert day.percent.value == pytest.approx(0.96)
    assert day.ac1.value == pytest.approx(0.9592, abs=5e-5)
    assert day.alpha.value < 0.01
    assert dict(day.base_rate)["holds"] == pytest.approx(0.98)
    assert day.percent.low <= 0.96 <= day.percent.high
    assert (day.draws, day.seed) == (2000, 7)


def test_the_same_seed_gives_the_same_interval_and_another_seed_another():
    mixed = [(5 - i % 4, i % 3, i % 2) for i in range(30)]
    first, again, other = (a.day_agreement(mixed, rules=VotingRules(), seed=s) for s in (1, 1, 2))
    assert first == again
    assert (first.percent.low, first.ac1.low) != (other.percent.low, other.ac1.low)


def test_a_drawn_day_gives_what_the_formula_gives_on_it():
    table = np.array([*GOOD_FAIR, (2, 2, 1), (1, 1, 0)], float)
    pick = np.array([[0, 18, 19, 20, 20, 21, 21, 3]])
    drawn = table[pick[0]]
    percent, ac1, krippendorff_ = a._all_three(table, pick)
    assert percent.low == pytest.approx(a.percent_agreement(drawn))
    assert ac1.low == pytest.approx(a.gwet(drawn))
    assert krippendorff_.low == pytest.approx(a.alpha(drawn))


def test_fewer_than_twenty_objects_show_no_figure():
    day = a.day_agreement(GOOD_FAIR[1:], rules=VotingRules(), seed=1)
    assert (day.shown, day.percent, day.ac1, day.alpha) == (False, None, None, None)
    assert day.why == "Not enough yet: 19 of 20 objects with two views or more."


def test_no_variation_is_said_and_is_neither_one_nor_an_error():
    day = a.day_agreement([(5, 0, 0)] * 20, rules=VotingRules(), seed=1)
    assert day.alpha.value is None
    assert day.why == "No variation: every view is the same."
    assert day.percent.value == 1


def test_the_list_of_verdicts_is_the_one_offered():
    two = np.array([(4, 1)] * 20, float)
    three = np.array([(4, 1, 0)] * 20, float)
    assert a.gwet(two) != pytest.approx(a.gwet(three))


def test_dates_with_stated_errors_may_or_may_not_be_averaged():
    # Damon et al. 1989, one laboratory's five (as printed in the R package rice)
    one = a.homogeneity([733, 722, 635, 639, 679], [61, 56, 57, 45, 51])
    assert (one.mean, one.error) == pytest.approx((676.1406, 23.7443), abs=0.0006)
    assert (one.statistic, one.p) == pytest.approx((2.745, 0.601), abs=0.0006)
    # Damon et al. 1989, Table 2, three laboratories (from memory)
    three = a.homogeneity([646, 750, 676], [31, 30, 24])
    assert (three.mean, three.error, three.statistic) == pytest.approx((689, 16, 6.4), abs=0.15)
    # Ward & Wilson 1978 p. 28; degrees of freedom are n - 1, so p is .0460
    old = a.homogeneity([14550, 15000, 13700], [270, 600, 300])
    assert (old.mean, old.error) == pytest.approx((14253.1677, 190.3249917), abs=1e-4)
    assert old.statistic == pytest.approx(6.157902001, abs=1e-6)
    assert old.p == pytest.approx(0.0460, abs=5e-5)


def test_a_mirror_shows_only_to_its_owner_and_only_from_ten():
    own = {str(i): "holds" for i in range(10)}
    panel = {**own, "3": "does_not_hold"}
    assert a.own_mirror("a", "a", own, panel, rules=VotingRules()).with_panel == 9
    assert not a.own_mirror("b", "a", own, panel, rules=VotingRules()).shown
    del own["0"]
    few = a.own_mirror("a", "a", own, panel, rules=VotingRules())
    assert (few.shown, few.with_panel, few.why) == (False, 0, "Not enough yet: 9 of 10.")
