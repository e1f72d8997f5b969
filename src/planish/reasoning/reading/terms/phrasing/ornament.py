"""Things that are only shown: pierced with urns, an urn finial."""

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Entry
from planish.reasoning.reading.terms.phrasing.phrases import Phrase
from planish.records import TermValue

WORKED = frozenset(
    {"engraved", "chased", "pierced", "painted", "embossed", "etched", "decorated", "cast", "carved", "printed", "punched", "incised", "stencilled", "repousse", "moulded", "enamelled"}
)  # fmt: skip


def as_ornament(head: Hit, part: str) -> None:
    """A thing that is only shown."""
    head.choose(Entry("decoration", TermValue(term=head.entry.value.term, kind="motif")))
    head.part = part


_CROWNING = frozenset({"finial", "knop", "knob", "thumbpiece", "terminal", "boss", "cresting"})


_FINIALS = frozenset(
    {"urn", "corkscrew", "vase", "bell", "lamp", "torch", "lantern", "helmet", "ball", "mitre", "crown", "coronet", "book", "basket", "barrel", "bucket", "anchor", "cannon", "cross", "cup", "shield", "sword", "bottle", "jar", "horn"}
)  # fmt: skip
"""Things whose shape crowns other things."""


def shape_what_crowns(phrase: Phrase) -> None:
    for hit in phrase.hits:
        if _crowns(hit, phrase):
            as_ornament(hit, phrase.part)


def _crowns(hit: Hit, phrase: Phrase) -> bool:
    """ "urn finials": a thing right before what crowns another is its shape."""
    head = phrase.head
    return (
        head is not None
        and hit is not head
        and hit.side == "object"
        and hit.entry.value.term in _FINIALS
        and head.entry.value.term in _CROWNING
        and hit.last == head.first
    )
