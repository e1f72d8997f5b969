"""Proper scores, latent classes and calibration against published values."""

import json
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import norm

from planish.reasoning.trending import calibration as c
from planish.reasoning.trending import latent
from planish.reasoning.trending import scores as s

PATIENTS = json.loads((Path(__file__).parent / "anaesthetists.json").read_text(encoding="utf-8"))


def test_crps_of_a_normal():
    # Gneiting & Raftery 2007, JASA 102:359-378; scoringRules "Getting started" prints 1.204883
    cases = [(0, 0, 1), (1, 0, 1), (0, 2, 2)]
    assert [s.crps_normal(*x) for x in cases] == pytest.approx(
        [0.2336949773, 0.6024413576, 1.204883], abs=6e-7
    )


def test_crps_of_years_agrees_with_the_closed_form():
    density = np.diff(norm.cdf(np.arange(1400, 2032) - 0.5, 1700, 30))
    assert s.crps_years(density, 1720) == pytest.approx(s.crps_normal(1720, 1700, 30), abs=0.01)


def test_brier_in_both_its_forms():
    # Brier 1950, Monthly Weather Review 78:1-3, Table 1 (from memory): 0.19 in two categories, half in one
    stated = [0.7, 0.9, 0.8, 0.4, 0.2, 0, 0, 0, 0, 0.1]
    rain = [0, 1, 1, 1, 0, 0, 0, 0, 0, 0]
    assert 2 * s.brier(stated, rain) == pytest.approx(0.19)
    # scikit-learn documentation of brier_score_loss (from memory)
    assert s.brier([0.1, 0.9, 0.8, 0.3], [0, 1, 1, 0]) == pytest.approx(0.0375)


def test_interval_score_in_years_and_its_two_pinball_losses():
    cases = [(1740, 1760, 1750), (1740, 1760, 1735), (1740, 1760, 1790), (1, 4, 5)]
    assert [s.interval_score(*x) for x in cases] == pytest.approx([20, 70, 320, 13])
    for low, high, truth in cases:
        both = s.pinball(0.1, low, truth) + s.pinball(0.9, high, truth)
        assert s.interval_score(low, high, truth) == pytest.approx(2 / 0.2 * both)
    assert [s.pinball(0.8, 8, x) for x in (10, 6)] == pytest.approx([1.6, 0.4])


def test_scores_of_verdicts_and_of_ordered_severities():
    assert s.verdict_score([0.7, 0.2, 0.1], 0) == pytest.approx(0.14)
    # Ranked probability score: Epstein 1969, Murphy 1970 (from memory)
    assert [s.ranked_score([0.2, 0.5, 0.3], t) for t in (1, 2)] == pytest.approx([0.13, 0.53])


def test_a_rate_of_one_person_shows_nothing_below_ten_truths_whatever_floor_is_asked():
    assert s.own_rate(9, 0) == s.OwnRate(shown=False, why="Not enough yet: 9 of 10.")
    assert s.own_rate(3, 2, floor=1).mean is None
    got = s.own_rate(9, 1)
    assert (got.mean, got.low, got.high) == pytest.approx((0.85, 0.70, 0.96), abs=0.005)
    assert s.beta_rate(3, 2) == pytest.approx((0.73, 0.53, 0.90), abs=0.006)


def patients():
    counts = np.zeros((45, 5, 4))
    for i, row in enumerate(PATIENTS["ratings"]):
        for r, given in enumerate(row):
            for verdict in given:
                counts[i, r, verdict - 1] += 1
    return counts


def test_forty_five_patients_and_five_anaesthetists():
    # Dawid & Skene 1979, Applied Statistics 28:20-28 (answers from memory)
    got = latent.dawid_skene(patients())
    assert got.prevalence == pytest.approx([0.40, 0.42, 0.11, 0.07], abs=0.006)
    assert got.errors[0, 0] == pytest.approx([0.89, 0.11, 0, 0], abs=0.006)
    assert got.errors[0, 1] == pytest.approx([0.07, 0.88, 0.05, 0], abs=0.006)
    assert got.log_likelihood == pytest.approx(-192.8909, abs=0.001)


def test_priors_give_the_published_posterior_shares():
    # R package rater, vignette "workflow": .37487 .40641 .14389 .07483, on its own transcription, in which the first
    # anaesthetist saw patient 7 as 1, 1, 2. Our sampler differs by chance only.
    counts = patients()
    counts[6, 0] = [2, 1, 0, 0]
    got = latent.prevalence_with_priors(counts, seed=4, draws=1500)
    assert got == pytest.approx([0.37487, 0.40641, 0.14389, 0.07483], abs=0.006)


def test_plain_em_stops_in_many_places_some_better_than_the_usual_start():
    # Own computation: the reason why it is a side view, and why the start is fixed
    rng = np.random.default_rng(0)
    usual = latent.dawid_skene(patients()).log_likelihood
    ends = [
        latent.dawid_skene(patients(), start=rng.dirichlet(np.ones(4), 45)).log_likelihood for _ in range(40)
    ]
    assert len({round(e, 2) for e in ends}) > 8
    assert max(ends) > usual + 0.5


def test_with_few_objects_one_coin_labels_more_right_than_dawid_skene():
    # Own simulation: twenty objects, five voters, three verdicts
    rng = np.random.default_rng(11)
    right = np.zeros(2)
    for _ in range(40):
        truth = rng.choice(3, 20, p=[0.8, 0.12, 0.08])
        accuracy = rng.uniform(0.65, 0.95, 5)
        hit = rng.random((20, 5)) < accuracy
        said = np.where(hit, truth[:, None], (truth[:, None] + rng.integers(1, 3, (20, 5))) % 3)
        counts = np.eye(3)[said]
        right += [
            (latent.dawid_skene(counts).objects.argmax(axis=1) == truth).mean(),
            (latent.one_coin(counts)[0].argmax(axis=1) == truth).mean(),
        ]
    assert right[1] / 40 > 0.95
    assert right[1] > right[0] + 0.05 * 40


# Goulet, Jacques & Pigeon 2009, The R Journal 1(1):31-36: three specialists, two seeds. Their package uses another
# number of degrees of freedom; the values here are the standard model's (bins - 1), worked out separately.
EXPERTS = np.array(
    [
        [[0.14, 0.22, 0.28], [130000, 150000, 200000]],
        [[0.2, 0.3, 0.4], [165000, 205000, 250000]],
        [[0.2, 0.4, 0.52], [200000, 400000, 500000]],
    ]
)


def test_calibration_uses_bins_less_one_degrees_of_freedom():
    got = c.scores(EXPERTS, [0.27, 210000])
    assert [x for x, _ in got] == pytest.approx([0.299964, 0.827219, 0.299964], abs=6e-6)
    assert all(i > 0 for _, i in got)


def test_weights_stay_equal_until_earned_and_then_between_half_and_double():
    scored = [(0.9, 1.0), (0.001, 1.0), (0.3, 1.0)]
    assert c.tempered_weights(scored, [12, 12, 9], beats_equal=1) == pytest.approx([1 / 3] * 3)
    assert c.tempered_weights(scored, [12, 12, 10], beats_equal=1) == pytest.approx([1 / 3] * 3)
    assert c.tempered_weights(scored, [12, 12, 12], beats_equal=0.8) == pytest.approx([1 / 3] * 3)
    earned = c.tempered_weights(scored, [12, 12, 12], beats_equal=0.95)
    assert sum(earned) == pytest.approx(1)
    assert earned[0] > earned[2] > earned[1] >= 0.5 / 3 * 0.99


def perfect(rng, n):
    """Quantiles 10/50/90 of a specialist whose doubt is just right, and the truths."""
    middle = rng.uniform(1650, 1850, n)
    z = norm.ppf([0.1, 0.5, 0.9])
    return middle[:, None] + 15 * z, middle + 15 * rng.standard_normal(n)


def test_two_equally_perfect_specialists_differ_fivefold_one_time_in_five():
    # Own simulation: calibration is a p-value, so ten or fifty truths make no difference (.18 and .22 of 10 000 pairs)
    rng = np.random.default_rng(11)
    for n, share in ((10, 0.18), (50, 0.22)):
        pairs = [
            sorted(c.calibration(*perfect(rng, n), (0.1, 0.5, 0.9)) for _ in range(2)) for _ in range(600)
        ]
        assert np.mean([high > 5 * low for low, high in pairs]) == pytest.approx(share, abs=0.06)


def test_weights_beat_equal_ones_only_where_somebody_really_knows_more():
    rng = np.random.default_rng(3)
    truths = rng.integers(1650, 1850, 14)
    years = np.arange(1400, 2031)

    def told(errors, spread):
        means = truths[None, :] + errors
        z = norm.ppf([0.1, 0.5, 0.9])
        density = norm.pdf(years, means[..., None], np.asarray(spread)[:, None, None])
        return means[..., None] + np.asarray(spread)[:, None, None] * z, density / density.sum(
            axis=2, keepdims=True
        )

    spread = [10.0, 10.0, 10.0]
    lost = np.array([[1.0], [6.0], [6.0]]) * 10 * rng.standard_normal((3, 14))
    unequal = c.share_beating_equal(*told(lost, spread), [int(t) for t in truths], seed=1)
    alike = 10 * rng.standard_normal((3, 14))
    equal = c.share_beating_equal(*told(alike, spread), [int(t) for t in truths], seed=1)
    assert unequal > 0.9 > equal
    assert c.share_beating_equal(*told(lost, spread), [int(t) for t in truths], seed=1) == unequal
