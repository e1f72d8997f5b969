"""Why words changed, as sentences about the object; what a qualifying word means here and elsewhere."""

import re
from collections.abc import Mapping, Sequence
from functools import cache

from planish.records import Claim, Finding, MakerValue

_SAID = {
    "falls": "The panel finds that “{words}” does not hold",
    "split": "The panel's views on “{words}” stay divided, so the label cannot say it",
    "no_quorum": "Too few could decide that “{words}” holds, and not all who did agree",
}


def finding_sentence(words: str, finding: Finding) -> str:
    """The panel's answer on a claim's own words, with its clause and without any count."""
    said = _SAID.get(finding.answer, "“{words}” is open").format(words=words)
    return f"{said}{f' (clause {finding.clause})' if finding.clause else ''}."


def sentence(words: str) -> str:
    """`words` as a sentence: a capital first, a full stop at the end."""
    text = " ".join(words.split())
    if not text:
        return ""
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "!", "?", ".”")) else f"{text}."


BEYOND_MAKERS = ("state", "count", "mark", "material", "surface", "technique", "decoration", "style")
"""Sides whose words may carry a definition of their own: "associated", "matched", "bears marks", "Sheffield plate"."""


def other_meanings(
    claims: Sequence[Claim], own: Mapping[str, str], others: Mapping[str, str]
) -> tuple[str, ...]:
    """For every defined word in use: what it means at this fair, and that it means something else elsewhere."""
    defined = sorted({*own, *others}, key=lambda word: (-len(word), word))
    found: dict[str, None] = {}
    for word in (word for claim in claims for word in _defined_in(claim, defined)):
        here = (
            f"“{word}” here means: {own[word]}" if word in own else f"“{word}” is not defined at this fair."
        )
        elsewhere = others.get(word, "")
        found[f"{here} Elsewhere: {elsewhere}" if elsewhere and elsewhere != own.get(word) else here] = None
    return tuple(found)


def _defined_in(claim: Claim, defined: Sequence[str]) -> tuple[str, ...]:
    """Defined words in which a claim is put; the longest of those that share characters."""
    if isinstance(claim.value, MakerValue):
        return tuple(word for word in (claim.value.qualifier,) if word in defined)
    if claim.side == "style":
        return tuple(word for word in ("style of",) if word in defined)
    words = claim.words.casefold() if claim.side in BEYOND_MAKERS and claim.strength != "denied" else ""
    found: list[str] = []
    for word in defined if words else ():
        if _whole(word.casefold()).search(words) and not any(word in longer for longer in found):
            found.append(word)
    return tuple(found)


@cache
def _whole(word: str) -> re.Pattern[str]:
    return re.compile(rf"(?<!\w){re.escape(word)}(?!\w)")
