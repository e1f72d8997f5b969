"""What a phrase lends to its neighbours: a substance to the part it is of, a shape to the thing before it."""

from itertools import pairwise

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Entry
from planish.reasoning.reading.terms.phrasing.going_on import DEVICES
from planish.reasoning.reading.terms.phrasing.phrase import Phrase, is_motif
from planish.records import TermValue


def give_to_holder(phrases: list[Phrase]) -> None:
    """ "silk of the box worn", "leather of the handle": behind the thing itself, a bare substance "of" a part is the part's."""
    for before, phrase in pairwise(phrases):
        if (
            phrase.relation == "of"
            and phrase.before is before
            and before.before is not None
            and not before.noun
            and not before.part
            and before.sides == {"material"}
            and phrase.part
            and not phrase.likeness
            and phrase.head is not None
            and phrase.head.side in ("part", "object")
        ):
            before.part = phrase.part


def only_tells_a_shape(phrase: Phrase, head: Hit) -> bool:
    """ "Salts, cauldron, hoof feet": alone between commas behind the thing, such a word says which shape it has."""
    if len(phrase.hits) > 1 or head.entry.value.term not in _LENDING or phrase.told or phrase.joined:
        return False
    head.choose(Entry("form", TermValue(term=f"{head.entry.value.term}-shaped", kind="form")))
    return True


_LENDING = frozenset(
    {"lyre", "harp", "mushroom", "acorn", "tulip", "beehive", "chamber", "cauldron", "trencher", "urn", "vase", "barrel", "helmet", "bell", "lighthouse", "bucket", "basket", "capstan", "trumpet", "thistle", "boat", "drum"}
)  # fmt: skip


def carry_back(phrases: list[Phrase]) -> None:
    """ "ivory and silver handle", "a flared, hexagonal foot": a phrase without a noun, joined to the next or listed before
    it, speaks of what the next does."""
    after: Phrase | None = None
    for phrase in reversed(phrases):
        listed = after is not None and after.relation == "," and after.first - phrase.last == 1
        if after is not None and listed and _describes_next(phrase, after):
            phrase.part = after.part
        elif after is not None and after.joined and phrase.head is not None and _shares_a_part(phrase, after):
            phrase.head.part = after.part
        elif (
            after is not None
            and after.joined
            and not (after.head is not None and is_motif(after.head))
            and not phrase.noun
            and not phrase.made
            and phrase.relation == after.relation
            and after.first - phrase.last <= 2
            and (
                any(
                    side in phrase.sides and side in after.sides
                    for side in ("material", "place", "surface", "decoration")
                )
                or (_only_ornament(phrase) and _only_ornament(after))
            )
        ):
            phrase.part, phrase.likeness = after.part or phrase.part, after.likeness
        after = phrase


def _shares_a_part(phrase: Phrase, after: Phrase) -> bool:
    """ ", mask and scroll spandrels": one ornament alone behind a stop, one more with the part that bears both."""
    alone = phrase.head is not None and is_motif(phrase.head) and len(phrase.hits) == 1 and not phrase.told
    borne = after.head is not None and after.head.side == "part" and after.hits[0].side == "decoration"
    beside = after.first - phrase.last == 1 and phrase.relation in (",", ".")
    return alone and borne and beside and phrase.noun not in DEVICES


_ADJECTIVES = frozenset({"form", "puff"})
_AFTER_ARTICLE = frozenset({"a", "an", "the", "its"})


def _describes_next(phrase: Phrase, after: Phrase) -> bool:
    """ "A flared, hexagonal foot": adjectives behind an article, their noun behind the comma."""
    if any(hit.last - hit.first > 1 for hit in phrase.hits if hit.side == "form"):
        return False  # "with a domed cover, ivory handle": its noun is within the word
    opened = phrase.told in _AFTER_ARTICLE or phrase.relation == "with"
    headed = after.head is not None and after.head.side in ("part", "object")
    return (
        not after.told
        and opened
        and headed
        and not phrase.noun
        and not phrase.made
        and phrase.sides <= _ADJECTIVES
    )


def _only_ornament(phrase: Phrase) -> bool:
    """ "gadroon and shell border": ornament, and at most the part that bears it."""
    return "decoration" in phrase.sides <= {"decoration", "part"} and phrase.relation not in (
        "with",
        "in",
        "of",
    )


def past_shapes(before: Phrase | None) -> bool:
    """ "two pepper pots, lighthouse-shaped, and a mustard pot": over a shape told behind it, the thing before is the object."""
    while before is not None and before.head is None and before.sides == {"form"}:
        before = before.before
    return before is not None and before.whole


def only_meant_for(phrase: Phrase) -> None:
    """ "extinguisher for charcoal": what a thing is for is not what it is made of."""
    for hit in phrase.hits:
        hit.side = "coat" if hit.side == "material" else hit.side
