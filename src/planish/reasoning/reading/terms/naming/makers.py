"""Makers: a qualifier with its four slots and the name after it; a bare name; a name with its role in brackets."""

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Entry
from planish.reasoning.reading.terms.naming.credits import (
    MakerFound,
    belongs_to,
    name_before,
    role_in_brackets,
)
from planish.reasoning.reading.terms.naming.names import SHIPS, Name, NameFinder
from planish.reasoning.reading.tokens import CAPITAL, LOWER
from planish.records import MakerValue, Strength

_QUOTES = "\"'“”‘’"
_BETWEEN = frozenset(
    {
        "the",
        "a",
        "one",
        "either",
        ":",
        "silversmith",
        "pewterer",
        "maker",
        "founder",
        "firm",
        "sculptor",
        "of",
    }
)
"""Words between "by" and the name; the A of A. Bray is none."""
_STRUCK = frozenset({"stamped", "marked", "impressed", "branded"})


def find_makers(finder: NameFinder, names: list[Name], silent: set[int]) -> list[MakerFound]:
    """Every maker claimed. `silent` are tokens of stories and inscriptions, where a name is no maker."""
    found: list[MakerFound] = []
    taken: set[int] = set()
    places = {name.first for name in names if name.kind == "place"}
    people = {name.first: name.last for name in reversed(names) if name.kind != "place"}
    for hit in finder.hits:
        maker = None
        of_place = hit.last in places and hit.entry.value.term in _STRUCK  # "stamped St Mary's Church"
        if (
            hit.side == "qualifier"
            and hit.first not in silent
            and not (of_place or _tells_the_giver(finder, hit))
        ):
            maker = _qualified(finder, hit, people, silent) or _qualified_behind(finder, hit)
        elif hit.side == "unknown" and hit.first not in silent:
            maker = _unknown(finder, hit)
        if maker is not None and maker.value.name not in _PEOPLES:
            found.append(maker)
            taken.update(range(maker.first, maker.last))
    for name in names:
        if name.first in taken or name.first in silent or name.kind == "place":
            continue
        maker = _bare(finder, name)
        if maker is not None:
            found.append(maker)
            taken.update(range(maker.first, maker.last))
    return found


_PEOPLES = frozenset({"Victorians", "Georgians", "Edwardians", "Tudors", "Romans", "Huguenots"})
""" "later chased by the Victorians" names nobody."""


def _tells_the_giver(finder: NameFinder, hit: Hit) -> bool:
    """ "presented to A. Marsh by the members": who gave it made nothing."""
    low, sentence = finder.tokens.low, finder.tokens.sentence
    if low[hit.first] != "by" or hit.last - hit.first > 1:
        return False
    for i in range(hit.first - 1, max(-1, hit.first - _GIVEN_WITHIN), -1):
        if low[i] in _GIVEN:
            return sentence[i] == sentence[hit.first]
        if low[i] in _QUOTES or low[i] == ";":
            break
    return False


_GIVEN = frozenset(
    {"presented", "given", "gifted", "awarded", "donated", "bequeathed", "bestowed", "won", "subscribed"}
)
_GIVEN_WITHIN = 16


def _qualified_behind(finder: NameFinder, hit: Hit) -> MakerFound | None:
    """ "Gaspard Merel (circle of)", as collections write it: the words stand in brackets behind the name."""
    low, opened = finder.tokens.low, hit.first - 1
    if opened < 1 or low[opened] != "(" or low[hit.last : hit.last + 1] != [")"]:
        return None
    first = name_before(finder, opened, set())
    if first == opened or hit.entry.maker is None:
        _doubt_country(finder.at.get(opened - 1), hit.entry.strength)
        return None
    name = finder.tokens.text[finder.tokens.start[first] : finder.tokens.end[opened - 1]]
    value = replace(hit.entry.maker, name=name, qualifier=_written(finder, hit))
    strength = _strength(hit, hit.entry)
    return MakerFound(first, hit.last + 1, value, strength, value.qualifier, hit.entry.differs)


def _doubt_country(place: Hit | None, strength: str) -> None:
    """ "unknown German (possibly by)": with no name the country is what is doubted."""
    if place is not None and place.side == "place":
        place.strength = place.strength or strength


def _qualified(finder: NameFinder, hit: Hit, people: dict[int, int], silent: set[int]) -> MakerFound | None:
    tokens, low = finder.tokens, finder.tokens.low
    at = hit.last
    while at < len(low) and low[at] in _BETWEEN and low[at : at + 2] != ["a", "."]:
        at += 1
    if _by_a_thing(low, hit, at):
        return None
    quoted = at < len(low) and low[at] in _QUOTES
    if quoted:
        at += 1
    if (
        at >= len(low)
        or finder.covered[at]
        or low[at] in _NO_NAME
        or tokens.cap[at] == LOWER
        or tokens.sentence[at] != tokens.sentence[hit.first]
    ):
        return None
    if not quoted and at in silent and hit.entry.value.term in _STRUCK:
        return None
    known = finder.at.get(at)
    if known is not None and known.side == "place" and hit.entry.value.term not in ("by", "made by"):
        return None
    end = _quote_end(low, at) if quoted else 0
    end = end or _with_surname(finder, max(finder.run_after(at), people.get(at, at)), at)
    titled = hit.entry.value.term == "after" and low[at].endswith("ing") and low[end : end + 1] == ["at"]
    if end <= at or titled or (known is not None and _no_maker(known)):
        return None
    end = _second_partner(low, at, end, people)
    end = _third_partner(finder, end)
    if (
        end < len(low)
        and low[end] in finder.lexicon.grammar.look_after
        and low[end] not in ("form", "shape", "pattern")
    ):
        return None
    entry = hit.entry
    slots: Mapping[str, Any] = {}
    assert entry.maker is not None
    if end < len(low) and low[end] in finder.lexicon.collective:
        slots = finder.lexicon.collective[low[end]]
        end += 1
    name = tokens.text[tokens.start[at] : tokens.end[end - 1]].strip()
    if quoted and end < len(low) and low[end] in _QUOTES:
        end += 1
    name = _without_fecit(name)
    if (hit.entry.value.term in _STRUCK and (quoted or _only_initials(name))) or not name:
        return None
    value = replace(entry.maker, name=name, qualifier=_written(finder, hit), **slots)
    strength: Strength = "possible" if _asked(low, at, end) else _strength(hit, entry)
    return MakerFound(hit.first, end, value, strength, value.qualifier, entry.differs)


def _third_partner(finder: NameFinder, end: int) -> int:
    """ "by Hart, Toller and Co": a comma within the name of a firm."""
    low, cap = finder.tokens.low, finder.tokens.cap
    firm = (
        low[end : end + 1] == [","] and low[end + 2 : end + 3] in (["and"], ["&"]) and cap[end + 1] == CAPITAL
    )
    return end + 4 if firm and low[end + 3 : end + 4] in _FIRMS else end


_FIRMS = (["co"], ["company"], ["sons"], ["son"], ["bros"], ["brothers"], ["partners"])


def _with_surname(finder: NameFinder, end: int, at: int) -> int:
    """ "by Nathan Quill,": behind one capital alone, a word of the trade with a capital before a stop is a surname."""
    tokens, hit = finder.tokens, finder.at.get(end)
    if end <= at or hit is None or hit.side not in _SURNAMES or hit.last != end + 1:
        return end
    if end > at + 1 and hit.side != "decoration":
        return end  # "by Abel Thorn Shepherd," goes on, "by Abel Thorn Silver," does not
    stops = hit.last >= len(tokens) or not tokens.low[hit.last][0].isalnum()
    return hit.last if tokens.cap[at] == tokens.cap[end] == CAPITAL and stops else end


_SURNAMES = frozenset({"object", "material", "part", "decoration", "form", "technique", "surface"})
"""Kinds of words that are people's names as well: Quill, Salt, Bell, Stone, Bird, Round, Turner."""
_NO_NAME = frozenset(
    {"with", "on", "in", "to", "under", "twice", "throughout", "and", "for", "inside", "below"}
)
"""What no name begins with, in labels all in capitals."""


def _no_maker(known: Hit) -> bool:
    """A mark, a style, praise, or a bare word of firms where the name should begin."""
    return known.side in ("mark", "style", "puff") or any(entry.side == "firm" for entry in known.entries)


def _second_partner(low: list[str], at: int, end: int, people: dict[int, int]) -> int:
    """Where "by Wexcombe, Marr & Co." ends."""
    if end != at + 1 or low[end : end + 1] != [","]:
        return end
    last = people.get(end + 1, 0)
    return last if last > end + 3 and "&" in low[end + 1 : last] else end


def _by_a_thing(low: list[str], hit: Hit, at: int) -> bool:
    """ "surmounted by a Madonna", "supported by Atlas", "owned by Thomas Wexcombe": who is named there made nothing."""
    if low[hit.first] != "by":
        return False
    article = at == hit.last + 1 and low[hit.last] in ("a", "an")
    return article or (hit.first > 0 and low[hit.first - 1] in _NOT_MADE)


_NOT_MADE = frozenset(
    {
        "surmounted", "supported", "flanked", "headed", "crowned", "topped", "held", "carried", "followed", "enclosed", "framed", "divided",
        "separated", "bordered", "centred", "owned", "used", "given", "presented", "bought", "left", "bequeathed", "commissioned", "obscured",
        "hidden", "read", "published", "illustrated", "described", "recorded", "listed", "discussed", "donated", "lent", "inherited", "acquired",
        "purchased", "ordered", "won", "worn", "found", "discovered", "collected", "exhibited", "catalogued", "identified", "examined", "confirmed",
    }
)  # fmt: skip


def _asked(low: list[str], first: int, end: int) -> bool:
    """ "by Joseph Wexcombe?", "(?Joseph Wexcombe)"."""
    return low[end : end + 1] == ["?"] or (
        first > 0 and low[first - 1] == "?" and low[first - 2 : first - 1] in ([], ["("], [","])
    )


_FECIT = re.compile(
    r"[\s,]+(?:me\s+)?(?:fecit|invenit|invt?|sculpsit|sculp|pinxit)\b.*", re.IGNORECASE | re.DOTALL
)


def _without_fecit(name: str) -> str:
    """ "J. Merrow fecit 1711" names J. Merrow."""
    return _FECIT.sub("", name)


def _only_initials(name: str) -> bool:
    """WD, GR IV, I.S.: letters of a mark and no name."""
    words = name.replace(".", " ").split()
    return name.isupper() and (len(name) < 5 or (len(name) < 9 and all(len(word) < 4 for word in words)))


def of_the_model(found: MakerFound) -> MakerFound:
    """ "after the marble by Caldoni": his is the model, not the object."""
    value = replace(found.value, hand="no", workshop="no", period="open", copies="yes")
    return replace(found, value=value)


def _quote_end(low: list[str], at: int) -> int:
    """Where a quoted name of at most eight tokens ends; 0 when nothing closes it."""
    return next((j for j in range(at, min(len(low), at + 8)) if low[j] in _QUOTES), 0)


def _written(finder: NameFinder, hit: Hit) -> str:
    return finder.tokens.text[finder.tokens.start[hit.first] : finder.tokens.end[hit.last - 1]].lower()


def _strength(hit: Hit, entry: Entry) -> Strength:
    if hit.strength:
        return _as_strength(hit.strength)
    return _as_strength(entry.strength)


def _as_strength(word: str) -> Strength:
    strengths: tuple[Strength, ...] = ("stated", "likely", "possible", "open", "denied")
    return next((s for s in strengths if s == word), "stated")


def _unknown(finder: NameFinder, hit: Hit) -> MakerFound | None:
    low = finder.tokens.low
    if hit.last - hit.first == 1 and low[hit.first] in ("unknown", "unidentified"):
        follows = finder.at.get(hit.last)
        capital = follows is not None and follows.side == "place"
        alone = hit.last >= len(low) or not low[hit.last][0].isalnum()
        starts = hit.first == 0 or not low[hit.first - 1][0].isalnum()
        if not (starts and (capital or alone)):
            return None
    return MakerFound(hit.first, hit.last, MakerValue(name="unknown"), "open")


def _bare(finder: NameFinder, name: Name) -> MakerFound | None:
    """A person's or firm's name that stands alone between stops is claimed as the maker, plainly."""
    tokens, low = finder.tokens, finder.tokens.low
    before, after = name.first - 1, name.last
    role, said, end = role_in_brackets(finder, after)
    starts = (
        before < 0
        or not (low[before][0].isalnum() or low[before] in "&'\"“")
        or tokens.sentence[before] != tokens.sentence[name.first]
    )
    ends = (
        after >= len(low)
        or not low[after][0].isalpha()
        or low[after] in ("of", "in", "at", "c", "circa")
        or _is_place(finder, after)
        or finder.covered[after]
    )
    heads = name.kind == "firm" and _only_praise(finder, before) and _substance_or_thing(finder, after)
    if not role and not heads and not (starts and ends and low[max(before, 0)] != ":"):
        return None
    if not role and (name.kind == "office" or low[name.first] in SHIPS or belongs_to(name, finder)):
        return None
    first = _whole_name(finder, name) if role else name.first
    text = tokens.text[tokens.start[first] : tokens.end[name.last - 1]]
    value = MakerValue(
        name=text,
        role=role or "maker",
        hand="open" if role not in ("", "maker") else "yes",
        workshop="open" if role not in ("", "maker") else "yes",
        period="yes",
    )
    if _asked(low, first, end):
        return MakerFound(first, end, value, "possible")
    strength: Strength = "likely" if heads or name.kind == "partners" else said
    return MakerFound(first, end, value, strength)


def _whole_name(finder: NameFinder, name: Name) -> int:
    """ "Adelmar K. Voss (sculptor)": where a role follows, every capital before belongs to the name, known or not."""
    first, tokens = name_before(finder, name.last, set()), finder.tokens
    between = range(first, name.first)
    return (
        first if all(tokens.cap[i] != LOWER or tokens.low[i] in (".", "-") for i in between) else name.first
    )


def _only_praise(finder: NameFinder, i: int) -> bool:
    """True when nothing but "a fine pair of" stands before: words of praise, number and no noun."""
    low, function = finder.tokens.low, finder.lexicon.function
    return i < 6 and all(
        hit.side in ("puff", "count", "form") if (hit := finder.at.get(j)) is not None else low[j] in function
        for j in range(i + 1)
    )


def _substance_or_thing(finder: NameFinder, i: int) -> bool:
    """ "Wexcombe & Sons pewter teapot": a firm at the head of a label is sooner its maker than its owner."""
    hit = finder.at.get(i)
    small = i < len(finder.tokens) and finder.tokens.cap[i] == LOWER
    return small and hit is not None and hit.side in ("object", "material", "surface")


def _is_place(finder: NameFinder, i: int) -> bool:
    hit = finder.at.get(i)
    return hit is not None and hit.side == "place"
