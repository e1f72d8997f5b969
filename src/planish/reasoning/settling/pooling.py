"""Date opinions pooled year by year: linear, equal weights, so that a lone dissenter stays visible as a second hump.

Years 1400..2030, one bin each. The floor keeps every year above zero: a small chance that the opinion is about the
wrong thing altogether. A logarithmic pool is here for comparison only, never for a label.
"""

from collections.abc import Sequence
from functools import lru_cache
from statistics import NormalDist

import numpy as np
import numpy.typing as npt

from planish.records import DateAgreement, DateOpinion, PooledDates, VotingRules, Years

FIRST, LAST = 1400, 2030
GRID = np.arange(FIRST, LAST + 1)
Density = npt.NDArray[np.float64]
NORMAL = NormalDist()


def density(opinion: DateOpinion, *, floor: float = 0.01, widen: float = 1.0) -> Density | None:
    """Probability of each grid year by one opinion, None if its years are open or off the grid.

    Without a best year (or with one on an edge): mass `sure` spread evenly, shoulders falling off exponentially and
    continuous at the edges. With one: a split normal with exactly `sure` inside. `widen` >= 1 stretches the spread
    (overconfidence). `floor` is the share spread over all years.
    """
    first, last = opinion.years.earliest, opinion.years.latest
    if first is None or last is None or last < FIRST or first > LAST:
        return None
    made: Density = _density(first, last, opinion.best, opinion.sure, floor, widen)
    return made


@lru_cache(maxsize=4096)
def _density(first: int, last: int, best: int | None, sure: float, floor: float, widen: float) -> Density:
    sure = min(max(sure, 0.5), 0.95)
    edges = np.arange(FIRST, LAST + 2, dtype=float)
    if best is None or not first < best < last:
        cumulative = flat_top(edges, first, last + 1, sure, widen)
    else:
        cumulative = split_normal(edges, first, best + 0.5, last + 1, sure, widen)
    mass = np.diff(cumulative)
    pooled = (1 - floor) * mass / mass.sum() + floor / len(GRID)
    pooled = np.asarray(pooled / pooled.sum())
    pooled.setflags(write=False)
    return pooled


def flat_top(x: Density, a: float, b: float, sure: float, widen: float = 1.0) -> Density:
    """Cumulative probability at `x` of a flat top from `a` to `b` holding `sure`, with exponential shoulders.

    The shoulder's scale (1-sure)(b-a)/(2 sure) makes the density continuous at the edges.
    """
    middle, half = (a + b) / 2, widen * (b - a) / 2
    a, b = middle - half, middle + half
    tail = (1 - sure) / 2
    tau = (1 - sure) * (b - a) / (2 * sure)
    left = tail * np.exp(np.minimum(x - a, 0) / tau)
    right = 1 - tail * np.exp(np.minimum(b - x, 0) / tau)
    inside = tail + sure * (x - a) / (b - a)
    return np.where(x < a, left, np.where(x > b, right, inside))


def split_normal(x: Density, a: float, best: float, b: float, sure: float, widen: float = 1.0) -> Density:
    """Cumulative probability at `x` of two half normals joined at `best`, with exactly `sure` between `a` and `b`."""
    z = NORMAL.inv_cdf((1 + sure) / 2)
    below, above = widen * (best - a) / z, widen * (b - best) / z
    share = below / (below + above)
    left = 2 * share * _phi((np.minimum(x, best) - best) / below)
    right = (1 - share) * (2 * _phi((np.maximum(x, best) - best) / above) - 1)
    return left + right


def _phi(z: Density) -> Density:
    from scipy.special import ndtr

    return np.asarray(ndtr(z), dtype=float)


def linear_pool(densities: Sequence[Density], weights: Sequence[float] | None = None) -> Density:
    """Weighted mean of the densities. It commutes with merging years; one dissenter keeps a hump."""
    return np.average(np.asarray(densities), axis=0, weights=weights)


def log_pool(densities: Sequence[Density], weights: Sequence[float] | None = None) -> Density:
    """Weighted geometric mean, renormalised: for comparison only. One zero is a veto."""
    stack = np.asarray(densities)
    shares = np.full(len(stack), 1 / len(stack)) if weights is None else np.asarray(weights) / np.sum(weights)
    with np.errstate(divide="ignore"):
        logs = np.where(stack > 0, np.log(stack), -np.inf)
    total = shares @ logs
    mass = np.exp(total - total.max())
    return np.asarray(mass / mass.sum())


def overlap(p: Density, q: Density) -> float:
    """Shared mass of two densities: 1 the same, 0 disjoint."""
    return float(np.minimum(p, q).sum())


def between_share(densities: Sequence[Density]) -> float:
    """Variance between the means over the variance of the pool, 0..1: above a half people differ more than they doubt."""
    stack = np.asarray(densities)
    means = stack @ GRID
    within = stack @ (GRID.astype(float) ** 2) - means**2
    total = float(means.var() + within.mean())
    return float(means.var()) / total if total > 0 else 0.0


def core_years(opinions: Sequence[DateOpinion], share: float) -> tuple[Years, ...]:
    """Years inside at least `share` of the stated intervals, as runs."""
    votes = np.zeros(len(GRID))
    for opinion in opinions:
        if opinion.years.earliest is not None and opinion.years.latest is not None:
            votes += (opinion.years.earliest <= GRID) & (opinion.years.latest >= GRID)
    return runs(votes >= share * len(opinions) - 1e-9) if opinions else ()


def runs(inside: npt.NDArray[np.bool_]) -> tuple[Years, ...]:
    """Runs of True over the grid as spans of years."""
    padded = np.concatenate(([False], inside, [False])).astype(np.int8)
    starts, ends = np.flatnonzero(np.diff(padded) == 1), np.flatnonzero(np.diff(padded) == -1)
    return tuple(Years(int(GRID[s]), int(GRID[e - 1])) for s, e in zip(starts, ends, strict=True))


def agree_on_dates(opinions: Sequence[DateOpinion], rules: VotingRules) -> DateAgreement | None:
    """How far the date opinions of one object agree, None when nobody gave years."""
    dated = [o for o in opinions if density(o, floor=rules.date_floor) is not None]
    if not dated:
        return None
    stack = _stack(dated, rules.date_floor)
    return _agreement(stack, dated, rules)


def _stack(opinions: Sequence[DateOpinion], floor: float, widen: float = 1.0) -> list[Density]:
    found = (density(o, floor=floor, widen=widen) for o in opinions)
    return [d for d in found if d is not None]


def _agreement(
    stack: Sequence[Density], opinions: Sequence[DateOpinion], rules: VotingRules
) -> DateAgreement:
    array = np.asarray(stack)
    furthest = 1.0
    for i in range(len(array) - 1):
        furthest = min(furthest, float(np.minimum(array[i], array[i + 1 :]).sum(axis=1).min()))
    return DateAgreement(
        opinions=len(array),
        between=between_share(array) if len(array) > 1 else 0.0,  # type: ignore[arg-type]
        overlap=furthest,
        core=core_years(opinions, rules.core_share),
    )


def pool_dates(
    opinions: Sequence[DateOpinion],
    *,
    rules: VotingRules,
    excluded: Sequence[Years] = (),
    widen: float = 1.0,
) -> PooledDates | None:
    """Pool the opinions and derive the years for a reissued label; None when nobody gave years.

    `excluded` are years that undisputed binding evidence rules out. The label takes the smallest interval with
    `rules.label_share` of what is left, ends rounded outwards; two humps refuse a label rather than print one.
    """
    dated = [o for o in opinions if density(o, floor=rules.date_floor) is not None]
    if not dated:
        return None
    stack = _stack(dated, rules.date_floor, widen)
    pool = linear_pool(stack)
    years, humps, why = label_years(pool, excluded, rules.label_share)
    low, middle, high = (int(GRID[np.searchsorted(np.cumsum(pool), q - 1e-12)]) for q in (0.1, 0.5, 0.9))
    return PooledDates(
        agreement=_agreement(stack, dated, rules),
        quantiles=(low, middle, high),
        intervals=tuple(sorted((o.years for o in dated), key=lambda y: (y.earliest, y.latest))),
        label=years,
        humps=humps,
        why=why,
        conventions=(
            f"floor={rules.date_floor:g}",
            f"label_share={rules.label_share:g}",
            f"widen={widen:g}",
            "pool=linear, equal weights",
        ),
    )


def label_years(
    pool: Density, excluded: Sequence[Years], share: float
) -> tuple[Years | None, tuple[Years, ...], str]:
    """Years that a label may print, the humps of the smallest set of years, and why there is no label if so."""
    left = pool.copy()
    for span in excluded:
        first = FIRST if span.earliest is None else span.earliest
        last = LAST if span.latest is None else span.latest
        left[(first <= GRID) & (last >= GRID)] = 0
    if left.sum() < 0.05:
        return None, (), "Almost nothing of the proposed years is left beside the binding evidence."
    left = left / left.sum()
    humps = smallest_set(left, share)
    if len(humps) > 1:
        return None, humps, "The years proposed have two humps: no single span of years is honest."
    return _rounded(humps[0]), humps, ""


def smallest_set(mass: Density, share: float) -> tuple[Years, ...]:
    """The smallest set of years that holds `share`, as runs; runs closer than 10 years count as one hump."""
    order = np.argsort(-mass, kind="stable")
    enough = int(np.searchsorted(np.cumsum(mass[order]), share - 1e-12)) + 1
    inside = np.zeros(len(mass), dtype=bool)
    inside[order[:enough]] = True
    joined: list[Years] = []
    for run in runs(inside):
        if joined and (run.earliest or 0) - (joined[-1].latest or 0) <= 10:
            joined[-1] = Years(joined[-1].earliest, run.latest)
        else:
            joined.append(run)
    return tuple(joined)


def _rounded(years: Years) -> Years:
    """Ends rounded outwards: to 5 years, to 10 when wider than 40."""
    first, last = years.earliest or FIRST, years.latest or LAST
    step = 10 if last - first + 1 > 40 else 5
    return Years(first // step * step, -(-last // step) * step)


def effective(n: int, rho: float) -> float:
    """How many independent opinions `n` opinions with correlation `rho` 0..1 are worth: n/(1+(n-1) rho)."""
    return n / (1 + (n - 1) * rho)


def widening(actual: float, nominal: float = 0.8) -> float:
    """Factor by which spread must grow if intervals called `nominal` hold the truth only `actual` of the time."""
    return NORMAL.inv_cdf((1 + nominal) / 2) / NORMAL.inv_cdf((1 + actual) / 2)
