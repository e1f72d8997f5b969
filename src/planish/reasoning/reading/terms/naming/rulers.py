"""Rulers' names that date nothing: a given name, a giver, a patron."""

import re
from bisect import bisect_left, bisect_right
from dataclasses import replace

from planish.reasoning.reading.lexicon import Lexicon
from planish.reasoning.reading.terms.phrasing.lent import LETTERING
from planish.reasoning.reading.tokens import LOWER, Tokens
from planish.records import Claim, DateValue, TermValue

_PATRON = re.compile(
    r"\b(?:to|for|by|with)\s+(?:(?:h\.?\s?m\.?|his|her|majesty|the|late|king|queen|emperor|empress|prince|tsar|czar)\s+){0,5}$",
    re.IGNORECASE,
)
_BY = re.compile(r"\bby\s+(?:(?:king|queen|emperor|empress|prince|tsar|czar)\s+)?(?=[A-Z])")


def without_people(dates: tuple[Claim, ...], tokens: Tokens, lexicon: Lexicon) -> tuple[Claim, ...]:
    """Leave out rulers who are people of a story: George Wexcombe, given by George IV, maker to Queen Anne."""
    return tuple(
        claim
        for claim in dates
        if not (
            isinstance(claim.value, DateValue)
            and claim.value.period
            and (
                _is_given_name(claim, tokens, lexicon)
                or _acts(claim, claim.value, tokens.text)
                or _other_colony(claim, tokens)
                or _of_letters_or_schools(claim, tokens)
                or _is_surname(claim, tokens, lexicon)
                or _is_a_pattern(claim, tokens)
            )
        )
    )


def _other_colony(claim: Claim, tokens: Tokens) -> bool:
    """ "Indian colonial silver": the years of the American colonies are not those of others."""
    if claim.words.lower() != "colonial":
        return False
    at = bisect_left(tokens.start, claim.span.start)
    return at > 0 and tokens.low[at - 1] in _COLONIES


def _of_letters_or_schools(claim: Claim, tokens: Tokens) -> bool:
    """ "in fine Victorian script" is the hand of letters; "School of Arts and Crafts" a school."""
    at, after = bisect_left(tokens.start, claim.span.start), bisect_left(tokens.start, claim.span.end)
    taught = tokens.low[max(0, at - 2) : at] in _SCHOOLS
    return taught or (after < len(tokens) and tokens.low[after] in LETTERING)


_SCHOOLS = (["school", "of"], ["guild", "of"], ["college", "of"], ["schools", "of"])


def _is_surname(claim: Claim, tokens: Tokens, lexicon: Lexicon) -> bool:
    """ "by Henry Tudor": right behind a given name that follows "by", "for" or "of" it is a person's."""
    at = bisect_left(tokens.start, claim.span.start)
    if at < 2 or tokens.cap[at] == LOWER or " " in claim.words:
        return False
    return tokens.low[at - 1] in lexicon.given and tokens.low[at - 2] in ("by", "for", "of", "mark")


def _is_a_pattern(claim: Claim, tokens: Tokens) -> bool:
    """ "Hanoverian table forks", "Hanoverian rat-tail": the pattern of spoons and forks."""
    if claim.words.lower() != "hanoverian":
        return False
    at = bisect_left(tokens.start, claim.span.start)
    return any(
        word.startswith(("spoon", "fork", "tablespoon", "teaspoon", "ladle", "rat"))
        for word in tokens.low[at + 1 : at + 5]
    )


_COLONIES = frozenset(
    {"indian", "cape", "dutch", "australian", "british", "portuguese", "french", "german", "african", "east"}
)


def _acts(claim: Claim, value: DateValue, text: str) -> bool:
    """ "given by King George IV", "pewterer to George III": who gave or had it, no time of making."""
    if value.period.split(" ")[0] not in _RULERS:
        return False
    if value.years.earliest is None:
        return _BY.search(claim.words) is not None
    return _PATRON.search(text[max(0, claim.span.start - 40) : claim.span.start]) is not None


_RULERS = frozenset(
    {
        "George",
        "William",
        "Charles",
        "James",
        "Louis",
        "Anne",
        "Queen",
        "Mary",
        "Edward",
        "Elizabeth",
        "Henry",
        "Victoria",
        "Victorian",
    }
)


def _is_given_name(claim: Claim, tokens: Tokens, lexicon: Lexicon) -> bool:
    after = bisect_right(tokens.start, claim.span.end - 1)
    if after == 0 or after >= len(tokens) or tokens.low[after - 1] not in lexicon.reigns:
        return False
    word = tokens.low[after]
    gap = tokens.text[claim.span.end : tokens.start[after]]
    initial = len(word) == 1 and tokens.low[after + 1 : after + 2] == ["."]
    return gap == " " and tokens.cap[after] != LOWER and (initial or word not in lexicon.root)


def without_shown_rulers(dates: tuple[Claim, ...], tokens: Tokens, lexicon: Lexicon) -> tuple[Claim, ...]:
    """ "Henry IV as a child, 1822-1845": the name at the head of the label is the subject where every year told lies outside.

    "George I silver coffee pot, hallmarked 1911" is no such case: right before a word of the trade the name is the period
    claimed, and that the hallmark contradicts it is for the check to say.
    """
    first = dates[0] if len(dates) > 1 else None
    if first is None or first.span.start or not isinstance(first.value, DateValue) or not first.value.period:
        return dates
    reign = first.value.years
    told = [claim.value.years for claim in dates[1:] if isinstance(claim.value, DateValue)]
    if not told or any(years.meets(reign) for years in told) or _describes_a_thing(first, tokens, lexicon):
        return dates
    shown = replace(first, side="decoration", value=TermValue(term=first.words, kind="subject"))
    return (shown, *dates[1:])


def _describes_a_thing(claim: Claim, tokens: Tokens, lexicon: Lexicon) -> bool:
    """A word of the trade follows the name with nothing between."""
    after = bisect_left(tokens.start, claim.span.end)
    while after < len(tokens) and tokens.low[after] in _COLOURS:
        after += 1
    node = lexicon.root.get(tokens.low[after]) if after < len(tokens) else None
    return node is not None and any(entry.side in _OF_THINGS for entry in node.entries)


_COLOURS = frozenset(
    {"blue", "white", "and", "famille", "rose", "verte", "green", "red", "black", "yellow", "export"}
)
"""Colours of porcelain may stand between the period and the thing: "Kangxi blue and white brush pot"."""
_OF_THINGS = frozenset(
    {"object", "material", "surface", "technique", "decoration", "form", "part", "count", "puff"}
)
