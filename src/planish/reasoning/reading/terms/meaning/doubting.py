"""What is only probable, only possible, asked about or once true: "probably Dutch", "brass (?)", "brass or bronze"."""

from itertools import pairwise

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.tokens import Tokens

_DOUBT = dict.fromkeys(
    ("possibly", "perhaps", "maybe", "could", "might", "may", "conceivably", "arguably"), "possible"
)


_ANSWERED_BY = frozenset({"by", "from", "after", "with", "signed", "made", "dated"})
"""Words after which a question asks about a name or a date, no longer about what the thing is."""
_ONCE = frozenset({"formerly", "once", "previously"})


def _doubt_questions(hits: list[Hit], tokens: Tokens) -> None:
    """ "Norfolk latten candlestick?": every place and substance asked about is only possible."""
    asked = {
        tokens.sentence[i]
        for i, word in enumerate(tokens.low)
        if word == "?" and tokens.low[i - 1 : i] != ["("]
    }
    for hit in hits:
        if hit.side in ("place", "material") and tokens.sentence[hit.first] in asked:
            last = hit.last
            while (
                last < len(tokens) and tokens.low[last][0].isalnum() and tokens.low[last] not in _ANSWERED_BY
            ):
                last += 1
            if tokens.low[last : last + 1] == ["?"]:
                hit.strength = hit.strength or "possible"


def settle_alternatives(hits: list[Hit], tokens: Tokens) -> None:
    """ "Dutch or Flemish", "brass or bronze": each is possible."""
    if "or" not in tokens.words:
        return
    for one, other in pairwise(hits):
        if (
            one.side == other.side
            and one.side in ("material", "place", "object", "technique")
            and tokens.low[one.last : other.first] == ["or"]
        ):
            one.strength, other.strength = one.strength or "possible", other.strength or "possible"


ASKED = frozenset({"material", "place", "part", "object", "mark", "surface", "state", "form"})


def settle_doubts(hits: list[Hit], tokens: Tokens) -> None:
    """ "Probably Dutch", "possibly bronze", "brass (?)": the word beside is likely or possible."""
    low = tokens.low
    asks = "?" in tokens.words
    if asks:
        _doubt_questions(hits, tokens)
    for k, hit in enumerate(hits):
        if hit.side in ("surface", "technique") and hit.first and low[hit.first - 1] in _ONCE:
            hit.strength = "denied"
        if hit.side == "doubter" and k + 1 < len(hits) and hits[k + 1].first - hit.last <= 1:
            hits[k + 1].strength = hits[k + 1].strength or _DOUBT.get(low[hit.first], "likely")
        if asks and hit.side in ASKED:
            after = low[hit.last : hit.last + 3]
            if after[:1] == ["?"] or after == ["(", "?", ")"]:
                hit.strength = hit.strength or "possible"
