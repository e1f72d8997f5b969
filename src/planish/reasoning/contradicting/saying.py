"""Clashes in plain sentences: "these two cannot both be true", the sources, and every way out."""

import itertools
from collections.abc import Iterable, Mapping, Sequence

from planish.reasoning.contradicting.order import links_between, place_of
from planish.records import Contradiction, EvidenceItem, Link

_COUNTS = {2: "These two cannot both be true", 3: "These three cannot all be true"}
_EVENTS = {
    "made": "the making",
    "decorated": "the decoration",
    "inscribed": "the inscription",
    "repair": "the repair",
    "finish_applied": "the finish",
    "mark_struck": "the striking of the mark",
    "designed": "the design",
    "registered": "the registration",
    "imported": "the import",
    "retailed": "the first sale",
    "exported": "the export",
}


def event_words(event: str) -> str:
    """The event in words for a sentence."""
    return _EVENTS.get(event, event.replace("_", " "))


def contradiction(
    members: Sequence[EvidenceItem], chain: tuple[Link, ...], sources: Mapping[str, str]
) -> Contradiction:
    """One clash as a record: members by kind, a sentence that names sources, and one way out a member."""
    claims = tuple(m.id for m in members if is_claim(m))
    in_order = sorted(members, key=lambda m: (not is_claim(m), m.id))
    opening = _COUNTS.get(len(members), f"These {len(members)} cannot all be true")
    said = "; ".join(f"{_clean(m.sentence)}{_source(m, sources)}" for m in in_order)
    return Contradiction(
        id="clash:" + "+".join(m.id for m in in_order),
        sentence=f"{opening}: {said}.{_because(in_order, chain)}",
        claims=claims,
        items=tuple(m.id for m in in_order if not is_claim(m)),
        facts=_all(m.facts for m in in_order),
        observations=_all(m.observations for m in in_order),
        ways_out=tuple(_way_out(m) for m in in_order),
        hard=all(m.hard for m in members),
    )


def in_full(clash: Contradiction) -> str:
    """The sentence with its ways out: "... Either ... or ..."."""
    return f"{clash.sentence} {either(clash.ways_out)}".rstrip()


def either(ways: Sequence[str]) -> str:
    """Ways out as one sentence: "Either it is plated: say so, or name the parts."; empty when there is none."""
    if len(ways) < 2:
        return "".join(f"{way[:1].upper()}{way[1:]}." for way in ways)
    return f"Either {', or '.join(ways)}."


def is_claim(item: EvidenceItem) -> bool:
    """True when the item is a label's claim put in the form of an item, not evidence."""
    return item.claims == (item.id,)


def _clean(sentence: str) -> str:
    return sentence.strip().rstrip(".")


def _source(item: EvidenceItem, sources: Mapping[str, str]) -> str:
    named = [sources[key] for key in (item.id, *item.facts) if key in sources]
    return f" (source: {'; '.join(dict.fromkeys(named))})" if named else ""


def _because(members: Sequence[EvidenceItem], chain: tuple[Link, ...]) -> str:
    """The chain links a clash between different events rests on."""
    events = sorted({place_of(m)[1] for m in members})
    paths = [links_between(chain, a, b) for a in events for b in events if a != b]
    longest = max(paths, key=len, default=())
    if not longest:
        return ""
    return (
        " "
        + " and ".join(
            f"{event_words(a)} cannot come after {event_words(b)}" for a, b in itertools.pairwise(longest)
        ).capitalize()
        + "."
    )


def _way_out(item: EvidenceItem) -> str:
    part, event = place_of(item)
    on = f" of the {part}" if part else ""
    if is_claim(item):
        return f"the label is wrong about {event_words(event)}{on}"
    if item.binding:
        return f"what “{_clean(item.sentence)}” rests on is not original to {event_words(event)}{on}, or was misread"
    return f"what “{_clean(item.sentence)}” rests on was misread, added later or copied"


def _all(groups: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    seen: dict[str, None] = {}
    for group in groups:
        for name in group:
            seen.setdefault(name)
    return tuple(seen)
