"""Words beside a thing that are lent to something else: the place of a buyer, the hand of letters, the seat of a chair."""

from itertools import pairwise

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.terms.phrasing.phrase import Phrase
from planish.reasoning.reading.tokens import LOWER, Tokens

_BUYERS = frozenset(
    {"market", "markets", "trade", "court", "buyers", "customers", "clientele", "export", "retailer", "retailers", "dealer", "dealers", "collector", "collectors", "patron", "client", "officer", "merchant", "importer", "agent", "wholesaler", "family", "collection", "auction", "sale", "fair", "museum", "houses", "regiment", "yeomanry", "militia", "fusiliers", "hussars", "lancers", "dragoons", "volunteers", "rifles", "infantry", "cavalry", "artillery", "hunt", "races", "racecourse"}
)  # fmt: skip
""" "Made in Canton for the English market", "for the Russian court": who bought or won it, not where it was made."""
LETTERING = frozenset(
    {"lettering", "letters", "letter", "script", "characters", "numerals", "inscription", "alphabet", "text", "minuscule"}
)  # fmt: skip
""" "Gothic lettering", "Gothic numerals": the hand of the letters, no style of the thing."""


_TELLS = _BUYERS | LETTERING | {"from"}


def settle_buyers(hits: list[Hit], tokens: Tokens) -> None:
    """Pass over places of buyers and styles of letters."""
    low = tokens.low
    if _TELLS.isdisjoint(tokens.words):
        return
    for hit in hits:
        if (
            hit.side == "place"
            and low[max(0, hit.first - 2) : hit.first] in _FROM_A
            and _was_there(hit, tokens)
        ):
            hit.side = "coat"
        after = low[hit.last] if hit.last < len(low) else ""
        if (hit.side == "place" and after in _BUYERS) or (hit.side == "style" and after in LETTERING):
            hit.side = "coat"


_FROM_A = (["from", "a"], ["from", "an"], ["from", "the"])


def _was_there(hit: Hit, tokens: Tokens) -> bool:
    """ "From a Devon school": where the thing was kept, not where it was made."""
    after = hit.last
    return (
        after < len(tokens)
        and tokens.low[after].isalpha()
        and tokens.low[after] not in _MAKE
        and tokens.cap[after] == LOWER
    )


_MAKE = frozenset(
    {
        "workshop",
        "workshops",
        "foundry",
        "foundries",
        "manufactory",
        "factory",
        "works",
        "and",
        "or",
        "area",
        "region",
        "by",
        "in",
        "of",
        "district",
    }
)


def lends_its_shape(hit: Hit, phrase: Phrase) -> bool:
    """ "bucket bowl", "lemon squeezer foot": right before these parts of a thing already named, a thing only says what they look like."""
    head = phrase.head
    named = head is not None and head.side == "part" and phrase.before is not None
    if not named or head is None or hit.last != head.first:
        return False
    based = head.entry.value.term == "base" and hit.entry.value.term in _BASES
    return based or head.entry.value.term in _LIKE_THINGS


_BASES = frozenset({"saucer", "dish", "tray", "bell", "drum", "bucket", "box", "bowl", "trumpet", "plinth"})
_LIKE_THINGS = frozenset({"bowl", "foot", "stem", "blade"})


def substance_of_limb(limb: Hit, phrase: Phrase) -> None:
    """ "elm seat armchair", "brass dial longcase clock": the substance right before a plain part is the part's."""
    if limb.last - limb.first > 1 or limb.entry.value.term in _SHAPED_BY:
        return
    for hit in phrase.hits:
        if hit.side == "material" and hit.last == limb.first:
            hit.part = limb.entry.value.term


def substance_of_cover(phrase: Phrase, low: list[str]) -> None:
    """ "with silver domed cover": what stands right before a cover told by its shape is of the cover."""
    if "form" not in phrase.sides or phrase.part:
        return
    for k, shape in enumerate(phrase.hits):
        if shape.side != "form" or low[shape.last - 1] not in _COVERS or _made_behind(phrase, shape):
            continue
        at = shape.first
        for hit in reversed(phrase.hits[:k]):
            if hit.last != at or hit.side not in _OF_COVER:
                break
            hit.part, at = "cover", hit.first


def substance_of_ornament(phrase: Phrase, low: list[str]) -> None:
    """ "boxwood flowers and leaves", "silver scrolls": what ornament in the plural is made of."""
    if phrase.part or phrase.relation == "" or not phrase.sides >= {"material", "decoration"}:
        return
    for hit, shown in pairwise(phrase.hits):
        plural = low[shown.last - 1].endswith("s") and shown.side == "decoration" and not shown.entry.noun
        if hit.side == "material" and hit.last == shown.first and plural and not hit.part:
            hit.part = shown.entry.value.term


def _made_behind(phrase: Phrase, shape: Hit) -> bool:
    """ "Pewter domed lid tankard": the thing itself comes behind its cover."""
    return phrase.head is not None and phrase.head.first >= shape.last


_COVERS = frozenset({"cover", "covers", "lid", "lids"})
_OF_COVER = frozenset({"material", "surface", "technique", "decoration", "place"})
_SHAPED_BY = frozenset({"knop", "rim", "foot", "border", "edge", "stem", "terminal", "tail"})
"""Parts whose name says which kind of thing it is: a pewter rim plate is of pewter throughout."""


def place_of_what_is_shown(phrase: Phrase, head: Hit) -> None:
    """ "painted with a Chinese figure": the place right before what is shown is not where the thing was made."""
    for hit in phrase.hits:
        if hit.side == "place" and hit.last == head.first:
            hit.part = phrase.noun
