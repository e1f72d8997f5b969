"""The panel's own dates: densities, pools and their disagreement, against closed forms and publications."""

import numpy as np
import pytest

from planish.reasoning.weighing import densities as d
from planish.reasoning.weighing.elicited import fit_beta
from planish.records import Years

P, Q = np.array([0.1, 0.2, 0.6, 0.1]), np.array([0.4, 0.4, 0.1, 0.1])


def normal(mean: float, sd: float, low: float, high: float, step: float) -> np.ndarray:
    x = np.arange(low, high, step)
    row = np.exp(-0.5 * ((x - mean) / sd) ** 2)
    return row / row.sum()


def test_overlap_of_two_normals_one_deviation_apart() -> None:
    # closed form 2 Phi(-1/2); Inman and Bradley 1989, Weitzman 1970 (from memory)
    a, b = (normal(m, 1.0, -12, 13, 0.001) for m in (0.0, 1.0))
    assert d.overlap(a, b) == pytest.approx(0.6170750775, abs=1e-6)


def test_one_laboratory_may_be_averaged() -> None:
    # ETH-3883, five measurements: 676.1 ± 23.7, T = 2.745, p = 0.601 (rice vignette; statsmodels combine_effects agrees)
    h = d.homogeneity([733, 722, 635, 639, 679], [61, 56, 57, 45, 51])
    assert (h.mean, h.error, h.statistic, h.p) == pytest.approx((676.1406, 23.7443, 2.745, 0.601), abs=6e-4)


def test_three_laboratory_means() -> None:
    # Damon et al. 1989, Nature 337:611-615, Table 2, sample 1: 689 ± 16, 6.4 (from memory)
    h = d.homogeneity([646, 750, 676], [31, 30, 24])
    assert (h.mean, h.error, h.statistic) == pytest.approx((689, 16, 6.4), abs=0.15)
    assert h.p == pytest.approx(0.042, abs=1e-3)


def test_ward_and_wilson_with_two_degrees_of_freedom() -> None:
    # Ward and Wilson 1978, p. 28 (data of Polach 1972); three dates have two degrees of freedom, so p = 0.046, not 0.104
    h = d.homogeneity([14550, 15000, 13700], [270, 600, 300])
    assert (h.mean, h.error, h.statistic) == pytest.approx((14253.1677, 190.3249917, 6.157902001), abs=1e-4)
    assert h.p == pytest.approx(0.0460, abs=5e-5)


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 7, 12])
def test_chi_square_agrees_with_scipy(freedom: int) -> None:
    from scipy.stats import chi2

    for x in (0.1, 1.0, 6.4, 20.0):
        assert d.chi_square_beyond(x, freedom) == pytest.approx(float(chi2.sf(x, freedom)), rel=1e-12)


def test_linear_and_logarithmic_pools_of_two_opinions() -> None:
    # definitions (Genest and Zidek 1986, Stat. Sci. 1:114-148); scipy.stats.gmean agrees
    np.testing.assert_allclose(d.linear_pool([P, Q]), [0.25, 0.3, 0.35, 0.1], atol=1e-15)
    np.testing.assert_allclose(d.log_pool([P, Q]), [0.24161, 0.34168, 0.29591, 0.1208], atol=6e-6)


def test_only_the_logarithmic_pool_commutes_with_new_evidence() -> None:
    # external Bayesianity: Genest and Zidek 1986 (from memory)
    likelihood = np.array([1.0, 2.0, 1.0, 0.5])

    def update(row: np.ndarray) -> np.ndarray:
        return row * likelihood / (row * likelihood).sum()

    np.testing.assert_allclose(d.log_pool([update(P), update(Q)]), update(d.log_pool([P, Q])), atol=1e-12)
    assert np.abs(d.linear_pool([update(P), update(Q)]) - update(d.linear_pool([P, Q]))).max() > 1e-3


def test_only_the_linear_pool_commutes_with_merging_years() -> None:
    # marginalisation: McConway 1981, JASA 76:410-414 (from memory)
    def merge(row: np.ndarray) -> np.ndarray:
        return np.array([row[0] + row[1], row[2], row[3]])

    np.testing.assert_allclose(d.linear_pool([merge(P), merge(Q)]), merge(d.linear_pool([P, Q])), atol=1e-12)
    assert np.abs(d.log_pool([merge(P), merge(Q)]) - merge(d.log_pool([P, Q]))).max() > 1e-3


def test_one_zero_kills_a_year_in_the_logarithmic_pool_only() -> None:
    p, q = np.array([0.5, 0.5, 0.0]), np.array([0.1, 0.1, 0.8])
    np.testing.assert_allclose(d.log_pool([p, q]), [0.5, 0.5, 0.0], atol=1e-12)
    np.testing.assert_allclose(d.linear_pool([p, q]), [0.3, 0.3, 0.4], atol=1e-12)


def test_pool_variance_is_mean_variance_plus_variance_of_means() -> None:
    # mixture moments; product of powers of normals
    rows = [normal(1730, 10, 1500, 2000, 0.01), normal(1750, 20, 1500, 2000, 0.01)]
    x = np.arange(1500, 2000, 0.01)

    def moments(row: np.ndarray) -> tuple[float, float]:
        mean = float(row @ x)
        return mean, float(row @ (x - mean) ** 2)

    assert moments(d.linear_pool(rows)) == pytest.approx((1740, 350), abs=1e-4)
    assert moments(d.log_pool(rows)) == pytest.approx((1734, 160), abs=1e-4)


def test_between_share_splits_the_variance() -> None:
    rows = [
        d.flat_top(Years(*y), 0.8, 1400, 2030)
        for y in ((1720, 1740), (1725, 1750), (1715, 1745), (1730, 1760))
    ]
    assert d.between_share(rows) == pytest.approx(0.26, abs=0.02)
    late = d.flat_top(Years(1840, 1870), 0.8, 1400, 2030)
    assert d.between_share([*rows, late]) == pytest.approx(0.95, abs=0.01)
    assert d.overlap(rows[0], late) < 1e-6


def test_a_scaled_beta_fits_three_stated_chances() -> None:
    # published: SHELF overview vignette: 5 % point 15.2, P(X <= 25) = 0.283; shapes 5.4521 and 11.6056
    beta = fit_beta([25, 30, 40], [0.25, 0.5, 0.75], 0, 100)
    assert beta.quantile(0.05) == pytest.approx(15.2, abs=0.06)
    assert beta.below(25) == pytest.approx(0.283, abs=6e-4)
    assert (beta.a, beta.b) == pytest.approx((5.4521, 11.6056), abs=1e-3)


def test_the_flat_top_is_continuous_at_its_edges_and_holds_its_confidence() -> None:
    # closed form tau = (1 - c) w / (2 c)
    years = Years(1760, 1780)
    assert d.shoulder(years, 0.8) == pytest.approx(2.625, abs=1e-12)
    row = d.flat_top(years, 0.8, 1400, 2030)
    assert row[360:381].sum() == pytest.approx(0.8, abs=1e-12)
    assert row[365] == pytest.approx(0.0380952381, abs=1e-10)
    edge = 0.1 * (1 - np.exp(-1 / 2.625))
    assert row[359] == pytest.approx(edge, abs=1e-12)
    assert pytest.approx(row[365], abs=1e-10) == 0.1 / 2.625


def test_the_split_normal_holds_exactly_its_confidence() -> None:
    row = d.split_normal(Years(1720, 1760), 1730, 0.8, 1400, 2030)
    assert row[320:361].sum() == pytest.approx(0.8, abs=1e-9)
    assert row.argmax() == 330
    assert (
        d.split_normal(Years(1720, 1760), 1760, 0.8, 1400, 2030).tolist()
        == d.flat_top(Years(1720, 1760), 0.8, 1400, 2030).tolist()
    )


def test_effective_number_of_opinions() -> None:
    # n / (1 + (n - 1) rho): Clemen and Winkler 1985 (formula from memory)
    expected = [5, 3.5714286, 2.2727273, 1.6666667, 1]
    assert [d.effective_number(5, r) for r in (0, 0.1, 0.3, 0.5, 1)] == pytest.approx(expected, abs=1e-6)


def test_widening_for_overconfidence() -> None:
    # normal shape; the facts: Soll and Klayman; Teigen and Jorgensen 2005
    eighty, ninety = [2.1439228, 1.9000312, 1.5227177, 1.2365016], [2.7516951, 2.4386634, 1.954387, 1.5870326]
    assert [d.widening(c) for c in (0.45, 0.5, 0.6, 0.7)] == pytest.approx(eighty, abs=1e-6)
    assert [d.widening(c, 0.9) for c in (0.45, 0.5, 0.6, 0.7)] == pytest.approx(ninety, abs=1e-6)


def test_agreement_index_of_a_narrowed_and_a_pushed_normal() -> None:
    # closed forms; Bronk Ramsey 1995, Radiocarbon 37:425-430 (from memory)
    own = normal(0, 1, -12, 12, 0.001)
    for mean, expected in ((0.0, 1.154700538), (1.5, 0.5454419)):
        assert d.agreement_index(own, normal(mean, 0.5**0.5, -12, 12, 0.001)) == pytest.approx(
            expected, abs=1e-6
        )


def test_core_years_lie_in_three_quarters_of_the_intervals() -> None:
    stated = [Years(1720, 1740), Years(1725, 1750), Years(1715, 1745), Years(1730, 1760)]
    core = d.core_years(stated)
    assert (core[0], core[-1]) == (1725, 1745)


def test_a_label_date_is_cut_to_years_that_binding_evidence_leaves_and_humps_are_referred() -> None:
    opinions = [d.flat_top(Years(1720, 1740), 0.8, 1400, 2030)] * 3
    one = d.label_date(opinions, 1400)
    assert one.years == Years(1715, 1740)  # the one per cent floor costs a year, then rounded outwards
    excluded = np.array([1.0 if y < 1730 else 0.0 for y in range(1400, 2031)])
    cut = d.label_date(opinions, 1400, excluded=excluded)
    assert cut.years is not None
    assert cut.years.earliest == 1730
    two = d.label_date([*opinions, *[d.flat_top(Years(1840, 1860), 0.8, 1400, 2030)] * 3], 1400)
    assert two.years is None
    assert "refer" in two.sentence


def test_the_two_tracks_stand_side_by_side_and_a_clash_asks_for_talk() -> None:
    a, b = (d.flat_top(Years(*y), 0.8, 1400, 2030) for y in ((1720, 1740), (1840, 1860)))
    assert not d.compare_tracks(a, a, 1400).talk
    clash = d.compare_tracks(a, b, 1400)
    assert clash.talk
    assert "evidence says 1720–1740" in clash.sentence
