"""A label that names no thing, only bronze and who made it: "Diana, by M. Ashcombe, 1923, bronze" is a bronze, a sculpture."""

from collections.abc import Iterable

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.terms.naming.credits import MakerFound
from planish.reasoning.reading.tokens import Tokens
from planish.records import TermValue, freeze

A_BRONZE = TermValue(
    term="bronze", kind="sculpture", more=freeze({"is_a": ("sculpture",), "measured": "height"})
)
"""What the trade calls a sculpture of bronze (common practice, no source)."""
_ENDS = frozenset({"", "\n", ",", ".", ";", "("})
_ON = frozenset({"on", "with", "and"})
_SHOWS = frozenset({"portrait", "nude", "fountain"})


def lone_bronze(hits: list[Hit], makers: Iterable[MakerFound], tokens: Tokens) -> Hit | None:
    """The word for bronze that stands for the thing itself: bronze is all that the whole is made of, its line or clause
    begins with the word, nobody's name for a thing stands anywhere, and a maker is named."""
    found: Hit | None = None
    for hit in hits:
        if hit.side == "object" and not hit.mention and hit.entry.value.term not in _SHOWS:
            return None
        if hit.side != "material" or hit.part or hit.strength == "denied":
            continue
        if not hit.entry.value.term.endswith("bronze"):
            return None
        found = found or hit
    if found is None or found.strength or not _stands_alone(found, tokens.low):
        return None
    return found if any(one.value.name != "unknown" for one in makers) else None


def _stands_alone(hit: Hit, low: list[str]) -> bool:
    before = low[hit.first - 1] if hit.first else ""
    after = low[hit.last] if hit.last < len(low) else ""
    return before in _ENDS and (after in _ENDS or after in _ON)
