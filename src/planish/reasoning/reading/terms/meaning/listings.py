"""Lines that list substances, as records write a medium: there beads, nails or a mirror are what a thing is made of.

Anywhere else these words are things, parts or ornament: a "brass mirror" is a mirror.
"""

from bisect import bisect_left

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Lexicon
from planish.reasoning.reading.tokens import Tokens

_LISTS = frozenset({"material", "surface", "technique", "decoration", "joins", "coat", "form"})
"""Sides of the words that may stand in such a line; a thing, a place, a mark or a state makes it prose."""
_SEPARATE = frozenset({",", ";", "|", "/", "&", "+", "and", "with", "on", "over"})
_PROSE = frozenset(
    {
        "a",
        "an",
        "the",
        "its",
        "it",
        "this",
        "is",
        "are",
        "was",
        "has",
        "of",
        "by",
        "in",
        "each",
        "both",
        "one",
    }
)
_MANY = 2
"""Separators before a word from which even a line that stands alone is a list, and the word no compound noun's end."""


def settle_listings(hits: list[Hit], tokens: Tokens, lexicon: Lexicon, covered: bytearray) -> list[Hit]:
    """Choose the sense of a substance for each such word, but let "brass studs" be of brass. The coats so listed ("silver,
    gilding") are given back, for they stay coats as well."""
    low, listed = tokens.low, lexicon.listed
    coats: list[Hit] = []
    if tokens.words.isdisjoint(listed):
        return coats
    begin, end, lists, headed = 0, -1, False, False
    for k, hit in enumerate(hits):
        entry = listed.get(low[hit.last - 1])
        if entry is None or hit.side == "joins":
            continue
        if hit.first > end:
            begin, end = _line(hit.first, low)
            headed = any(one.side == "object" and one.first < begin for one in hits[:k])
            lists = _is_a_listing(hits, begin, end, tokens, lexicon, covered, headed)
        if not lists or not _is_an_item(hit, begin, end, low, headed, lexicon):
            continue
        described = k > 0 and hits[k - 1].last == hit.first and hits[k - 1].side == "material"
        substance = next((e for e in hit.entries if e.side == "material"), entry)
        if hit.side == "surface":
            coats.append(hit)
        elif not described:
            hit.choose(substance)
        elif not headed:
            hit.choose(next((e for e in hit.entries if e.side == "part"), substance))
    return coats


def _line(at: int, low: list[str]) -> tuple[int, int]:
    begin = end = at
    while begin and low[begin - 1] != "\n":
        begin -= 1
    while end < len(low) and low[end] != "\n":
        end += 1
    return begin, end


def _is_a_listing(
    hits: list[Hit], begin: int, end: int, tokens: Tokens, lexicon: Lexicon, covered: bytearray, headed: bool
) -> bool:
    """Substances between commas and the like, the first named before any thing unless a heading names it, no figures and no word of a sentence."""
    words = tokens.low[begin:end]
    if _SEPARATE.isdisjoint(words) or not _PROSE.isdisjoint(words) or 1 in covered[begin:end]:
        return False
    opened = False
    for hit in hits[bisect_left(hits, begin, key=_first) :]:
        if hit.first >= end:
            break
        known = tokens.low[hit.last - 1] in lexicon.listed
        if hit.side not in _LISTS and not known:
            return False
        if not (opened or headed) and hit.side in ("object", "part"):
            return False
        opened = opened or hit.side == "material"
    return opened


def _is_an_item(hit: Hit, begin: int, end: int, low: list[str], headed: bool, lexicon: Lexicon) -> bool:
    """Under a heading that names the thing every word of the line is an item. Standing alone, "giltwood and gesso mirror"
    is a mirror: there only a word right behind its separator is one, one late in the list, or several behind a comma."""
    before = low[begin : hit.first]
    after = low[hit.last] if hit.last < end else ","
    if not before or (after not in _SEPARATE and after not in lexicon.listed):
        return False
    if headed or before[-1] in _SEPARATE or sum(map(_SEPARATE.__contains__, before)) >= _MANY:
        return True
    return low[hit.last - 1].endswith("s") and "," in before


def _first(hit: Hit) -> int:
    return hit.first
