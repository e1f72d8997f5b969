"""A bounded quantity (a capacity, say) from a few stated chances: least-squares fit of a scaled beta."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ScaledBeta:
    """A beta of shapes `a` and `b` stretched over `low` to `high`."""

    a: float
    b: float
    low: float
    high: float

    def below(self, x: float) -> float:
        """Chance of a value at or below x."""
        from scipy.special import betainc

        share = min(max((x - self.low) / (self.high - self.low), 0.0), 1.0)
        return float(betainc(self.a, self.b, share))

    def quantile(self, p: float) -> float:
        """Value with chance `p` at or below it."""
        from scipy.special import betaincinv

        return self.low + (self.high - self.low) * float(betaincinv(self.a, self.b, p))


def fit_beta(values: Sequence[float], chances: Sequence[float], low: float, high: float) -> ScaledBeta:
    """Shapes that bring P(X <= value) closest to the stated chances (sum of squares of differences).

    Raises ValueError when the values do not lie inside the bounds or fewer than two are given.
    """
    if len(values) < 2 or not all(low < v < high for v in values):
        raise ValueError("two or more values strictly inside the bounds")
    import numpy as np
    from scipy.optimize import least_squares

    def misses(shapes: "np.ndarray") -> list[float]:
        beta = ScaledBeta(float(np.exp(shapes[0])), float(np.exp(shapes[1])), low, high)
        return [beta.below(v) - p for v, p in zip(values, chances, strict=True)]

    best = least_squares(misses, x0=np.log([2.0, 2.0]), xtol=1e-14, ftol=1e-14, gtol=1e-14)
    return ScaledBeta(float(np.exp(best.x[0])), float(np.exp(best.x[1])), low, high)
