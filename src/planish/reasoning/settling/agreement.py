"""Agreement of one object and of a day. Three figures together, because one alone misleads when most labels are right.

Percent agreement, Gwet's AC1/AC2 and Krippendorff's alpha; Fleiss' kappa for comparison with the literature. The list
of verdicts offered is fixed, never taken from what was used. Agreement is not correctness; it is measured on the
sealed first round. No function here speaks of one person.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from planish.records import VotingRules

Counts = npt.NDArray[np.float64]
Scale = Literal["nominal", "ordinal", "interval", "ratio"]
VERDICTS = ("holds", "does_not_hold", "cannot_say")


def pairwise(counts: Sequence[int]) -> float | None:
    """Share of pairs that agree on one object, None below two votes. Five votes: 4-1 gives 0.6, 3-2 gives 0.4."""
    n = sum(counts)
    return (sum(c * c for c in counts) - n) / (n * (n - 1)) if n > 1 else None


def percent_agreement(table: Counts) -> float | None:
    """Mean pairwise agreement over objects with at least two votes. `table`: objects x verdicts, counts."""
    return _observed(table, np.eye(table.shape[1]))


def _observed(table: Counts, weights: Counts) -> float | None:
    n = table.sum(axis=1)
    kept = table[n > 1]
    if not len(kept):
        return None
    n = n[n > 1]
    agreeing = (kept * (kept @ weights - 1)).sum(axis=1)
    return float((agreeing / (n * (n - 1))).mean())


def fleiss(table: Counts) -> float | None:
    """Fleiss' kappa (1971); every object needs the same number of votes (ValueError). None without variation."""
    n = table.sum(axis=1)
    if not len(n) or n.min() != n.max():
        raise ValueError("Fleiss' kappa needs the same number of votes on every object")
    observed = percent_agreement(table)
    chance = float(((table.sum(axis=0) / table.sum()) ** 2).sum())
    return None if observed is None or chance >= 1 else (observed - chance) / (1 - chance)


def quadratic_weights(q: int) -> Counts:
    """Agreement weights 1 - (k-l)^2/(q-1)^2 of q ordered values."""
    k = np.arange(q, dtype=float)
    return np.asarray(1 - np.subtract.outer(k, k) ** 2 / (q - 1) ** 2)


def gwet(table: Counts, weights: Counts | None = None) -> float | None:
    """Gwet's AC1, or AC2 with `weights` (q x q, 1 on the diagonal). None when no object has two votes."""
    q = table.shape[1]
    w = np.eye(q) if weights is None else weights
    observed = _observed(table, w)
    if observed is None:
        return None
    n = table.sum(axis=1)
    shares = (table[n > 0] / n[n > 0, None]).mean(axis=0)
    chance = float(w.sum() / (q * (q - 1)) * (shares * (1 - shares)).sum())
    return (observed - chance) / (1 - chance)


def alpha(table: Counts, scale: Scale = "nominal", values: Sequence[float] | None = None) -> float | None:
    """Krippendorff's alpha; None is "no variation" (or no pairs), which is neither 1 nor an error.

    `values` are the numbers that the columns stand for (interval and ratio scales), 0, 1, 2 ... if not given.
    """
    kept = table[table.sum(axis=1) > 1]
    m = kept.sum(axis=1)
    total = kept.sum(axis=0)
    n = float(total.sum())
    if n == 0:
        return None
    per_unit = kept / (m - 1)[:, None]
    coincidence = per_unit.T @ kept - np.diag(per_unit.sum(axis=0))
    apart = _distances(
        scale,
        total,
        np.arange(len(total), dtype=float) if values is None else np.asarray(values, dtype=float),
    )
    expected = float(total @ apart @ total) / (n - 1)
    return None if expected <= 0 else 1 - float((coincidence * apart).sum()) / expected


def _distances(scale: Scale, total: Counts, values: Counts) -> Counts:
    if scale == "nominal":
        return 1 - np.eye(len(total))
    if scale == "ordinal":
        rank = np.cumsum(total) - total / 2
        return np.asarray(np.subtract.outer(rank, rank) ** 2)
    apart = np.subtract.outer(values, values)
    if scale == "interval":
        return np.asarray(apart**2)
    both = np.add.outer(values, values)
    return np.asarray(np.divide(apart, both, out=np.zeros_like(apart), where=both != 0) ** 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One coefficient with its bootstrap interval (2.5 and 97.5 %); all None is "no variation"."""

    value: float | None
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DayAgreement:
    """Agreement of a day. `shown` is False below the rule book's floor of objects, and `why` says so.

    `base_rate` is the share of each verdict: it belongs beside the figures. `draws` and `seed` repeat the intervals.
    """

    objects: int
    shown: bool
    why: str = ""
    percent: Figure | None = None
    ac1: Figure | None = None
    alpha: Figure | None = None
    base_rate: tuple[tuple[str, float], ...] = ()
    draws: int = 0
    seed: int = 0


def day_agreement(
    counts: Sequence[Sequence[int]],
    *,
    rules: VotingRules,
    seed: int,
    verdicts: Sequence[str] = VERDICTS,
) -> DayAgreement:
    """Percent, AC1 and alpha of a day from counts per object, with bootstrap intervals over objects.

    `counts` has one row an object and one column a verdict **offered**. Below `rules.agreement_floor` objects with two
    votes nothing is shown. The same `seed` gives the same interval.
    """
    table = np.asarray(counts, dtype=float).reshape(-1, len(verdicts))
    table = table[table.sum(axis=1) > 1]
    if len(table) < rules.agreement_floor:
        why = f"Not enough yet: {len(table)} of {rules.agreement_floor} objects with two views or more."
        return DayAgreement(objects=len(table), shown=False, why=why)
    draws = rules.bootstrap_draws
    picks = np.random.default_rng(seed).integers(0, len(table), size=(draws, len(table)))
    percent, ac1, krippendorff = _all_three(table, picks)
    shares = table.sum(axis=0) / table.sum()
    return DayAgreement(
        objects=len(table),
        shown=True,
        why="" if krippendorff.value is not None else "No variation: every view is the same.",
        percent=percent,
        ac1=ac1,
        alpha=krippendorff,
        base_rate=tuple((v, float(s)) for v, s in zip(verdicts, shares, strict=True)),
        draws=draws,
        seed=seed,
    )


def _all_three(table: Counts, picks: npt.NDArray[np.int64]) -> tuple[Figure, Figure, Figure]:
    """Value and bootstrap interval of the three coefficients; all draws at once, from sums per object."""
    n = table.sum(axis=1)
    q = table.shape[1]
    pairs = ((table**2).sum(axis=1) - n) / (n * (n - 1))
    shares = table / n[:, None]
    drawn_pairs = pairs[picks].mean(axis=1)
    drawn_shares = shares[picks].mean(axis=1)
    chance = (drawn_shares * (1 - drawn_shares)).sum(axis=1) / (q - 1)
    drawn_ac1 = (drawn_pairs - chance) / (1 - chance)
    disagree = (n**2 - (table**2).sum(axis=1)) / (n - 1)
    totals = table[picks].sum(axis=1)
    size = totals.sum(axis=1)
    expected = (size**2 - (totals**2).sum(axis=1)) / (size - 1)
    varied = expected > 0
    drawn_alpha = 1 - disagree[picks].sum(axis=1)[varied] / expected[varied]
    return (
        _figure(percent_agreement(table), drawn_pairs),
        _figure(gwet(table), drawn_ac1),
        _figure(alpha(table), drawn_alpha),
    )


def _figure(value: float | None, draws: Counts) -> Figure:
    if value is None or not len(draws):
        return Figure(value=value)
    low, high = np.quantile(draws, [0.025, 0.975])
    return Figure(value=value, low=float(low), high=float(high))


@dataclass(frozen=True, slots=True, kw_only=True)
class Homogeneity:
    """Ward and Wilson's test of dates with stated errors: pooled mean, its standard error, T, p with n - 1 degrees."""

    mean: float
    error: float
    statistic: float
    p: float


def homogeneity(dates: Sequence[float], errors: Sequence[float]) -> Homogeneity:
    """May these dates be averaged? (Ward & Wilson 1978.) `errors` are one standard deviation, above 0, in years."""
    from scipy.stats import chi2

    x, s = np.asarray(dates, dtype=float), np.asarray(errors, dtype=float)
    weight = 1 / s**2
    mean = float((x * weight).sum() / weight.sum())
    statistic = float(((x - mean) ** 2 * weight).sum())
    p = float(chi2.sf(statistic, len(x) - 1))
    return Homogeneity(mean=mean, error=float(weight.sum() ** -0.5), statistic=statistic, p=p)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mirror:
    """What one member sees of their own views beside what the panel came to. For that member alone, never a rank."""

    objects: int
    shown: bool
    why: str = ""
    with_panel: int = 0


def own_mirror(
    viewer: str, person: str, own: Mapping[str, str], panel: Mapping[str, str], *, rules: VotingRules
) -> Mirror:
    """Own verdicts by claim beside the panel's. Anyone else's mirror, or fewer than the floor, shows nothing."""
    if viewer != person:
        return Mirror(objects=0, shown=False, why="A mirror is for the member alone.")
    shared = [claim for claim in own if claim in panel]
    if len(shared) < rules.person_floor:
        why = f"Not enough yet: {len(shared)} of {rules.person_floor}."
        return Mirror(objects=len(shared), shown=False, why=why)
    return Mirror(objects=len(shared), shown=True, with_panel=sum(own[c] == panel[c] for c in shared))
