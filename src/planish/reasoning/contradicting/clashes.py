"""The smallest clashes among dated claims and evidence: the fewest statements that cannot all be true, in a sentence."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from planish.reasoning.contradicting.duality import conflicts_and_corrections, one_conflict
from planish.reasoning.contradicting.masks import (
    FIRST_YEAR,
    LAST_YEAR,
    Place,
    highest,
    is_one_span,
    lowest,
    years_allowed,
)
from planish.reasoning.contradicting.order import (
    DEFAULT_CHAIN,
    NOT_AN_EVENT,
    Before,
    can_all_hold,
    place_of,
    precedes,
)
from planish.reasoning.contradicting.saying import contradiction
from planish.records import Contradiction, Event, EvidenceItem, Link, Years

EXACT_UP_TO = 24
"""Members of one part up to which every smallest conflict among unions of windows is listed."""

_NO_SOURCES: Mapping[str, str] = {}


@dataclass(frozen=True, slots=True)
class Member:
    """One statement with the years it leaves open, as a bit set counted from the first year of the grid."""

    item: EvidenceItem
    place: Place
    mask: int


def claim_as_item(
    id: str, words: str, years: Years, *, part: str = "", event: Event = "body_made"
) -> EvidenceItem:
    """A dated claim in the form of an item, so that it can clash; it is never weighed as evidence."""
    said = f"the label says “{words}” ({_years(years)})"
    return EvidenceItem(
        id=id, sentence=said, part=part, event=event, windows=(years,), claims=(id,), hard=True
    )


def smallest_clashes(
    items: Iterable[EvidenceItem],
    *,
    chain: tuple[Link, ...] = DEFAULT_CHAIN,
    sources: Mapping[str, str] = _NO_SOURCES,
    first: int = FIRST_YEAR,
    last: int = LAST_YEAR,
) -> tuple[Contradiction, ...]:
    """All smallest sets of statements that cannot all be true, in a fixed order: fewest members first, hard ones first.

    Plain windows of one event clash in pairs only (Helly's theorem in one dimension), and so do plain windows along an
    order of events; unions of windows can need three or more. Above `EXACT_UP_TO` members with unions, all pairs and
    one larger conflict are given. `sources` names the source of an item or fact by id. Items wholly off the grid take no part.
    """
    members = _members(items, first, last) if first <= last else []
    if not members:
        return ()
    before = precedes(chain)
    if can_all_hold([(m.place, m.mask) for m in members], before):
        return ()
    found = [
        contradiction([m.item for m in clash], chain, sources)
        for part in dict.fromkeys(m.place[0] for m in members)
        for clash in _clashes_of_part([m for m in members if m.place[0] == part], before)
    ]
    return tuple(sorted(found, key=_rank))


def _members(items: Iterable[EvidenceItem], first: int, last: int) -> list[Member]:
    members = [
        Member(item, place_of(item), mask)
        for item in items
        if item.event != NOT_AN_EVENT and (mask := years_allowed(item, first, last))
    ]
    return sorted(members, key=lambda m: m.item.id)


def _clashes_of_part(members: list[Member], before: Before) -> list[list[Member]]:
    if all(is_one_span(m.mask) for m in members):
        return _pairs(members, before)
    sets = [(m.place, m.mask) for m in members]
    can_hold = partial(_can_hold, sets, before)
    if len(members) <= EXACT_UP_TO:
        conflicts, _ = conflicts_and_corrections(len(members), can_hold)
        return [[members[i] for i in sorted(c)] for c in conflicts]
    clashes = _pairs(members, before)
    if not clashes and not can_hold(frozenset(range(len(members)))):
        clashes = [[members[i] for i in sorted(one_conflict(range(len(members)), can_hold))]]
    return clashes


def _can_hold(sets: Sequence[tuple[Place, int]], before: Before, chosen: frozenset[int]) -> bool:
    return can_all_hold([sets[i] for i in chosen], before)


def _pairs(members: list[Member], before: Before) -> list[list[Member]]:
    return [
        [a, b]
        for i, a in enumerate(members)
        for b in members[i + 1 :]
        if _two_clash(a, b, before) or _two_clash(b, a, before)
    ]


def _two_clash(earlier: Member, later: Member, before: Before) -> bool:
    """True when `earlier` cannot come after `later` (or is the same event) and yet must."""
    if earlier.place == later.place:
        return not earlier.mask & later.mask
    ordered = earlier.place[0] == later.place[0] and earlier.place[1] in before.get(later.place[1], ())
    return ordered and lowest(earlier.mask) > highest(later.mask)


def _rank(c: Contradiction) -> tuple[int, bool, bool, str]:
    return (len(c.claims) + len(c.items), not c.hard, not c.claims, c.id)


def _years(years: Years) -> str:
    if years.earliest == years.latest:
        return str(years.earliest)
    if years.earliest is None:
        return f"not after {years.latest}"
    return f"not before {years.earliest}" if years.latest is None else f"{years.earliest}–{years.latest}"
