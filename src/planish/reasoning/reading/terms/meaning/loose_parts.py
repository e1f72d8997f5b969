"""A label of a part alone: "Pewter lid, 18th century", "Clock dial": where no thing is named, the part is what is for sale."""

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Entry
from planish.reasoning.reading.tokens import Tokens
from planish.records import TermValue

_DESCRIBES = frozenset({"material", "surface", "technique", "form", "count", "puff", "place", "style"})
_OPENS = frozenset({"a", "an", "the", "-"})
_ENDS = frozenset({"", "\n", ",", ".", ";", "(", "by", "from", "for"})


def settle_loose_part(hits: list[Hit], tokens: Tokens, covered: bytearray) -> None:
    """Take the part that a label opens with, described or bare, as the thing itself when its line names no other."""
    part: Hit | None = None
    for hit in hits:
        if hit.side == "object":
            return
        if hit.side != "part" or (part is not None and _on_another_line(part, hit, tokens)):
            continue
        if part is not None:
            return
        part = hit
    if part is None or not _opens_the_label(part, hits, tokens, covered):
        return
    after = tokens.low[part.last] if part.last < len(tokens) else ""
    if after in _ENDS:
        part.choose(Entry("object", TermValue(term=part.entry.value.term, kind="loose part")))


def _on_another_line(part: Hit, hit: Hit, tokens: Tokens) -> bool:
    return "\n" in tokens.low[part.last : hit.first]


def _opens_the_label(part: Hit, hits: list[Hit], tokens: Tokens, covered: bytearray) -> bool:
    """True when nothing stands before it but what describes it: its substance, its place, its years."""
    at = 0
    for hit in hits:
        if any(not covered[i] and tokens.low[i] not in _OPENS for i in range(at, hit.first)):
            return False
        if hit is part:
            return True
        if hit.side not in _DESCRIBES:
            return False
        at = hit.last
    return False
