"""Rates, funnels and charts against published tables and statsmodels."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from statsmodels.stats.proportion import proportion_confint

from planish.reasoning.trending import rates as r

# Newcombe 1998, Statistics in Medicine 17:857-872, Table I (method 3 found; method 5 from memory)
NEWCOMBE = [
    (81, 263, (0.2553, 0.3662), (0.2527, 0.3676)),
    (15, 148, (0.0624, 0.1605), (0.0578, 0.1617)),
    (0, 20, (0.0, 0.1611), (0.0, 0.1684)),
    (1, 29, (0.0061, 0.1718), (0.0009, 0.1776)),
]


@pytest.mark.parametrize(("k", "n", "wilson", "exact"), NEWCOMBE)
def test_intervals_equal_the_published_table(k, n, wilson, exact):
    assert r.wilson(k, n) == pytest.approx(wilson, abs=6e-5)
    assert r.clopper_pearson(k, n) == pytest.approx(exact, abs=6e-5)


@given(st.integers(1, 400).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_intervals_equal_statsmodels(kn):
    assert r.wilson(*kn) == pytest.approx(proportion_confint(*kn, method="wilson"), abs=1e-9)
    assert r.clopper_pearson(*kn) == pytest.approx(proportion_confint(*kn, method="beta"), abs=1e-9)


def test_nothing_found_is_never_printed_as_nought_per_cent():
    assert r.in_words(0, 20) == "0 of 20 (up to 16.8 % cannot be ruled out)"
    assert r.in_words(81, 263) == "81 of 263: 30.8 % (25.5 to 36.6 %)"
    assert r.in_words(0, 0) == "none looked at"
    assert r.none_seen_upper(100) == pytest.approx(3 / 100, rel=0.02)  # the rule of three


def test_exact_binomial_funnel_limits():
    # Spiegelhalter 2002 (7.4 % stroke re-admissions) and 2005 appendix, from memory; limits worked from the method
    sizes = [10, 25, 50, 100, 500]
    assert [r.binomial_limit(0.074, n, 0.975) for n in sizes] == pytest.approx(
        [0.2274, 0.1740, 0.1447, 0.1246, 0.0968], abs=6e-5
    )
    assert [r.binomial_limit(0.074, n, 0.999) for n in sizes] == pytest.approx(
        [0.3851, 0.2611, 0.1992, 0.1607, 0.1115], abs=6e-5
    )


def test_poisson_limits_are_those_of_the_exact_count():
    # Exact 95 % limits of a Poisson count of 10: 4.795 to 18.390 (tables of Garwood 1936, from memory);
    # the upper funnel limit at E uses E + 1, the lower E.
    assert r.poisson_limits(10)[0] * 10 == pytest.approx(4.795, abs=5e-4)
    assert r.poisson_limits(10)[1] * 10 == pytest.approx(18.390, abs=5e-4)


def test_p_chart_of_thirty_samples_of_fifty():
    # NIST/SEMATECH e-Handbook 6.3.3.2 (mean found; limits from memory); also Montgomery
    counts = [12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22]
    counts += [8, 10, 5, 13, 11, 20, 18, 24, 15, 9, 12, 7, 13, 9, 6]
    assert r.p_chart(counts, 50) == pytest.approx((0.2313, 0.0524, 0.4102), abs=6e-5)


def test_eighteen_batters_keep_a_fifth_of_their_lead():
    # Efron & Morris 1977, Scientific American 236(5):119-127
    batters = [0.4, 0.378, 0.356, 0.333, 0.311, 0.311, 0.289, 0.267, 0.244, 0.244]
    batters += [0.222] * 5 + [0.2, 0.178, 0.156]
    keep, shrunk = r.shrunken(batters, 45)
    assert keep == pytest.approx(0.212, abs=0.0006)
    assert shrunk[0] == pytest.approx(0.294, abs=0.0006)


def test_known_truths_needed_to_see_overconfidence():
    # Exact binomial, one-sided 5 %, power 80 %; derived
    assert [r.truths_needed(c) for c in (0.5, 0.6, 0.7)] == [17, 35, 116]


def test_a_funnel_keeps_the_order_of_stands_and_says_nothing_below_three_expected():
    points, phi = r.funnel([("9", 30, 10.0), ("2", 10, 10.0), ("5", 9, 2.0), ("7", 19, 10.0)], spread=False)
    assert phi == 1
    assert [(p.stand, p.says) for p in points] == [
        ("9", "talk"),
        ("2", "inside"),
        ("5", "too few"),
        ("7", "look"),
    ]
    wide, phi = r.funnel([(str(i), o, 10.0) for i, o in enumerate([2, 20, 10, 3, 18, 25, 1, 10])])
    assert phi > 1
    assert wide[5].look[1] > r.poisson_limits(10)[1]
    assert r.outside_by_chance(200) == pytest.approx((10, 0.4))
