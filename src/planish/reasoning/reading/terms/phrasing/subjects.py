"""Which of the things named before a word is told of: the subject of "is", what stands at a place, what is named ahead."""

from itertools import pairwise

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Grammar
from planish.reasoning.reading.terms.phrasing.phrase import Phrase
from planish.reasoning.reading.tokens import LOWER, Tokens

LAID_ON = frozenset({"veneered", "laid", "overlaid", "stretched"})
""" "walnut veneered on pine": what lies on it and what it lies on are both of the thing."""
_THAT = frozenset({"that", "which", "who"})
_HANGING = frozenset({"on", "of", "with", "in"})
_WHOLE = Phrase("", 0, 0, False, "", [], set())
_GOES_ON = frozenset({"and", "with", "of", "to", "in", "on", "is", "are"})


def told_of(phrase: Phrase, before: Phrase, tokens: Tokens) -> str:
    """ "The lid to the till is elm", "the front, with lock and key, is carved": what is said is said of the first."""
    if not _THAT.isdisjoint(tokens.low[before.last : phrase.first]):
        return before.part
    while (
        before.relation in _HANGING
        and before.before is not None
        and tokens.sentence[before.before.first] == tokens.sentence[phrase.first]
    ):
        before = before.before
    return before.part


def held_by(phrase: Phrase, before: Phrase, low: list[str]) -> Phrase:
    """ "handles to the drawers in brass": what stands behind a place is of what stands there, and behind a comma of the whole."""
    if before.relation != "on" or before.before is None or low[phrase.first - 1] != "in":
        return before
    if "," in low[before.last : phrase.first]:
        return _WHOLE
    return before.before if before.told == "the" and before.before.part else before


def give_ahead(phrases: list[Phrase]) -> None:
    """ "the silver of the mounts": a substance alone is that of the part named right behind it."""
    for phrase, after in pairwise(phrases):
        if (
            after.relation == "of"
            and after.noun
            and after.first - phrase.last <= 2
            and phrase.told == "the"
            and not phrase.noun
            and not phrase.part
            and phrase.sides == {"material"}
        ):
            phrase.part = after.part or ("" if after.whole else after.noun)


def mended_with(phrase: Phrase, before: Phrase) -> bool:
    """ "One hole plugged with lead": what it was mended with."""
    last = before.hits[-1] if before.hits else None
    told = last is not None and last.side == "state" and last.entry.value.kind in ("restored", "altered")
    return told and last is not None and last.last == before.last and phrase.first - before.last <= 2


def what_is_praised(praise: Hit, tokens: Tokens, grammar: Grammar) -> str:
    """ "in her original shoes": a word that no list has, up to the end of its clause, is what the praise is of."""
    low = tokens.low
    noun = low[praise.last] if praise.last < len(low) else ""
    after = low[praise.last + 1] if praise.last + 1 < len(low) else "."
    ends = not after[0].isalnum() or after in _GOES_ON
    plain = noun.isalpha() and len(noun) > 3 and not noun.endswith(("ed", "ing", "ly"))
    known = noun in grammar.classes or noun in grammar.whole
    return noun if plain and ends and not known and tokens.cap[praise.last] == LOWER else ""
