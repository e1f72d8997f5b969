"""The fewest (or lightest) items to doubt so that the rest agree: the heaviest set of items that can all be true."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from planish.reasoning.contradicting.masks import FIRST_YEAR, LAST_YEAR, Place, years_allowed
from planish.reasoning.contradicting.order import DEFAULT_CHAIN, MADE, NOT_AN_EVENT, event_of, place_of
from planish.records import EvidenceItem, Link

Weights = list[float]


@dataclass(frozen=True, slots=True)
class Doubted:
    """Ids to doubt, the weight given up, and a year for every (part, event) at which the rest agree."""

    items: tuple[str, ...]
    weight: float
    years: tuple[tuple[Place, int], ...]


def fewest_to_doubt(
    items: Iterable[EvidenceItem],
    *,
    chain: tuple[Link, ...] = DEFAULT_CHAIN,
    weighted: bool = False,
    first: int = FIRST_YEAR,
    last: int = LAST_YEAR,
) -> Doubted:
    """Items to doubt so that all others can be true together, with the order of events kept.

    One event: the year covered by most windows. Several: the same sum with running maxima along the links, which must
    form a tree. `weighted` counts an item ln((1 - doubt)/doubt) instead of 1, so that a shaky item goes first; an
    item more doubtful than not weighs nothing. The earliest best years are taken.
    """
    members = sorted(
        (i for i in items if i.event != NOT_AN_EVENT and years_allowed(i, first, last)), key=lambda i: i.id
    )
    weight = {i.id: _weight(i.doubt) if weighted else 1.0 for i in members}
    years: dict[Place, int] = {}
    for part in dict.fromkeys(place_of(i)[0] for i in members):
        of_part = [i for i in members if place_of(i)[0] == part]
        years.update(_best_years(part, of_part, weight, chain, first, last))
    doubted = [i for i in members if not years_allowed(i, first, last) >> (years[place_of(i)] - first) & 1]
    return Doubted(
        tuple(i.id for i in doubted), sum(weight[i.id] for i in doubted), tuple(sorted(years.items()))
    )


def _weight(doubt: float) -> float:
    if doubt <= 0.0:
        return 1e6  # beyond doubt: given up only when nothing else helps
    return max(0.0, math.log((1.0 - doubt) / doubt)) if doubt < 1.0 else 0.0


def present_links(events: Iterable[str], chain: tuple[Link, ...]) -> tuple[Link, ...]:
    """The chain with events nobody has evidence for left out: a link then runs from the nearest present event.

    The later event keeps its own stay. The making should be among `events`.
    """
    here = set(events)
    links: list[Link] = []
    by_later = {event_of(link.later): link for link in chain}
    for link in chain:
        earlier, later = event_of(link.earlier), event_of(link.later)
        if later not in here:
            continue
        while earlier not in here and earlier in by_later:
            earlier = event_of(by_later[earlier].earlier)
        if earlier in here:
            links.append(Link(earlier=earlier, later=later, stay=link.stay))
    return tuple(links)


def _best_years(
    part: str,
    items: list[EvidenceItem],
    weight: dict[str, float],
    chain: tuple[Link, ...],
    first: int,
    last: int,
) -> dict[Place, int]:
    """Best years of one part by passing running maxima from the leaves of the tree of events to a root and back."""
    size = last - first + 1
    own: dict[str, Weights] = {MADE: [0.0] * size}  # always there, so that every event hangs on something
    for item in items:
        row = own.setdefault(place_of(item)[1], [0.0] * size)
        mask = years_allowed(item, first, last)
        for index in range(size):
            if mask >> index & 1:
                row[index] += weight[item.id]
    links = present_links(own, chain)
    years: dict[Place, int] = {}
    for root in own:
        if (part, root) not in years:
            _settle_tree(part, root, own, links, first, years)
    return years


def _settle_tree(
    part: str,
    root: str,
    own: dict[str, Weights],
    links: tuple[Link, ...],
    first: int,
    years: dict[Place, int],
) -> None:
    order: list[tuple[str, str, bool]] = []  # event, the event it hangs on, whether it comes after it
    seen = {root}
    queue = [root]
    while queue:
        here = queue.pop(0)
        for link in links:
            for event, other, after in ((link.later, link.earlier, True), (link.earlier, link.later, False)):
                if other == here and event not in seen:
                    seen.add(event)
                    queue.append(event)
                    order.append((event, here, after))
    total = {event: list(own[event]) for event in seen}
    best: dict[str, list[int]] = {}
    for event, parent, after in reversed(order):
        best[event] = _running_best(total[event], after)
        total[parent] = [a + total[event][b] for a, b in zip(total[parent], best[event], strict=True)]
    index = {root: max(range(len(total[root])), key=lambda i: (total[root][i], -i))}
    for event, parent, _ in order:
        index[event] = best[event][index[parent]]
    years.update({(part, event): first + i for event, i in index.items()})


def _running_best(row: Weights, after: bool) -> list[int]:
    """For every year the best year not before it (`after`) or not after it."""
    size = len(row)
    picks = [0] * size
    indices = range(size - 1, -1, -1) if after else range(size)
    best = indices[0]
    for i in indices:
        if row[i] > row[best] or (row[i] == row[best] and after):
            best = i
        picks[i] = best
    return picks
