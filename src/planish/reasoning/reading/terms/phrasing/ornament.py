"""Things that are only shown, and where: pierced with urns, an urn finial, engraved on the lid with arms."""

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Entry
from planish.reasoning.reading.terms.phrasing.phrase import Phrase
from planish.reasoning.reading.tokens import Tokens
from planish.records import TermValue

WORKED = frozenset(
    {"engraved", "chased", "pierced", "painted", "embossed", "etched", "decorated", "cast", "carved", "printed", "punched", "incised", "stencilled", "repousse", "repoussé", "moulded", "enamelled"}
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


_VERBS = frozenset({"decoration", "technique"})
_LAID_ON = frozenset({"decoration", "surface"})
_ORNAMENT = _VERBS | {"surface", "count", "form", "puff", "mark"}
_UNDER = frozenset({"socle", "plinth", "plinth base", "stand", "wheel", "castors"})
"""What a figure stands on carries none of its ornament."""


def where_it_is(before: Phrase, place: Phrase, after: Phrase | None, part: str) -> None:
    """ "Engraved with scrolls and shells to the lid", "engraved on the lid with arms": what ornaments the lid."""
    shown = before if place.first - before.last <= 3 and part not in _UNDER else None
    if shown is not None and "surface" in shown.sides and place.told not in ("the", "its", "both"):
        return  # "gilt, on three feet"
    while shown is not None and shown.sides <= _ORNAMENT and not shown.sides.isdisjoint(_LAID_ON):
        _ornaments(shown, part)
        shown = shown.before if shown.joined or shown.relation == "with" else None
    told = after is not None and after.before is place and after.relation == "with" and before.sides <= _VERBS
    if told and after is not None and after.sides <= _ORNAMENT:
        _ornaments(after, part)


def _ornaments(phrase: Phrase, part: str) -> None:
    for hit in phrase.hits:
        counted = hit.side == "count" and phrase.relation == "on"  # "on three lion mask and paw feet"
        if hit.side in _VERBS or hit.side == "surface" or counted:
            hit.part = part


def head_of_a_beast(hit: Hit, tokens: Tokens) -> None:
    """ "A buck's head erased": behind a possessive a head is drawn on the thing."""
    owner = tokens.low[hit.first - 1] if hit.first else ""
    if owner.endswith(("'s", "’s", "s'", "s’")):
        hit.first -= 1
        hit.choose(Entry("decoration", TermValue(term=f"{owner} head", kind="motif")))


def amid_ornament(hits: list[Hit], k: int, low: list[str]) -> bool:
    """ "scroll and floral ground", "foliate scroll relief", "outer scroll cartouches": among ornament it is one."""
    hit = hits[k]
    beside = [hits[k - 1]] if k and low[hits[k - 1].last : hit.first] in ([], ["and"], ["&"]) else []
    if k + 1 < len(hits) and low[hit.last : hits[k + 1].first] in ([], ["and"], ["&"]):
        beside.append(hits[k + 1])
    return any(any(entry.side == "decoration" for entry in other.entries) for other in beside)
