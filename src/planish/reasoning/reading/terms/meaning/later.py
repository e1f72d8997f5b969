"""What a later hand did, told with the word for it: "later painted", "gilt later"."""

from itertools import pairwise

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Entry
from planish.records import TermValue


def settle_later(hits: list[Hit]) -> None:
    """ "later painted", "gilt later": one disclosure, unless a noun follows that the words describe."""
    joined: set[int] = set()
    for k, (one, other) in enumerate(pairwise(hits)):
        if one.last != other.first or k in joined:
            continue
        if _is_later(one) and other.side == "state" and other.entry.value.kind in _CHANGED:
            joined.add(k)
            other.first = one.first
            continue
        after = hits[k + 2] if k + 2 < len(hits) and hits[k + 2].first == other.last else None
        if (
            _is_later(one)
            and other.side in _WORK
            and not other.entry.noun
            and (after is None or after.side not in _NOUNS)
        ):
            joined.add(k + 1)
            one.last, work = other.last, other
        elif _is_later(other) and one.side in _WORK and not one.entry.noun and after is None:
            joined.add(k)
            other.first, work, one = one.first, one, other
        else:
            continue
        value = TermValue(term=f"later {work.entry.value.term}", kind="altered")
        one.choose(Entry("state", value))
    if joined:
        hits[:] = [hit for k, hit in enumerate(hits) if k not in joined]


_CHANGED = frozenset({"altered", "restored", "refinished"})
"""What a later hand did: "later converted to electricity" says nothing else is later."""
_WORK = frozenset({"decoration", "surface", "technique"})
_NOUNS = frozenset({"object", "part", "decoration"})


def _is_later(hit: Hit) -> bool:
    return hit.side == "state" and hit.entry.value.term == "later"
