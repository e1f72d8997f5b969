"""Proper scores against truths that came to light: the best strategy is to say what one believes. Lower is better."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import erf, exp, pi, sqrt

import numpy as np
import numpy.typing as npt


def interval_score(lower: float, upper: float, truth: float, alpha: float = 0.2) -> float:
    """Width plus 2/alpha times how far the truth lies outside, in years (Gneiting & Raftery 2007)."""
    return (upper - lower) + 2 / alpha * (max(0.0, lower - truth) + max(0.0, truth - upper))


def pinball(level: float, quantile: float, truth: float) -> float:
    """Loss of one stated quantile at `level` 0..1."""
    return (level - (truth < quantile)) * (truth - quantile)


def crps_normal(truth: float, mean: float, sd: float) -> float:
    """Continuous ranked probability score of a normal, in its own units (closed form)."""
    z = (truth - mean) / sd
    return sd * (z * erf(z / sqrt(2)) + 2 * exp(-z * z / 2) / sqrt(2 * pi) - 1 / sqrt(pi))


def crps_years(density: npt.NDArray[np.float64], truth: int, first: int = 1400) -> float:
    """The same for a density over single years starting at `first`, in years."""
    reached = np.arange(first, first + len(density)) >= truth
    return float(((np.cumsum(density) - reached) ** 2).sum())


def brier(stated: Sequence[float], happened: Sequence[int]) -> float:
    """Mean squared error of stated probabilities (today's one-category form: half of Brier's own)."""
    return sum((p - y) ** 2 for p, y in zip(stated, happened, strict=True)) / len(stated)


def verdict_score(stated: Sequence[float], truth: int) -> float:
    """Sum of squares over the verdicts; `truth` is the index of the true one."""
    return sum((p - (i == truth)) ** 2 for i, p in enumerate(stated))


def ranked_score(stated: Sequence[float], truth: int) -> float:
    """Ranked probability score of ordered severities or decades."""
    total, score = 0.0, 0.0
    for i, p in enumerate(stated[:-1]):
        total += p
        score += (total - (truth <= i)) ** 2
    return score


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnRate:
    """How often one member was right against known truths, for that member and the head alone; no figure below ten."""

    shown: bool
    why: str = ""
    mean: float | None = None
    low: float | None = None
    high: float | None = None


def own_rate(right: int, wrong: int, *, floor: int = 10) -> OwnRate:
    """Shrunken rate with its 90 % interval, Beta(8 + right, 2 + wrong). Fewer than `floor` (never below 10) shows nothing."""
    n, floor = right + wrong, max(10, floor)
    if n < floor:
        return OwnRate(shown=False, why=f"Not enough yet: {n} of {floor}.")
    mean, low, high = beta_rate(right, wrong)
    return OwnRate(shown=True, mean=mean, low=low, high=high)


def beta_rate(right: int, wrong: int) -> tuple[float, float, float]:
    """Mean and 90 % interval of Beta(8 + right, 2 + wrong): of a rule or a panel, not of a person."""
    from scipy.stats import beta

    a, b = 8 + right, 2 + wrong
    return a / (a + b), float(beta.ppf(0.05, a, b)), float(beta.ppf(0.95, a, b))
