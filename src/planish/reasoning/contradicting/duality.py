"""All smallest conflicts and all smallest corrections, each the hitting sets of the other (Reiter 1987).

A conflict is a set of members that cannot all hold, none of them idle. A correction is a set whose removal lets the rest
hold, none of it idle. `can_hold` says whether a set of member numbers can all hold; it must be monotone: parts of a
set that can hold can hold too.
"""

from collections.abc import Callable, Iterable

Set = frozenset[int]


def conflicts_and_corrections(
    count: int, can_hold: Callable[[Set], bool], most: int = 4096
) -> tuple[tuple[Set, ...], tuple[Set, ...]]:
    """All smallest conflicts and all smallest corrections among members 0..count-1, each sorted.

    Grows both families together: a smallest hitting set of the corrections found so far either conflicts, and is then
    a smallest conflict, or can hold, and then its largest extension gives a correction not yet hit.
    Raises ValueError when more than `most` candidates would have to be kept (far beyond what one object yields).
    """
    corrections: list[Set] = []
    candidates: set[Set] = {frozenset()}
    conflicts: set[Set] = set()
    while candidates:
        candidate = min(candidates, key=lambda s: (len(s), sorted(s)))
        if not can_hold(candidate):
            conflicts.add(candidate)
            candidates.discard(candidate)
            continue
        correction = frozenset(range(count)) - _grow(candidate, count, can_hold)
        if not correction:
            return (), ()
        corrections.append(correction)
        candidates = _hit_also(candidates, correction, conflicts)
        if len(candidates) > most:
            raise ValueError(f"more than {most} possible conflicts among {count} members")
    return _in_order(conflicts), _in_order(corrections)


def one_conflict(members: Iterable[int], can_hold: Callable[[Set], bool]) -> Set:
    """One smallest conflict inside `members` (which must conflict), by dropping members one by one."""
    kept = frozenset(members)
    for member in sorted(kept):
        without = kept - {member}
        if not can_hold(without):
            kept = without
    return kept


def hitting_sets(family: Iterable[Set]) -> tuple[Set, ...]:
    """All smallest sets that meet every member of `family` (Berge's step by step product)."""
    found: set[Set] = {frozenset()}
    for member in family:
        found = _hit_also(found, member, set())
    return _in_order(found)


def _grow(start: Set, count: int, can_hold: Callable[[Set], bool]) -> Set:
    grown = start
    for member in range(count):
        if member not in grown and can_hold(grown | {member}):
            grown = grown | {member}
    return grown


def _hit_also(candidates: set[Set], new: Set, settled: set[Set]) -> set[Set]:
    hit = {c for c in candidates if c & new}
    widened = {c | {m} for c in candidates - hit for m in new}
    keep = hit | settled
    return hit | {w for w in widened if not any(k <= w for k in keep) and not any(o < w for o in widened)}


def _in_order(family: Iterable[Set]) -> tuple[Set, ...]:
    return tuple(sorted(family, key=lambda s: (len(s), sorted(s))))
