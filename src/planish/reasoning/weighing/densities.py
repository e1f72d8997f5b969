"""The panel's own dates as densities, and how they are pooled: the second track, never multiplied with the evidence.

Formulas and defaults: docs/weighing.md. Year y is the bin [y, y + 1); both ends of an interval are included.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np

from planish.reasoning.weighing.likelihood import Row, grid
from planish.reasoning.weighing.ranges import rounded_for_label, shortest_ranges, words_for
from planish.records import Years

_NORMAL = NormalDist()
WRONG_THING = 0.01
"""House: one per cent that the specialist is talking about the wrong thing altogether; keeps every year above zero."""

LIKE_EIGHTY = 1.2815515655446004
"""Half-widths of an 80 % interval per standard deviation."""


def shoulder(years: Years, confidence: float) -> float:
    """tau = (1 - c) w / (2 c) in years: the fall of the shoulders that makes the flat top continuous at its edges.

    Raises ValueError for an open interval or a confidence outside 0 to 1 (both excluded).
    """
    low, high = _ends(years)
    if not 0.0 < confidence < 1.0:
        raise ValueError("confidence lies between 0 and 1")
    return (1.0 - confidence) * (high - low + 1) / (2.0 * confidence)


def _ends(years: Years) -> tuple[int, int]:
    if years.earliest is None or years.latest is None:
        raise ValueError("both ends of the interval must be known")
    return years.earliest, years.latest


def flat_top(years: Years, confidence: float, first: int, last: int) -> Row:
    """Mass `confidence` even over the interval, the rest on exponential shoulders; cut to the grid, sums to 1."""
    low, high = _ends(years)
    tau = shoulder(years, confidence)
    edges = np.arange(first, last + 2, dtype=np.float64)
    below = 0.5 * (1.0 - confidence) * np.exp(np.minimum(edges - low, 0.0) / tau)
    inside = confidence * (np.clip(edges, low, high + 1) - low) / (high - low + 1)
    above = 0.5 * (1.0 - confidence) * (1.0 - np.exp(-np.maximum(edges - high - 1, 0.0) / tau))
    return _shares(np.diff(below + inside + above))


def split_normal(years: Years, best: int, confidence: float, first: int, last: int) -> Row:
    """Two half-normals that meet at `best` with exactly `confidence` inside the interval; a best year on an edge takes the flat top."""
    low, high = _ends(years)
    if best <= low or best >= high:
        return flat_top(years, confidence, first, last)
    z = _NORMAL.inv_cdf((1.0 + confidence) / 2.0)
    left, right = (best + 0.5 - low) / z, (high + 1 - best - 0.5) / z
    edges = np.arange(first, last + 2, dtype=np.float64) - (best + 0.5)
    cumulative = [_split_cdf(float(e), left, right) for e in edges]
    return _shares(np.diff(np.array(cumulative)))


def _split_cdf(x: float, left: float, right: float) -> float:
    if x < 0.0:
        return 2.0 * left / (left + right) * _NORMAL.cdf(x / left)
    return left / (left + right) + 2.0 * right / (left + right) * (_NORMAL.cdf(x / right) - 0.5)


def _shares(row: Row) -> Row:
    total = float(row.sum())
    if total <= 0.0:
        raise ValueError("the interval lies outside the grid")
    return row / total


def with_floor(density: Row, wrong_thing: float = WRONG_THING) -> Row:
    """p <- (1 - d) p + d flat: no year is ever quite impossible in an opinion."""
    return _shares((1.0 - wrong_thing) * density + wrong_thing / len(density))


def linear_pool(densities: Sequence[Row], weights: Sequence[float] | None = None) -> Row:
    """Weighted mean of densities, equal weights unless given: a lone dissenter stays visible."""
    rows = np.vstack(densities)
    shares = _weights(len(rows), weights)
    out: Row = (rows * shares[:, None]).sum(axis=0)
    return out


def log_pool(densities: Sequence[Row], weights: Sequence[float] | None = None) -> Row:
    """Weighted geometric mean, renormalised: one zero kills a year. For statisticians, never for the label."""
    rows = np.vstack(densities)
    shares = _weights(len(rows), weights)
    alive = (rows > 0.0).all(axis=0)
    logs = np.log(np.where(alive, rows, 1.0))
    return _shares(np.where(alive, np.exp((logs * shares[:, None]).sum(axis=0)), 0.0))


def _weights(count: int, weights: Sequence[float] | None) -> Row:
    raw = np.full(count, 1.0) if weights is None else np.array(weights, dtype=np.float64)
    return _shares(raw)


def overlap(p: Row, q: Row) -> float:
    """Sum of the smaller of two densities: 1 the same, 0 disjoint."""
    return float(np.minimum(p, q).sum())


def mean_and_variance(density: Row, first: int = 0) -> tuple[float, float]:
    """Mean year and variance (years squared) of a density on a grid that starts at `first`."""
    years = grid(first, first + len(density) - 1)
    mean = float(density @ years)
    return mean, float(density @ (years - mean) ** 2)


def between_share(densities: Sequence[Row]) -> float:
    """B = variance of the specialists' means over the variance of their linear pool, 0..1; over 0.5 is worth a talk."""
    means = [mean_and_variance(d)[0] for d in densities]
    pooled = mean_and_variance(linear_pool(densities))[1]
    return float(np.var(means)) / pooled if pooled > 0.0 else 0.0


def core_years(intervals: Sequence[Years], share: float = 0.75) -> tuple[int, ...]:
    """Years inside at least `share` of the stated intervals (both ends known)."""
    ends = [_ends(years) for years in intervals]
    if not ends:
        return ()
    span = range(min(a for a, _ in ends), max(b for _, b in ends) + 1)
    return tuple(y for y in span if sum(a <= y <= b for a, b in ends) >= share * len(ends) - 1e-9)


def widening(actual: float, nominal: float = 0.8) -> float:
    """Factor by which a spread must grow when `nominal` intervals hold the truth only `actual` of the time (normal shape)."""
    return _NORMAL.inv_cdf((1.0 + nominal) / 2.0) / _NORMAL.inv_cdf((1.0 + actual) / 2.0)


def effective_number(count: float, rho: float) -> float:
    """n / (1 + (n - 1) rho): how many independent opinions `count` dependent ones are worth."""
    return count / (1.0 + (count - 1.0) * rho)


@dataclass(frozen=True, slots=True)
class Homogeneity:
    """Pooled mean and its error, T against chi-square with n - 1 degrees of freedom, and p: below 0.05 do not average."""

    mean: float
    error: float
    statistic: float
    p: float


def homogeneity(dates: Sequence[float], errors: Sequence[float]) -> Homogeneity:
    """Ward and Wilson's test (1978) of dates with stated errors (one standard deviation, same unit).

    Raises ValueError for fewer than two dates or an error that is not above zero.
    """
    if len(dates) != len(errors) or len(dates) < 2 or min(errors) <= 0.0:
        raise ValueError("two or more dates, each with an error above zero")
    weights = [1.0 / e**2 for e in errors]
    total = math.fsum(weights)
    mean = math.fsum(w * d for w, d in zip(weights, dates, strict=True)) / total
    statistic = math.fsum(w * (d - mean) ** 2 for w, d in zip(weights, dates, strict=True))
    return Homogeneity(mean, total**-0.5, statistic, chi_square_beyond(statistic, len(dates) - 1))


def chi_square_beyond(x: float, freedom: int) -> float:
    """Chance of a chi-square above `x` with whole degrees of freedom (finite sum, Abramowitz and Stegun 26.4.4-5, from memory)."""
    half = x / 2.0
    if freedom % 2 == 0:
        return math.exp(-half) * math.fsum(half**k / math.factorial(k) for k in range(freedom // 2))
    terms = (half ** (k + 0.5) / math.gamma(k + 1.5) for k in range((freedom - 1) // 2))
    return math.erfc(math.sqrt(half)) + math.exp(-half) * math.fsum(terms)


def agreement_index(own: Row, posterior: Row) -> float:
    """A = sum p p' / sum p p for densities on one grid (Bronk Ramsey 1995); kept for comparison, not used to decide."""
    return float(own @ posterior) / float(own @ own)


@dataclass(frozen=True, slots=True)
class LabelDate:
    """Years for a reissued label, or None with a reason to refer."""

    years: Years | None
    ranges: tuple[Years, ...]
    sentence: str


def label_date(
    densities: Sequence[Row], first: int, *, excluded: Row | None = None, share: float = 0.8
) -> LabelDate:
    """Linear pool cut to the years that undisputed binding evidence leaves, then the smallest range of `share`.

    `excluded` is 1 where a year is ruled out. Two humps, or nothing left, are referred instead of printed.
    """
    pool = linear_pool([with_floor(d) for d in densities])
    if excluded is not None:
        pool = np.where(excluded > 0.0, 0.0, pool)
    ranges = shortest_ranges(pool, share, first)
    if not ranges:
        return LabelDate(None, (), "No year is left: refer.")
    if len(ranges) > 1:
        return LabelDate(
            None, ranges, "The opinions make more than one hump: refer, and do not print one range."
        )
    years = rounded_for_label(ranges[0])
    return LabelDate(years, ranges, f"{years.earliest}–{years.latest}")


@dataclass(frozen=True, slots=True)
class TwoTracks:
    """What the evidence says and what the panel says, side by side; `talk` when they clash. Never combined."""

    evidence: str
    panel: str
    overlap: float
    talk: bool
    sentence: str


def compare_tracks(evidence: Row, panel: Row, first: int, share: float = 0.8) -> TwoTracks:
    """Set the two tracks side by side. They share less than a fifth of their chance: a reason to talk, no input to a product."""
    shared = overlap(evidence, panel)
    says = words_for(shortest_ranges(evidence, share, first))
    holds = words_for(shortest_ranges(panel, share, first))
    talk = shared < 0.2
    sentence = f"The evidence says {says}; the panel says {holds}."
    return TwoTracks(says, holds, shared, talk, sentence + (" They clash: talk." if talk else ""))
