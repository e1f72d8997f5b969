"""Words that a word beside them keeps from claiming anything: "Walker plate", "model 0141", "three have lids"."""

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Grammar
from planish.reasoning.reading.terms.phrasing.phrase import Phrase
from planish.reasoning.reading.terms.phrasing.subjects import what_is_praised
from planish.reasoning.reading.tokens import LOWER, Tokens


def leave_compounds(phrase: Phrase, main: Phrase | None, tokens: Tokens, grammar: Grammar) -> None:
    """Pass over things that only name another, and numbers of some; give praise the noun that it is of."""
    low, classes = tokens.low, grammar.classes
    last = -1
    for hit in phrase.hits:
        if hit.side == "object" and hit.mention:
            before = low[hit.first - 1] if hit.first > phrase.first and hit.first != last else ""
            after = low[hit.last] if hit.last < len(low) else ""
            unknown = before.isalpha() and len(before) > 2 and before not in classes
            another = after in _ENDS and tokens.cap[hit.last] == LOWER  # "ring end", "whistle end"
            numbered = (
                after.isdigit()
                and hit.entry.value.term in _NUMBERED
                and low[hit.last + 1 : hit.last + 2] not in _SIZED
            )
            if unknown or another or numbered:
                hit.side = "coat"
        elif hit.side == "count" and _counts_some(hit, phrase, main, low):
            hit.side = "coat"
        elif hit.side == "count" and low[hit.last : hit.last + 1] in _INCHES:
            hit.side = "coat"  # "silvered circles, five inch"
        elif hit.side == "puff" and not hit.part and main not in (None, phrase):
            told = any(other.first == hit.last for other in phrase.hits)
            hit.part = "" if told else what_is_praised(hit, tokens, grammar)
        last = hit.last


def _counts_some(hit: Hit, phrase: Phrase, main: Phrase | None, low: list[str]) -> bool:
    """ "twelve compartments; three have lids", "four bells of six": some of what was named."""
    alone = phrase.hits == [hit] and not phrase.noun and main not in (None, phrase)
    counted = phrase.before is not None and "count" in phrase.before.sides
    if alone and counted and phrase.relation == "of":
        return True
    return alone and low[hit.last : hit.last + 1] in _HAVE


_INCHES = (["inch"], ["inches"], ["cm"], ["mm"])
_ENDS = frozenset(
    {"end", "ends", "motif", "device", "pattern", "shape", "action", "mechanism", "maker", "makers", "seller", "shop", "style"}
)  # fmt: skip
"""Before these a thing only says which kind it is."""
_NUMBERED = frozenset({"model", "lot", "plate", "case", "figure"})
_SIZED = (["x"], ["×"], ["by"], ["cm"], ["mm"], ["in"], ["ins"], ["inches"], ["."], ["½"], ["¼"])
_HAVE = (["have"], ["has"], ["are"], ["is"], ["were"], ["with"], ["retain"])
