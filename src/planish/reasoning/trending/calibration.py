"""Cooke's classical model: calibration, information and weights from objects of known truth. Off until earned."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from planish.reasoning.trending.scores import crps_years

Array = npt.NDArray[np.float64]


def calibration(quantiles: Array, truths: Sequence[float] | Array, levels: Sequence[float]) -> float:
    """P-value 0..1 that the truths fell into the bins as the levels say. `quantiles`: seeds x levels.

    Degrees of freedom are bins - 1 (not seeds - 1), and empty bins add nothing.
    """
    from scipy.stats import chi2

    p = np.diff([0.0, *levels, 1.0])
    bins = (np.asarray(truths)[:, None] > quantiles).sum(axis=1)
    s = np.bincount(bins, minlength=len(p)) / len(truths)
    used = s > 0
    statistic = 2 * len(truths) * float((s[used] * np.log(s[used] / p[used])).sum())
    return float(chi2.sf(statistic, len(p) - 1))


def information(quantiles: Array, lowest: Array, highest: Array, levels: Sequence[float]) -> float:
    """Mean relative information of one specialist's seeds over the range of each (stretched a tenth on both sides)."""
    p = np.diff([0.0, *levels, 1.0])
    stretch = 0.1 * (highest - lowest)
    edges = np.column_stack([lowest - stretch, quantiles, highest + stretch])
    widths = np.diff(edges, axis=1)
    return float((np.log((edges[:, -1] - edges[:, 0])) + (p * np.log(p / widths)).sum(axis=1)).mean())


def scores(
    experts: Array, truths: Sequence[float], levels: Sequence[float] = (0.1, 0.5, 0.9)
) -> tuple[tuple[float, float], ...]:
    """Calibration and information of each specialist. `experts`: specialists x seeds x levels."""
    t = np.asarray(truths, dtype=float)
    lowest = np.minimum(experts.min(axis=(0, 2)), t)
    highest = np.maximum(experts.max(axis=(0, 2)), t)
    return tuple((calibration(e, t, levels), information(e, lowest, highest, levels)) for e in experts)


def tempered_weights(
    calibrated: Sequence[tuple[float, float]], truths_each: Sequence[int], *, beats_equal: float
) -> tuple[float, ...]:
    """Weights for the date pool: equal until earned, then between half and double the equal weight.

    Earned when everyone has 10 truths, the panel 35, and the weighted pool beat the equal one in 90 % of draws
    (`beats_equal` 0..1). House rule.
    """
    n = len(calibrated)
    if min(truths_each) < 10 or sum(truths_each) < 35 or beats_equal < 0.9:
        return tuple([1 / n] * n)
    return tuple(float(w) for w in _between_half_and_double(calibrated))


def _between_half_and_double(calibrated: Sequence[tuple[float, float]]) -> Array:
    """Half equal, half by calibration times information, kept between half and double the equal weight."""
    n, raw = len(calibrated), np.array([c * i for c, i in calibrated])
    if raw.sum() <= 0:
        return np.full(n, 1 / n)
    mixed = np.clip(0.5 / n + 0.5 * raw / raw.sum(), 0.5 / n, 2 / n)
    return np.asarray(mixed / mixed.sum())


def share_beating_equal(
    quantiles: Array,
    densities: Array,
    truths: Sequence[int],
    *,
    seed: int,
    levels: Sequence[float] = (0.1, 0.5, 0.9),
    first: int = 1400,
    draws: int = 2000,
) -> float:
    """In what share (0..1) of bootstrap draws over the known truths the weighted date pool beats the equal one.

    Each truth is left out of the weights it is scored with; the score is the CRPS in years. `quantiles`: specialists x
    truths x levels; `densities`: specialists x truths x years from `first`. Same seed, same answer.
    """
    better = np.array([_gain_at(quantiles, densities, truths, i, levels, first) for i in range(len(truths))])
    picks = np.random.default_rng(seed).integers(len(better), size=(draws, len(better)))
    return float((better[picks].mean(axis=1) > 0).mean())


def _gain_at(
    quantiles: Array, densities: Array, truths: Sequence[int], at: int, levels: Sequence[float], first: int
) -> float:
    """Years of CRPS that the weights learnt from the other truths save at this one."""
    rest = [i for i in range(len(truths)) if i != at]
    weights = _between_half_and_double(scores(quantiles[:, rest], [truths[i] for i in rest], levels))
    equal, weighted = densities[:, at].mean(axis=0), weights @ densities[:, at]
    return crps_years(equal, truths[at], first) - crps_years(weighted, truths[at], first)
