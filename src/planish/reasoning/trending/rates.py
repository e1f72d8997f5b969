"""Rates that can be printed: intervals, funnels, charts over years, shrunken rates. Never a rank, never a person's rate."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from statistics import NormalDist, fmean

from scipy.stats import beta, binom, chi2

Interval = tuple[float, float]
NORMAL = NormalDist()


def wilson(k: int, n: int, level: float = 0.95) -> Interval:
    """Wilson score interval of a rate k/n (Wilson 1927; Newcombe 1998). n = 0 knows nothing: (0, 1)."""
    if n == 0:
        return 0.0, 1.0
    z = NORMAL.inv_cdf((1 + level) / 2)
    p, half = k / n, z * sqrt(k / n * (1 - k / n) / n + z * z / (4 * n * n))
    middle, scale = p + z * z / (2 * n), 1 + z * z / n
    low = 0.0 if k == 0 else (middle - half) / scale
    high = 1.0 if k == n else (middle + half) / scale
    return low, high


def clopper_pearson(k: int, n: int, level: float = 0.95) -> Interval:
    """Exact interval of a rate k/n, never too narrow: for use where a guarantee is wanted."""
    tail = (1 - level) / 2
    low = 0.0 if k == 0 else float(beta.ppf(tail, k, n - k + 1))
    high = 1.0 if k == n else float(beta.isf(tail, k + 1, n - k))
    return low, high


def in_words(k: int, n: int) -> str:
    """A rate as it is printed: count, denominator and interval; never "0 %"."""
    if n == 0:
        return "none looked at"
    low, high = wilson(k, n)
    if k == 0:
        return f"0 of {n} (up to {100 * clopper_pearson(0, n)[1]:.1f} % cannot be ruled out)"
    return f"{k} of {n}: {100 * k / n:.1f} % ({100 * low:.1f} to {100 * high:.1f} %)"


def none_seen_upper(n: int, level: float = 0.95) -> float:
    """Largest rate that 0 of `n` still allows with one-sided `level`: exact; about 3/n (the rule of three)."""
    return 1.0 if n <= 0 else float(1 - (1 - level) ** (1 / n))


def poisson_limits(expected: float, tail: float = 0.025) -> Interval:
    """Exact Poisson limits of observed/expected for a funnel at `expected` > 0 adverse outcomes."""
    low = float(chi2.ppf(tail, 2 * expected)) / (2 * expected)
    high = float(chi2.isf(tail, 2 * (expected + 1))) / (2 * expected)
    return low, high


def binomial_limit(rate: float, n: int, quantile: float) -> float:
    """Interpolated exact binomial limit of a proportion (Spiegelhalter 2005, appendix)."""
    k = int(binom.ppf(quantile, n, rate))
    at, below = float(binom.cdf(k, n, rate)), float(binom.cdf(k - 1, n, rate))
    step = (at - quantile) / (at - below) if at > below else 0.0
    return max(0.0, (k - step) / n)


@dataclass(frozen=True, slots=True, kw_only=True)
class FunnelPoint:
    """One stand in the funnel: observed over expected with its limits. `says` is inside, look or talk; no rank.

    `shown` is False below three expected outcomes. Points keep the order of stand numbers in which they came.
    """

    stand: str
    observed: int
    expected: float
    ratio: float
    look: Interval
    talk: Interval
    says: str
    shown: bool


def funnel(
    stands: Sequence[tuple[str, int, float]], *, spread: bool = True
) -> tuple[tuple[FunnelPoint, ...], float]:
    """Funnel of (stand, observed, expected) and the over-dispersion by which its limits were widened (1: none)."""
    phi = overdispersion([(o, e) for _, o, e in stands if e >= 3]) if spread else 1.0
    return tuple(_point(stand, o, e, phi) for stand, o, e in stands if e > 0), phi


def _point(stand: str, observed: int, expected: float, phi: float) -> FunnelPoint:
    look = _widened(poisson_limits(expected, 0.025), phi)
    talk = _widened(poisson_limits(expected, 0.001), phi)
    ratio, shown = observed / expected, expected >= 3
    outside = not talk[0] <= ratio <= talk[1]
    says = "talk" if outside else "inside" if look[0] <= ratio <= look[1] else "look"
    return FunnelPoint(
        stand=stand,
        observed=observed,
        expected=expected,
        ratio=ratio,
        look=look,
        talk=talk,
        says=says if shown else "too few",
        shown=shown,
    )


def _widened(limits: Interval, phi: float) -> Interval:
    return max(0.0, 1 - (1 - limits[0]) * sqrt(phi)), 1 + (limits[1] - 1) * sqrt(phi)


def overdispersion(pairs: Sequence[tuple[int, float]]) -> float:
    """Mean squared z after pulling the outer tenth in on each side, at least 1 (Spiegelhalter 2005, from memory)."""
    if len(pairs) < 2:
        return 1.0
    z = sorted((o - e) / sqrt(e) for o, e in pairs)
    cut = int(0.1 * len(z))
    low, high = z[cut], z[-1 - cut]
    return max(1.0, fmean(min(max(v, low), high) ** 2 for v in z))


def outside_by_chance(stands: int) -> tuple[float, float]:
    """How many stands lie outside the 95 % and the 99.8 % limits by chance alone: printed under every funnel."""
    return 0.05 * stands, 0.002 * stands


def p_chart(counts: Sequence[int], n: int) -> tuple[float, float, float]:
    """Mean share of faults in samples of equal size `n`, with lower and upper three-sigma limits."""
    p = fmean(counts) / n
    sigma = sqrt(p * (1 - p) / n)
    return p, max(0.0, p - 3 * sigma), min(1.0, p + 3 * sigma)


def shrunken(rates: Sequence[float], n_each: int) -> tuple[float, tuple[float, ...]]:
    """James-Stein: how much of each rate's lead over the mean to keep (0..1), and the shrunken rates. 4 rates or more."""
    mean = fmean(rates)
    apart = sum((r - mean) ** 2 for r in rates)
    keep = 0.0 if apart == 0 else max(0.0, 1 - (len(rates) - 3) * mean * (1 - mean) / n_each / apart)
    return keep, tuple(mean + keep * (r - mean) for r in rates)


def truths_needed(actual: float, nominal: float = 0.8, size: float = 0.05, power: float = 0.8) -> int:
    """Known truths needed to tell that `nominal` intervals cover only `actual` (< nominal): exact binomial, one-sided."""
    for n in range(1, 5000):
        k = int(binom.ppf(size, n, nominal))
        k = k if binom.cdf(k, n, nominal) <= size else k - 1
        if k >= 0 and binom.cdf(k, n, actual) >= power:
            return n
    raise ValueError(f"{actual} is too close to {nominal}")
