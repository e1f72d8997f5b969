"""Cooke's classical model: calibration, information and weights from objects of known truth. Off until earned."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

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
    equal = tuple([1 / n] * n)
    raw = np.array([c * i for c, i in calibrated])
    if min(truths_each) < 10 or sum(truths_each) < 35 or beats_equal < 0.9 or raw.sum() <= 0:
        return equal
    mixed = np.clip(0.5 / n + 0.5 * raw / raw.sum(), 0.5 / n, 2 / n)
    return tuple(float(w) for w in mixed / mixed.sum())
