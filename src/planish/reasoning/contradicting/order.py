"""Which events cannot come after which, and whether some assignment of years satisfies everything at once."""

from collections.abc import Mapping, Sequence
from functools import lru_cache

from planish.reasoning.contradicting.masks import Place
from planish.records import EvidenceItem, Link

MADE = "made"
Before = Mapping[str, tuple[str, ...]]
"""For each event the events that cannot come after it."""

_MAKING = frozenset({"body_made", "part_made", "cast", "printed", MADE})
NOT_AN_EVENT = "label"  # bounds what a word can mean, not the object

DEFAULT_CHAIN: tuple[Link, ...] = (
    Link(earlier=MADE, later="decorated", stay=0.8),
    Link(earlier="decorated", later="inscribed", stay=0.3),
    Link(earlier="inscribed", later="repair", stay=0.02),
    Link(earlier=MADE, later="finish_applied", stay=0.8),
    Link(earlier=MADE, later="mark_struck", stay=0.9),
    Link(earlier=MADE, later="retailed", stay=0.5),
    Link(earlier=MADE, later="imported", stay=0.2),
    Link(earlier=MADE, later="exported", stay=0.2),
    Link(earlier="designed", later=MADE, stay=0.3),
    Link(earlier="registered", later=MADE, stay=0.5),
)
"""made ≤ decorated ≤ inscribed ≤ repaired; the rest hang on the making. The stays are house choices, not findings."""


def event_of(event: str) -> str:
    """The event under its one name: body made, part made, cast and printed are all the making."""
    return MADE if event in _MAKING else event


def making_event(event: str) -> bool:
    """True for every word that means the making of the thing or part."""
    return event in _MAKING


def place_of(item: EvidenceItem) -> Place:
    """Part and event an item speaks of; the body is the whole."""
    return ("" if item.part == "body" else item.part, event_of(item.event))


def precedes(chain: tuple[Link, ...]) -> Before:
    """For each event all events that cannot come after it, through any number of links."""
    return _DEFAULT_BEFORE if chain is DEFAULT_CHAIN else _precedes(chain)


@lru_cache(maxsize=64)
def _precedes(chain: tuple[Link, ...]) -> Before:
    before: dict[str, set[str]] = {}
    for link in chain:
        before.setdefault(event_of(link.later), set()).add(event_of(link.earlier))
    reached: dict[str, tuple[str, ...]] = {}
    for event in before:
        found: set[str] = set()
        todo = list(before[event])
        while todo:
            earlier = todo.pop()
            if earlier not in found:
                found.add(earlier)
                todo.extend(before.get(earlier, ()))
        reached[event] = tuple(sorted(found))
    return reached


_DEFAULT_BEFORE = _precedes(DEFAULT_CHAIN)


@lru_cache(maxsize=1024)
def links_between(chain: tuple[Link, ...], earlier: str, later: str) -> tuple[str, ...]:
    """Events from `earlier` to `later` by the shortest path of links, both included; empty when there is none."""
    paths: list[tuple[str, ...]] = [(earlier,)]
    while paths:
        path = paths.pop(0)
        if path[-1] == later:
            return path
        ahead = [event_of(link.later) for link in chain if event_of(link.earlier) == path[-1]]
        paths.extend((*path, event) for event in sorted(ahead) if event not in path)
    return ()


def can_all_hold(members: Sequence[tuple[Place, int]], before: Before) -> bool:
    """True when years exist that lie in every set and keep the order.

    Each event in turn takes the earliest year it can: if that fails, no assignment does, because later choices only
    push further. Exact for unions of windows and for any order without a circle.
    """
    allowed: dict[Place, int] = {}
    for place, mask in members:
        here = allowed.get(place)
        allowed[place] = mask if here is None else here & mask
        if not allowed[place]:
            return False
    if len(allowed) == 1:
        return True
    earlier_than: dict[Place, list[Place]] = {}
    for part, event in allowed:
        found = [(part, a) for a in before.get(event, ()) if (part, a) in allowed]
        if found:
            earlier_than[part, event] = found
    return not earlier_than or _earliest_fit(allowed, earlier_than)


def _earliest_fit(allowed: dict[Place, int], earlier_than: dict[Place, list[Place]]) -> bool:
    taken = {place: (mask & -mask).bit_length() - 1 for place, mask in allowed.items()}
    moved = True
    while moved:
        moved = False
        for place, before in earlier_than.items():
            floor = max(taken[b] for b in before)
            if taken[place] < floor:
                rest = allowed[place] >> floor
                if not rest:
                    return False
                taken[place] = floor + (rest & -rest).bit_length() - 1
                moved = True
    return True
