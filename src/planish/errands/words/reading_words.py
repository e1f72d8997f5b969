"""Words given in place of a claim, read as a label is read, so that nothing is carried that nobody can read."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache
from typing import Any

from planish.errands.opening.wiring import Kit
from planish.facts.words import WordBook
from planish.reasoning.reading import read
from planish.reasoning.wording.lattice import Slots, with_slots
from planish.records import Claim, ClaimValue, DateValue, MakerValue, Side, TermValue, freeze

AS_GIVEN = ("count", "object", "state", "mark", "inscription", "decoration", "technique", "surface")
"""Sides whose words stand as they were given."""
ALSO_AS: Mapping[Side, tuple[Side, ...]] = {
    "decoration": ("state",),
    "technique": ("state", "decoration"),
    "surface": ("state",),
}
"""Sides that say of a claim what was done to it later: "later chased" in place of "chased"."""


def instead_value(claim: Claim, instead: Mapping[str, str], kit: Kit) -> ClaimValue | None:
    """What somebody would sign in place of `claim`; None when the words make no claim of that side.

    `instead` holds qualifier and name (makers), term (materials, places, techniques), or words, which are read as a
    label is read.
    """
    if isinstance(claim.value, MakerValue) and ("qualifier" in instead or "name" in instead):
        word = instead.get("qualifier", "by")
        slots = qualifiers(kit.words).get(word)
        if slots is None:
            return None
        name = instead.get("name", claim.value.name)
        return with_slots(replace(claim.value, name=name, qualifier=word), slots)
    said = instead.get("words") or instead.get("term", "")
    if not said:
        return None
    found = read(said, words=kit.words, conventions=kit.rules.conventions).claims
    sides = (claim.side, *ALSO_AS.get(claim.side, ()))
    same = [c for c in found if c.side in sides]
    if not same:
        return None
    value = same[0].value
    if claim.side in AS_GIVEN:
        return TermValue(term=said, kind=claim.side, more=freeze({"words": said}))
    if isinstance(value, DateValue) and isinstance(claim.value, DateValue) and not value.said:
        return replace(
            value, event=claim.value.event
        )  # other years for the same event: "re-tinned about 1800"
    if isinstance(value, TermValue) and same[0].words == said.strip():
        return replace(value, more=freeze({**value.more, "words": said.strip()}))
    return value


@cache
def qualifiers(words: WordBook) -> Mapping[str, Slots]:
    """Every qualifying word on file, synonyms too, with its four slots."""
    return {str(word): slots_of(entry) for entry in qualifying(words) for word in entry["words"]}


def qualifying(words: WordBook) -> Iterable[Mapping[str, Any]]:
    """Entries of qualifying words, in the order of preference."""
    entries: Iterable[Mapping[str, Any]] = words.tables.get("makers", {}).get("qualifier", ())
    return entries


def slots_of(entry: Mapping[str, Any]) -> Slots:
    """The four slots of one entry; what it leaves out is open."""
    hand, workshop, period, copies = (
        str(entry.get(slot, "open")) for slot in ("hand", "workshop", "period", "copies")
    )
    return hand, workshop, period, copies
