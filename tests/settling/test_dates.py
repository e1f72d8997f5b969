"""Date opinions: densities, pools, agreement, and the years that a reissued label may print."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import norm

from planish.reasoning.settling import pool_dates
from planish.reasoning.settling import pooling as p
from planish.records import DateOpinion, VotingRules, Years

RULES = VotingRules()
P, Q = np.array([0.1, 0.2, 0.6, 0.1]), np.array([0.4, 0.4, 0.1, 0.1])


def says(first, last, best=None, sure=0.8):
    return DateOpinion(years=Years(first, last), best=best, sure=sure)


def test_linear_and_logarithmic_pool_of_two_opinions():
    # By the definitions (Genest & Zidek 1986, Statistical Science 1:114-148), worked by hand
    assert p.linear_pool([P, Q]) == pytest.approx([0.25, 0.3, 0.35, 0.1])
    assert p.log_pool([P, Q]) == pytest.approx([0.24161, 0.34168, 0.29591, 0.1208], abs=6e-5)


def test_updating_commutes_with_the_logarithmic_pool_only():
    # External Bayesianity, Genest & Zidek 1986 (from memory)
    seen = np.array([1.0, 2.0, 1.0, 0.5])

    def updated(d):
        return d * seen / (d * seen).sum()

    assert updated(p.log_pool([P, Q])) == pytest.approx(p.log_pool([updated(P), updated(Q)]), abs=1e-12)
    assert updated(p.linear_pool([P, Q])) != pytest.approx(p.linear_pool([updated(P), updated(Q)]), abs=1e-3)


def test_merging_years_commutes_with_the_linear_pool_only():
    # McConway 1981, JASA 76:410-414 (from memory)
    def merged(d):
        return np.array([d[0] + d[1], d[2], d[3]])

    assert merged(p.linear_pool([P, Q])) == pytest.approx(p.linear_pool([merged(P), merged(Q)]), abs=1e-12)
    assert merged(p.log_pool([P, Q])) != pytest.approx(p.log_pool([merged(P), merged(Q)]), abs=1e-3)


def test_one_zero_is_a_veto_in_the_logarithmic_pool_only():
    one, two = np.array([0.5, 0.5, 0]), np.array([0.1, 0.1, 0.8])
    assert p.log_pool([one, two]) == pytest.approx([0.5, 0.5, 0])
    assert p.linear_pool([one, two]) == pytest.approx([0.3, 0.3, 0.4])


def test_the_variance_of_the_pool_is_the_mean_within_plus_the_variance_between():
    # Mixture moments: normals 1730 +- 10 and 1750 +- 20 pool to mean 1740, variance 350; between 100
    normal = [np.diff(norm.cdf(np.arange(1400, 2032) - 0.5, m, s)) for m, s in ((1730, 10), (1750, 20))]
    pool = p.linear_pool(normal)
    mean = pool @ p.GRID
    assert mean == pytest.approx(1740, abs=1e-6)
    variance = pool @ (p.GRID - mean) ** 2
    assert variance == pytest.approx(350, abs=0.1)  # year bins add 1/12
    assert p.between_share(normal) == pytest.approx(100 / variance, abs=1e-9)


def test_two_equal_normals_one_deviation_apart_overlap_by_0_617():
    # 2 Phi(-1/2): Inman & Bradley 1989 (from memory)
    one, two = (np.diff(norm.cdf(np.arange(1400, 2032) - 0.5, m, 40)) for m in (1700, 1740))
    assert p.overlap(one, two) == pytest.approx(0.6170750775, abs=1e-4)


def test_a_flat_top_holds_its_confidence_and_is_continuous_at_its_edges():
    # 1760-1780 at 80 %: 21 years, tau = (1-c)w/(2c) = 2.625 years, density at the edge .8/21 = .0380952
    x = np.array([1760.0, 1781.0, 1760 - 1e-6, 1760 + 1e-6, 1760 - 2.625])
    below, above, just_before, just_after, one_tau = p.flat_top(x, 1760, 1781, 0.8)
    assert above - below == pytest.approx(0.8)
    assert (below - just_before) / 1e-6 == pytest.approx(0.0380952381, abs=1e-6)
    assert (just_after - below) / 1e-6 == pytest.approx(0.0380952381, abs=1e-6)
    assert one_tau == pytest.approx(0.1 * np.exp(-1))


def test_a_split_normal_holds_exactly_its_confidence_and_leans_to_its_wider_side():
    x = np.array([1720.0, 1730.5, 1761.0])
    low, best, high = p.split_normal(x, 1720, 1730.5, 1761, 0.8)
    assert high - low == pytest.approx(0.8)
    s1, s2 = 10.5, 30.5
    assert low == pytest.approx(0.2 * s1 / (s1 + s2))
    assert best == pytest.approx(s1 / (s1 + s2))


opinions = st.builds(
    lambda a, w, b, sure: says(a, a + w, None if b is None else min(a + b, a + w), sure),
    st.integers(1600, 1850),
    st.integers(0, 70),
    st.none() | st.integers(0, 70),
    st.floats(0.5, 0.95),
)


@settings(deadline=None)
@given(opinions)
def test_every_density_sums_to_one_and_leaves_no_year_at_zero(opinion):
    got = p.density(opinion)
    assert got.sum() == pytest.approx(1)
    assert got.min() > 0
    inside = got[(opinion.years.earliest <= p.GRID) & (opinion.years.latest >= p.GRID)].sum()
    assert inside == pytest.approx(
        0.99 * opinion.sure + 0.01 * (opinion.years.latest - opinion.years.earliest + 1) / 631, abs=0.02
    )


def test_open_years_and_years_off_the_grid_have_no_density():
    assert p.density(says(1700, None)) is None
    assert p.density(says(1200, 1300)) is None
    assert pool_dates([says(None, 1800)], rules=RULES) is None


FOUR = [says(1720, 1740), says(1725, 1750), says(1715, 1745), says(1730, 1760)]


def test_four_who_agree_and_a_fifth_who_does_not():
    # Worked example of the method note: between .26 and pairs overlap at least .48; with the fifth .95 and about 0
    four = p.agree_on_dates(FOUR, VotingRules(date_floor=0.0))
    assert (four.between, four.overlap) == pytest.approx((0.26, 0.48), abs=0.02)
    assert four.core == (Years(1725, 1745),)
    five = pool_dates([*FOUR, says(1840, 1870)], rules=VotingRules(date_floor=0.0))
    assert (five.agreement.between, five.agreement.overlap) == pytest.approx((0.95, 0.0), abs=0.01)
    assert five.quantiles == pytest.approx((1721, 1739, 1855), abs=2)
    assert Years(1840, 1870) in five.intervals


def test_two_humps_refuse_a_single_span_for_the_label():
    two = pool_dates([*FOUR[:3], says(1840, 1870), says(1842, 1868)], rules=RULES)
    assert two.label is None
    assert len(two.humps) == 2
    assert "two humps" in two.why


def test_the_label_takes_the_smallest_span_rounded_outwards():
    got = pool_dates(FOUR, rules=RULES)
    assert got.label == Years(1715, 1755)
    assert got.label.earliest % 5 == got.label.latest % 5 == 0
    assert "label_share=0.8" in got.conventions


def test_years_that_binding_evidence_rules_out_are_cut_away():
    got = pool_dates(FOUR, rules=RULES, excluded=(Years(None, 1735),))
    assert got.label.earliest >= 1735
    nothing = pool_dates(FOUR, rules=RULES, excluded=(Years(None, 1840),))
    assert nothing.label is None
    assert "Almost nothing" in nothing.why


def test_five_who_read_the_same_books_are_not_five():
    # n/(1+(n-1) rho): after Clemen & Winkler 1985 (from memory)
    assert [p.effective(5, r) for r in (0, 0.1, 0.3, 0.5, 1)] == pytest.approx(
        [5, 3.5714286, 2.2727273, 1.6666667, 1]
    )


def test_overconfidence_asks_for_wider_years():
    # Phi^-1(.9)/Phi^-1((1+c)/2), worked from normal tables
    assert [p.widening(c) for c in (0.45, 0.5, 0.6, 0.7)] == pytest.approx(
        [2.1439228, 1.9000312, 1.5227177, 1.2365016]
    )
    assert [p.widening(c, 0.9) for c in (0.45, 0.7)] == pytest.approx([2.7516951, 1.5870326])
    narrow, wide = (pool_dates(FOUR, rules=RULES, widen=w) for w in (1, 1.5))
    assert wide.quantiles[2] - wide.quantiles[0] > narrow.quantiles[2] - narrow.quantiles[0]


def test_a_beta_between_bounds_is_fitted_to_three_stated_chances():
    # R package SHELF, overview vignette (O'Hagan & Oakley): at most 25, 30, 40 with .25, .5, .75 on 0..100
    from planish.reasoning.settling.bounded import scaled_beta

    got = scaled_beta([25, 30, 40], [0.25, 0.5, 0.75], lowest=0, highest=100)
    assert got.quantile(0.05) == pytest.approx(15.2, abs=0.05)
    assert got.below(25) == pytest.approx(0.283, abs=0.0005)
    with pytest.raises(ValueError, match="strictly between"):
        scaled_beta([0, 30], [0.1, 0.5], lowest=0, highest=100)
