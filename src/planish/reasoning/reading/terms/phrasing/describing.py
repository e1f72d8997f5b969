"""Which part each word of a phrase speaks of: substance, shape, ornament, count, state, and which word claims nothing."""

from itertools import pairwise

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.terms.phrasing.lent import lends_its_shape, substance_of_limb
from planish.reasoning.reading.terms.phrasing.ornament import shape_what_crowns
from planish.reasoning.reading.terms.phrasing.phrase import Phrase, is_motif
from planish.reasoning.reading.terms.phrasing.telling import only_how_bad

_LOOK = frozenset({"material", "place", "surface", "puff"})
_OF_PARTS = frozenset({"material", "surface", "technique", "decoration"})


def _pass_over_shapes(phrase: Phrase) -> None:
    """ "Pierced for hanging", "holding a ball": no shape of it."""
    shaped = phrase.hits[-1].entry.value.term == "form" if phrase.hits else False
    some = phrase.told in ("one", "two") and "material" in phrase.sides  # "two small mosaics"
    if not shaped and (
        phrase.relation == "for" or (phrase.told in ("a", "an") and phrase.relation == "with") or some
    ):
        for hit in phrase.hits:
            hit.side = "coat" if hit.side == "form" else hit.side


def _pass_over_words_beside(phrase: Phrase) -> None:
    """Two words side by side of which one only says what the other is: "oval form", "small dents"."""
    for shape, word in pairwise(phrase.hits):
        if word.first != shape.last:
            continue
        if shape.side == "form" and word.entry.value.term == "form":
            word.side = "coat"
        elif shape.side == "form" and word.side == "form" and word.entry.value.term == "pedestal foot":
            shape.part = "foot"  # "square pedestal foot"
        elif word.side == "state" and only_how_bad(shape, word, phrase):
            shape.side = "coat"


def _pass_over_single_things(phrase: Phrase) -> None:
    """ "an incised line with a reed", "carries a cane": one of them is a thing seen there, no substance."""
    if phrase.told in ("a", "an") and phrase.head is None and not phrase.noun and len(phrase.hits) == 1:
        hit = phrase.hits[0]
        if hit.side == "material" and hit.entry.value.term in _SINGLE:
            hit.side = "coat"


_SINGLE = frozenset(
    {"reed", "straw", "cane", "tassel", "wire", "cord", "rope", "string", "bead", "tooth", "feather", "shell", "ribbon", "fringe", "quill", "claw"}
)  # fmt: skip


def describe(phrase: Phrase) -> None:
    """Give every word of a phrase the part it speaks of, and say which claims nothing."""
    head = phrase.head
    if head is None and (phrase.told or phrase.relation == "for"):
        _pass_over_single_things(phrase)
        _pass_over_shapes(phrase)
    if len(phrase.hits) > 1:
        _pass_over_words_beside(phrase)
        shape_what_crowns(phrase)
    for hit in phrase.hits:
        side = hit.side
        if side in _MAY_SAY_NOTHING and _says_nothing(hit, phrase):
            hit.side = "coat"
        elif side == "object":
            hit.mention = hit is not head or not phrase.whole
        elif (
            phrase.likeness and (side in _LOOK or is_motif(hit)) and not (phrase.whole and side == "material")
        ):
            hit.side, hit.likeness = "style", True
        elif side == "part":
            hit.part = hit.entry.value.term
            hit.mention = phrase.likeness or (
                head is not None and head.side == "object" and hit.first < head.first
            )
            if hit.mention and not phrase.likeness:
                substance_of_limb(hit, phrase)
        elif side == "form" and head is not None and is_motif(head):
            hit.part = phrase.noun if hit.first < head.first else ""
        elif hit is head or hit.part or not phrase.part:
            continue
        else:
            hit.part = _part_within(hit, phrase)


def _part_within(hit: Hit, phrase: Phrase) -> str:
    """The part that a describing word takes from its phrase, "" where it speaks of the whole."""
    head = phrase.head
    before = head is not None and hit.first < head.first
    if hit.side == "state":
        return _state_of(hit, phrase)
    if hit.side == "mark":
        return phrase.part if hit.verb and before else ""
    if hit.side == "puff":
        behind = head is not None and hit.first == head.last and hit.last == phrase.last
        told = head is None and phrase.relation == "is" and hit.last == phrase.last
        return phrase.part if before or behind or told else ""
    if hit.side == "count":
        return phrase.part if phrase.noun and (head is None or before) else ""
    return phrase.part if _speaks_of_the_noun(hit, phrase) else ""


_MAY_SAY_NOTHING = frozenset({"count", "material", "object", "part"})


def _says_nothing(hit: Hit, phrase: Phrase) -> bool:
    """A number of nobody knows what, a thing that only lends its shape, a word of place before a part ("front legs")."""
    if hit.side == "count":
        return _counts_nothing(hit, phrase)
    if hit.side == "material":
        head = phrase.head
        plain = hit.entry.value.term in ("silver", "gold")
        struck = plain and head is not None and head.side == "mark" and hit.last == head.first
        return (
            struck
            and head is not None
            and (head.entry.value.kind in _STRUCK or head.entry.value.term == "mark")
        )
    if hit.side == "object" and phrase.likeness and hit.entry.value.term == "model":
        return True  # "after a 16th century model"
    if hit.side == "object":
        return _only_a_shape(hit, phrase) or lends_its_shape(hit, phrase) or _only_says_which(hit, phrase)
    placed = hit.side == "part" and hit is not phrase.head and hit.entry.value.term in _PLACED
    return placed and not phrase.likeness and _next_is_noun(hit, phrase)


_STRUCK = frozenset({"hallmark", "touch"})
""" "silver maker's marks" are marks of silver, and are not of silver."""


def _speaks_of_the_noun(hit: Hit, phrase: Phrase) -> bool:
    """Substance, surface and ornament always; a shape before the noun; a place before it, or where the part is set apart."""
    head = phrase.head
    before = head is not None and hit.first < head.first
    if hit.side == "style":
        return before
    if hit.side == "form" and head is None and not phrase.noun:
        return phrase.relation in ("of", "is", "with") or phrase.told != ""
    if hit.side == "form":
        told = head is None and (phrase.relation == "is" or _before_its_substance(hit, phrase))
        return before or told or (head is not None and hit.first == head.last and hit.last == phrase.last)
    if hit.side != "place":
        return hit.side in _OF_PARTS
    if head is not None and head.entry.value.kind == "registration":
        return False
    return before or phrase.told == "the" or phrase.headed_first or (head is None and not phrase.noun)


_PLACED = frozenset(
    {"leaf", "front", "back", "sides", "top", "bottom", "inside", "interior", "exterior", "edge"}
)


def _before_its_substance(shape: Hit, phrase: Phrase) -> bool:
    """ "drawer linings made of solid oak"."""
    return any(other.first == shape.last and other.side == "material" for other in phrase.hits)


def _next_is_noun(hit: Hit, phrase: Phrase) -> bool:
    """ "front legs": a word of place before a part is no part of its own."""
    return any(other.first == hit.last and other.side in ("part", "object") for other in phrase.hits)


def _only_a_shape(hit: Hit, phrase: Phrase) -> bool:
    """ "lion head finial": the head is what the finial looks like, no thing of its own."""
    if hit is phrase.head or hit.side != "object":
        return False
    after = next((other for other in phrase.hits if other.first == hit.last), None)
    if after is None or after.side not in ("part", "object"):
        return False
    return hit.entry.value.term == "head" or (
        after.side == "part" and after.entry.value.term.rsplit(" ", 1)[-1] in _SHAPED_LIKE_THINGS
    )


def _only_says_which(hit: Hit, phrase: Phrase) -> bool:
    """ "desk calendar", "candle box": a thing right before the thing itself only says which kind it is."""
    head = phrase.head
    return head is not None and head.side == "object" and hit is not head and hit.last == head.first


_SHAPED_LIKE_THINGS = frozenset(
    {
        "foot",
        "stem",
        "nozzle",
        "socket",
        "fitting",
        "border",
        "back",
        "top",
    }
)
"""Parts that are made in the shape of things: trumpet foot, bayonet top, easel back."""


def _counts_nothing(hit: Hit, phrase: Phrase) -> bool:
    """ "four with orb mark": a bare number under no noun counts nobody knows what."""
    shown = phrase.head is not None and is_motif(phrase.head) and hit.first < phrase.head.first
    on_part = phrase.part and phrase.relation != "with"  # "stand with three dolphins"
    counted = hit.entry.value.term == "pair" or (hit.entry.value.kind == "number" and not on_part)
    if shown and counted and phrase.relation not in ("", "."):
        return True  # "a pair of dolphins" upon it
    after = next((other for other in phrase.hits if other.first == hit.last), None)
    if (
        hit.entry.value.kind == "number"
        and after is not None
        and after.entry.value.kind == "gem"
        and not phrase.noun
    ):
        return True  # "hilt with three rubies"
    alone = len(phrase.hits) == 1 and not phrase.noun
    return alone and hit.entry.value.kind == "number" and phrase.relation not in ("", ".", "of")


def _state_of(hit: Hit, phrase: Phrase) -> str:
    """The part that a state's own phrase gives it: "later twin fusee movement", "mirror pieces lost", "(one chipped)"."""
    head, part = phrase.head, phrase.part
    if head is None:
        known = phrase.noun and (hit.last == phrase.last or hit.first == phrase.first)
        return part if known or (phrase.relation in ("(", ",", "is", "with") and part) else ""
    if hit.first < head.first:
        return part if head.side in ("object", "part", "mark") else ""
    return part if head.side == "object" and hit.last == phrase.last else ""
