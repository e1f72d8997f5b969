"""An opinion on a bounded quantity, such as a capacity: a scaled beta fitted to a few stated chances."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class ScaledBeta:
    """A beta distribution between `lowest` and `highest` with shapes `a` and `b`."""

    a: float
    b: float
    lowest: float
    highest: float

    def below(self, value: float) -> float:
        """Chance 0..1 of at most `value`."""
        from scipy.stats import beta

        return float(beta.cdf((value - self.lowest) / (self.highest - self.lowest), self.a, self.b))

    def quantile(self, level: float) -> float:
        """The value that is not passed with chance `level` (0..1)."""
        from scipy.stats import beta

        return self.lowest + (self.highest - self.lowest) * float(beta.ppf(level, self.a, self.b))


def scaled_beta(
    values: Sequence[float], chances: Sequence[float], *, lowest: float, highest: float
) -> ScaledBeta:
    """The beta on `lowest`..`highest` nearest, in least squares of chances, to "at most `values[i]`" with `chances[i]`.

    Raises ValueError unless two or more values lie strictly between the bounds.
    """
    from scipy.optimize import least_squares
    from scipy.stats import beta

    if len(values) < 2 or not all(lowest < value < highest for value in values):
        raise ValueError("two or more values strictly between the bounds")
    at = [(value - lowest) / (highest - lowest) for value in values]
    fitted = least_squares(lambda shapes: beta.cdf(at, *shapes) - chances, (2.0, 2.0), bounds=(1e-6, 1e6)).x
    return ScaledBeta(a=float(fitted[0]), b=float(fitted[1]), lowest=lowest, highest=highest)
