"""Dates as first read that the words around them take back: a verb told with them, a model's year."""

import re
from dataclasses import replace

from planish.reasoning.reading.lexicon import Lexicon
from planish.records import Claim, DateValue, Span


def after_the_thing(claim: Claim, lexicon: Lexicon) -> Claim:
    """ "mounted tortoiseshell tea caddy, Regency": a verb with a thing between it and the date tells nothing of the date.

    "hammered, c. 1900": the verb tells how it was made as well, and is left to be read so.
    """
    value = claim.value
    if not isinstance(value, DateValue) or not value.said:
        return claim
    if value.event == "body_made" and value.said.lower() in _BY_HAND:
        head, _, tail = claim.words.partition(" ")
    else:
        head, comma, tail = claim.words.rpartition(",")
        patent = value.event == "registered" and value.approximate  # the year of a patent is known
        if not comma or not (patent or _holds_a_thing(head.split(), lexicon)):
            return claim
    if not tail.strip() or any(c.isdigit() for c in head):
        return claim
    words = tail.strip()
    start = claim.span.end - len(tail.lstrip())
    value = replace(value, event="body_made", said="")
    return replace(claim, value=value, words=words, span=Span(start, start + len(words)))


def _holds_a_thing(words: list[str], lexicon: Lexicon) -> bool:
    """ "mounted tortoiseshell tea caddy", "mounted clock"; "later painted" holds none."""
    if len(words) != 2:
        return len(words) > 2
    node = lexicon.root.get(words[1].lower())
    return node is not None and any(entry.side == "object" for entry in node.entries)


def without_buyers(dates: tuple[Claim, ...], text: str) -> tuple[Claim, ...]:
    """ "A box for the Ottoman market": who bought it, and not when it was made."""
    return tuple(claim for claim in dates if not _BUYERS.match(text, claim.span.end))


_BUYERS = re.compile(r" (?:markets?|trade|buyers|clientele|customers)\b")
_BY_HAND = frozenset(
    {"hammered", "beaten", "spun", "raised", "carved", "woven", "forged", "blown", "wrought", "turned"}
)


def only_on_the_model(dates: tuple[Claim, ...], text: str) -> tuple[Claim, ...]:
    """ "dated 1649 but a later cast": the date is lettering taken over from the model, and the cast is no older."""
    copied = max(
        (
            claim.value.years.earliest or 0
            for claim in dates
            if isinstance(claim.value, DateValue)
            and claim.value.event in ("cast", "copied")
            and "later" in claim.value.said
        ),
        default=0,
    )
    if not copied:
        return dates
    return tuple(_as_lettering(claim) if _is_dated(claim, copied, text) else claim for claim in dates)


def _is_dated(claim: Claim, copied: int, text: str) -> bool:
    value = claim.value
    told = text[max(0, claim.span.start - 6) : claim.span.start].rstrip().endswith(("date", "dated"))
    return (
        isinstance(value, DateValue)
        and value.event == "body_made"
        and (value.said == "dated" or (told and not value.approximate))
        and value.years.latest is not None
        and value.years.latest <= copied
    )


def _as_lettering(claim: Claim) -> Claim:
    assert isinstance(claim.value, DateValue)
    return replace(claim, side="inscription", value=replace(claim.value, event="inscribed"))
