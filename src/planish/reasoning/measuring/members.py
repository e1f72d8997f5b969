"""Sets and parts: is one member odd? Do two groups differ? Are two readings of one melt?

The odd one out is tested exactly for small sets, on two named assumptions: members of one batch scatter like a bell
curve, and one member may differ. The statistic is Grubbs's (1950, 1969); its chance comes from Student's t with n-2
degrees, which is exact when no two members could both be so far off, and never too small otherwise. Measuring
uncertainty is never taken as smaller than it is. Two groups are compared by counting every possible split.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from planish.facts.book import FactBook
from planish.reasoning.measuring.cautioning import BY_METHOD, cautions
from planish.reasoning.measuring.figures import below, place, problem
from planish.reasoning.measuring.measured import Measured, Settings, refused, used
from planish.records import Observation, Problem, Quantity, freeze

FEWEST = 4
"""With three members two that happen to agree make the third look odd: no test is made."""
MOST_SPLITS = 200_000


@dataclass(frozen=True, slots=True, kw_only=True)
class OddOne:
    """The member furthest from the rest. `index` counts from 0; `chance` is how often a set of one batch would show a
    member so far off (None: too few to tell); `exact` says whether that is exact or at most; `apart` is the share by
    which it differs from the mean of the others; `others` how many more stand apart by the median."""

    index: int
    chance: float | None
    exact: bool
    apart: float
    others: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Groups:
    """Two groups compared by exact permutation. `least` is the smallest chance this many members could ever show."""

    difference: float
    chance: float
    least: float
    splits: int


def odd_one(values: Sequence[float], spread: float = 0.0) -> OddOne:
    """The member furthest from the rest of its set, tested exactly. `spread`: standard uncertainty of one measuring."""
    n = len(values)
    mean = math.fsum(values) / n
    index = max(range(n), key=lambda i: (abs(values[i] - mean), -i))
    rest = [v for i, v in enumerate(values) if i != index]
    rest_mean = math.fsum(rest) / len(rest) if rest else mean
    apart = (values[index] - rest_mean) / rest_mean if rest_mean else 0.0
    others = tuple(i for i in _by_median(values, spread) if i != index)
    if n < FEWEST:
        return OddOne(index=index, chance=None, exact=False, apart=apart, others=others)
    chance, exact = _grubbs(values, index, rest_mean, spread)
    return OddOne(index=index, chance=chance, exact=exact, apart=apart, others=others)


def grubbs_statistic(values: Sequence[float]) -> float:
    """max |x - mean| / s, s with n-1; 0 when all agree."""
    n = len(values)
    mean = math.fsum(values) / n
    s = math.sqrt(math.fsum((v - mean) ** 2 for v in values) / (n - 1))
    return max(abs(v - mean) for v in values) / s if s else 0.0


def grubbs_chance(statistic: float, n: int) -> tuple[float, bool]:
    """Two-sided chance of a Grubbs statistic this large in a set of one batch, and whether it is exact."""
    largest = (n - 1) / math.sqrt(n)
    if statistic >= largest:
        return 0.0, True
    t = math.sqrt(statistic**2 * n * (n - 2) / ((n - 1) ** 2 - statistic**2 * n))
    exact = statistic**2 > (n - 1) / 2
    return min(1.0, 2 * n * student_above(t, n - 2)), exact


def _grubbs(values: Sequence[float], index: int, rest_mean: float, spread: float) -> tuple[float, bool]:
    n = len(values)
    chance, exact = grubbs_chance(grubbs_statistic(values), n)
    if spread > 0:
        away = abs(values[index] - rest_mean) / (spread * math.sqrt(1 + 1 / (n - 1)))
        by_measuring = min(1.0, 2 * n * (1 - below(away, 0.0, 1.0)))
        chance, exact = (by_measuring, False) if by_measuring > chance else (chance, exact)
    return chance, exact


def student_above(t: float, degrees: int) -> float:
    """Chance that Student's t with whole `degrees` exceeds t >= 0: the finite sums of Abramowitz & Stegun 26.7.3-4."""
    angle = math.atan2(t, math.sqrt(degrees))
    s, c = math.sin(angle), math.cos(angle)
    if degrees == 1:
        inside = 2 * angle / math.pi
    elif degrees % 2:
        term, total = c, c
        for k in range(2, degrees - 1, 2):
            term *= c * c * k / (k + 1)
            total += term
        inside = 2 / math.pi * (angle + s * total)
    else:
        term, total = 1.0, 1.0
        for k in range(1, degrees - 2, 2):
            term *= c * c * k / (k + 1)
            total += term
        inside = s * total
    return max(0.0, (1 - inside) / 2)


def _by_median(values: Sequence[float], spread: float) -> list[int]:
    """Members further than 3.5 robust spreads from the median (Iglewicz & Hoaglin 1993), the robust second opinion."""
    middle = _median(values)
    mad = max(1.4826 * _median([abs(v - middle) for v in values]), spread)
    if mad <= 0:
        return [i for i, v in enumerate(values) if v != middle]
    return [i for i, v in enumerate(values) if abs(v - middle) > 3.5 * mad]


def _median(values: Sequence[float]) -> float:
    ordered = sorted(values)
    half = len(ordered) // 2
    return ordered[half] if len(ordered) % 2 else (ordered[half - 1] + ordered[half]) / 2


def two_groups(first: Sequence[float], second: Sequence[float]) -> Groups | None:
    """Do two groups of members differ? Every split into groups of these sizes is counted; None above 200,000 splits."""
    pool = [*first, *second]
    splits = math.comb(len(pool), len(first))
    if not first or not second or splits > MOST_SPLITS:
        return None
    total = math.fsum(pool)

    def gap(chosen: Sequence[float]) -> float:
        part = math.fsum(chosen)
        return abs(part / len(first) - (total - part) / len(second))

    seen = gap(first)
    as_far = sum(
        1 for chosen in combinations(pool, len(first)) if gap(chosen) >= seen - 1e-9 * max(1.0, seen)
    )
    least = (2 if len(first) == len(second) else 1) / splits
    return Groups(difference=math.fsum(first) / len(first) - math.fsum(second) / len(second), chance=as_far / splits,
                  least=least, splits=splits)  # fmt: skip


def measure_members(observation: Observation, book: FactBook, settings: Settings | None = None) -> Measured:
    """Members of a set. Values: "1", "2", ... in one unit; `more["measure"]` names what was measured ("weight")."""
    settings = settings or Settings()
    values = _values(observation)
    if isinstance(values, tuple):
        return refused(*values)
    names, figures, unit, spread = (
        list(values),
        [q.amount for q in values.values()],
        *_unit_and_spread(values),
    )
    groups = observation.more.get("groups")
    if groups is not None:
        return _grouped(observation, names, figures, str(groups), book, settings)
    odd = odd_one(figures, spread)
    what = str(observation.more.get("measure", "measure"))
    return Measured(
        sentences=_odd_said(odd, names, figures, unit, what, settings),
        cautions=cautions(book, BY_METHOD["members"]),
        details=freeze(
            {
                "odd_one": names[odd.index],
                "chance": odd.chance,
                "exact": odd.exact,
                "apart_percent": round(100 * odd.apart, 2),
                "also_apart": tuple(names[i] for i in odd.others),
                "assumes": "members of one batch scatter like a bell curve; one member may differ",
                "settings": used(settings, "odd_level"),
            }
        ),
    )


def _values(observation: Observation) -> Mapping[str, Quantity] | tuple[Problem, ...]:
    where = place(observation)
    units = {q.unit for q in observation.values.values()}
    wrong = [
        problem(where, f"Member {name}: {q.amount:g} is no measure of a real thing.", "Measure it again.", "members.figure", found=f"{q.amount:g}")
        for name, q in observation.values.items()
        if not math.isfinite(q.amount) or q.amount <= 0
    ] + [
        problem(where, f"Member {name}: the uncertainty is {q.uncertainty:g}.", "Give it as a positive figure or leave it out.", "figure.uncertainty_negative")
        for name, q in observation.values.items()
        if not math.isfinite(q.uncertainty) or q.uncertainty < 0
    ]  # fmt: skip
    if len(units) > 1:
        wrong.append(
            problem(
                where,
                f"The members are given in different units: {', '.join(sorted(units))}.",
                "Give all in one unit.",
                "members.units",
            )
        )
    if len(observation.values) < 2:
        wrong.append(
            problem(where, "A set needs two members at least.", "Give one figure a member.", "members.few")
        )
    return tuple(wrong) if wrong else observation.values


def _unit_and_spread(values: Mapping[str, Quantity]) -> tuple[str, float]:
    quantities = list(values.values())
    return quantities[0].unit, max(q.uncertainty for q in quantities)


def _odd_said(
    odd: OddOne, names: Sequence[str], figures: Sequence[float], unit: str, what: str, settings: Settings
) -> tuple[str, ...]:
    n = len(names)
    member = f"Member {names[odd.index]} ({figures[odd.index]:g} {unit})".replace(" )", ")")
    lead = f"{member} is the furthest from the rest in {what}: {100 * odd.apart:+.1f} % against the others."
    if odd.chance is None:
        return (lead, f"With {n} members no test can tell an odd one from chance; {FEWEST} are the fewest.")
    if odd.others:
        also = ", ".join(names[i] for i in odd.others)
        return (
            lead,
            f"Others stand apart too ({also}): a test for one odd member does not apply. Look at them as two groups.",
        )
    kind = "" if odd.exact else " at most"
    verdict = (
        "so it is odd" if odd.chance <= settings.odd_level else "so the figures alone cannot call it odd"
    )
    return (
        lead,
        f"In a set made as one, a member so far off would turn up{kind} in {_per(odd.chance)} sets of {n}, {verdict}.",
        "Odd in measure is not wrong: hand work scatters, and sets were made up and repaired from the start.",
    )


def _per(chance: float) -> str:
    if chance >= 0.1:
        return f"{100 * chance:.0f} of 100"
    if chance >= 0.001:
        return f"{1000 * chance:.0f} of 1,000"
    return "fewer than 1 of 1,000"


def _grouped(
    observation: Observation,
    names: Sequence[str],
    figures: Sequence[float],
    groups: str,
    book: FactBook,
    settings: Settings,
) -> Measured:
    """Members told apart by something seen (a mark, a make): do the two kinds differ in measure too?"""
    kinds = sorted(set(groups))
    if len(groups) != len(figures) or len(kinds) != 2:
        return refused(
            problem(
                place(observation),
                f"The groups {groups!r} do not put {len(figures)} members into two kinds.",
                "Write one letter a member, two different letters in all, such as AABB.",
                "members.groups",
                found=groups,
            )
        )
    first, second = ([f for f, g in zip(figures, groups, strict=True) if g == kind] for kind in kinds)
    found = two_groups(first, second)
    if found is None:
        return refused(
            problem(
                place(observation),
                "Too many members to count every split.",
                "Compare at most about 20.",
                "members.many",
            )
        )
    what = str(observation.more.get("measure", "measure"))
    lead = f"Kind {kinds[0]} and kind {kinds[1]} differ by {found.difference:+.4g} in mean {what}."
    if found.least > settings.odd_level:
        verdict = (
            f"With {len(first)} and {len(second)} members no test can tell: even the widest gap would turn up in "
            f"{_per(found.least)} splits."
        )
    else:
        told = (
            "so the kinds differ"
            if found.chance <= settings.odd_level
            else "so measure alone does not tell them apart"
        )
        verdict = f"Of all {found.splits} ways to part the members so, {_per(found.chance)} show a gap as wide, {told}."
    return Measured(
        sentences=(lead, verdict),
        cautions=cautions(book, BY_METHOD["members"]),
        details=freeze(
            {"difference": found.difference, "chance": found.chance, "least_possible": found.least, "splits": found.splits,
             "members": tuple(zip(names, groups, strict=True)), "settings": used(settings, "odd_level")}
        ),
    )  # fmt: skip
