"""What a label must say and does not: where the words that somebody carries go in, and how they join what stands there."""

from collections.abc import Sequence
from dataclasses import dataclass

from planish.records import Claim, DateValue, Side, TermValue

SENTENCES = ("state", "technique", "measure")
"""Sides that come in as a sentence of their own."""


@dataclass(frozen=True, slots=True)
class Insertion:
    """Characters `start` to `end` (not included) of the label as hung become `words`."""

    start: int
    end: int
    words: str


def insertion(side: str, words: str, text: str, claims: Sequence[Claim]) -> Insertion | None:
    """Where `words` of `side` go in: material before the name, maker after it, place before the date, date after the place.

    None for sides that stand in a sentence of their own, and when the label names no object to stand beside.
    """
    name = next((c for c in claims if c.side == "object" and not c.part), None)
    if side in SENTENCES or name is None:
        return None
    if side == "material":
        return _before_name(name, words, text)
    if side == "maker":
        return Insertion(name.span.end, name.span.end, f" {words}")
    made = next((c for c in claims if _dates_making(c)), None)
    if side == "place" and made is not None and text[: made.span.start].endswith(", "):
        return Insertion(made.span.start, made.span.start, f"{words}, ")
    place = next((c for c in claims if c.side == "place" and not c.part), None)
    return _after(place.span.end if side == "date" and place else name.span.end, words, text)


def _before_name(name: Claim, words: str, text: str) -> Insertion:
    start = name.span.start
    first = text[start : start + 1]
    begins = not text[:start].strip() and isinstance(name.value, TermValue) and name.value.term[:1].islower()
    return Insertion(start, start + 1, f"{words} {first.lower() if begins else first}")


def _dates_making(claim: Claim) -> bool:
    value = claim.value
    return (
        claim.side == "date"
        and not claim.part
        and isinstance(value, DateValue)
        and value.event == "body_made"
    )


def _after(at: int, words: str, text: str) -> Insertion:
    tail = text[at:]
    stopped = not tail.strip() or tail[0] in ",;.:)" or tail.lstrip()[0] in "–—-|"
    return Insertion(at, at, f", {words}{'' if stopped else ','}")


def unsaid_id(side: Side) -> str:
    """The id of a claim that the label does not make: "unsaid.place"."""
    return f"unsaid.{side}"
