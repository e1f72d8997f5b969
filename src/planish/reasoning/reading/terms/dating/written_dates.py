"""Years written on the thing: behind initials, a presentation, or a mark struck later."""

import re
from bisect import bisect_right

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.tokens import Tokens

_LETTERING = frozenset(
    {"inscription", "pricked", "engraved", "initials", "monogram", "punched", "incised", "wriggle-work"}
)
_LETTERS = re.compile(
    r"\s+(?:(?:with|the|owner's|initials|letters|monogram|of|for)\s+){0,4}"
    r"(?:(?:[A-Z]\.?\s?){1,4}|[A-Z][\w’']*\.?(?:\s+(?:and|&|of|to|the|from|[A-Z][\w’']*\.?)){1,8})[\s,]*"
    r"(?:(?:over|above)\s+(?:[A-Z]\.?\s?){1,4}[\s,]*)?(?:(?:and|&)\s+(?:the\s+)?(?:date|year)\s+)?(?:(?:over|above|below|beneath)\s+)?|\s+with\s+(?:the\s+|a\s+)?(?:date|year)\s+"
)
"""Initials, or a name of two words and more, between a word of lettering and the year. Linear: every part is bounded."""
_INITIALS = frozenset({"initials", "monogram", "inscription", "cypher"})
_BESIDE = re.compile(r"\s+(?:and|&|over|above|below|beneath)\s+(?:the\s+)?(?:date\s+|year\s+)?")
""" "initials and 1790", "initials above 1712"."""
AND_THE_DATE = frozenset({"and the date", "with the date", "with date"})
"""Words told with a year that stands among letters."""
_PRESENTED = re.compile(
    r"(?:\s|[A-Z][\w’']{0,20}[.,]?|(?:to|by|the|of|for|at|from|and|on|in|a)(?=\s)|[&,]){1,40}"
)
_RECEIVER = re.compile(r"(?:[^.,;:\n()]|,\s(?=[A-Z])|\.(?=\s?[A-Z])){1,90}(?:,\s)?")
"""To whom it was given, up to the year: "presented to the Bell Inn cricket club 1887"."""
STRUCK_LATER = frozenset(
    {
        "verification mark",
        "inventory number",
        "broad arrow",
        "paper label",
        "label",
        "dealer's label",
        "ownership mark",
    }
)


_GIVEN = re.compile(r"\binscription (?:to|by|from|for) [^,;:\n()]{2,50} $", re.IGNORECASE)


def given_on(text: str, start: int) -> bool:
    """ "presentation inscription to Capt. Rowe dated 1833"."""
    return _GIVEN.search(text, max(0, start - 70), start) is not None


def after_letters(tokens: Tokens, hits: list[Hit], starts: list[int], start: int, said: str) -> bool:
    """ "engraved M.H. 1754", "presented to A. Marsh, Fenwold Club 1871": the year is part of what is written."""
    at = bisect_right(starts, start)
    if said in AND_THE_DATE:
        return any(h.side in ("decoration", "inscription") for h in hits[max(0, at - 2) : at])
    for hit in reversed(hits[max(0, at - 3) : at]):
        gap = tokens.text[tokens.end[hit.last - 1] : start]
        if len(gap) > 90 or "\n" in gap or ";" in gap:
            return False
        if hit.side == "mark" and hit.entry.value.term in STRUCK_LATER and "," not in gap and len(gap) < 40:
            return True
        if hit.side == "inscription" and hit.entry.value.term == "presentation":
            given = tokens.low[hit.last - 1] in ("to", "by", "on") or gap.startswith((" to ", " by "))
            return (_RECEIVER if given else _PRESENTED).fullmatch(gap) is not None
        if hit.side == "decoration" and hit.entry.value.term in _INITIALS and _BESIDE.fullmatch(gap):
            return True
        if hit.side == "inscription" or (hit.side == "decoration" and hit.entry.value.term in _LETTERING):
            return _LETTERS.fullmatch(gap) is not None
    return False
