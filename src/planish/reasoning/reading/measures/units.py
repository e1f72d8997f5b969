"""Units of the word pack compiled for matching right after a figure, and the words that name a measure's role."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Literal

from planish.reasoning.reading.lexicon import Lexicon

BaseUnit = Literal["mm", "g", "ml"]
_BASE: tuple[tuple[str, BaseUnit], ...] = (("length", "mm"), ("weight", "g"), ("capacity", "ml"))


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: `amount` base units; `readings` other sizes of the same word as (name, amount, what tells them apart)."""

    name: str
    base: BaseUnit
    amount: float
    readings: tuple[tuple[str, float, str], ...] = ()

    @property
    def inches(self) -> bool:
        """True for inches, feet and yards."""
        return self.base == "mm" and self.amount in (25.4, 304.8, 914.4)


@dataclass(frozen=True, slots=True, eq=False)
class UnitTable:
    """Units by written form, roles by written form, and the expressions that find both beside a figure.

    `unit_begins` holds, for each letter with which a unit can begin, the expression of those units alone; `role_opens`
    are the words with which a role after a figure can open.
    """

    units: Mapping[str, Unit]
    roles: Mapping[str, str]
    unit: re.Pattern[str]
    role_after: re.Pattern[str]
    role_before: re.Pattern[str]
    unit_begins: Mapping[str, re.Pattern[str]]
    role_opens: frozenset[str]
    role_words: frozenset[str]


@lru_cache(maxsize=8)
def unit_table(lexicon: Lexicon) -> UnitTable:
    """Compile the units of one lexicon."""
    units: dict[str, Unit] = {}
    for section, base in _BASE:
        for group in lexicon.units.get(section, ()):
            _add(units, group, base)
    roles = {word: role for role, words in lexicon.units.get("roles", {}).items() for word in words}
    role = _either(roles)
    where = r"(?:\s+(?:over|to|at|across|of|including|incl\.?|excluding|excl\.?|without|with|from)\s+(?:the\s+)?([^\W\d_]+(?:\s(?:pan|plate|piece|foot|rim|base|lid|mount|edge))?))?"
    return UnitTable(
        units,
        roles,
        _of_units(units),
        re.compile(
            rf"\.?\s*,?\s*\(?\s*(?:in\s+|max(?:imum|\.)?\s+|overall\s+|total\s+)?({role})(?![^\W\d_])(?:\.(?!\s+[A-Z]))?{where}\s*\)?",
            re.IGNORECASE,
        ),
        re.compile(
            rf"(?:(?<![^\W_])([^\W\d_]{{3,20}})\s+)?(?<![^\W_])({role})(?:\.?\s+(?:over|of|to|at|across|inc\.?|incl\.?|including|excluding|excl\.?|without)\s+(?:the\s+)?(?:(?:top|tip|end)\s+of\s+(?:the\s+)?)?([^\W\d_]{{2,20}}))?\s*[.:=]{{0,2}}\s*(?:\(([^\W\d_]{{2,16}})\)\s*|[,(]?\s*)$",
            re.IGNORECASE,
        ),
        unit_begins={
            letter: _of_units([word for word in units if word[0].lower() == letter])
            for letter in {word[0].lower() for word in units}
        },
        role_opens=frozenset((*roles, "in", "max", "maximum", "overall", "total")),
        role_words=frozenset(roles),
    )


def _add(units: dict[str, Unit], group: Mapping[str, Any], base: BaseUnit) -> None:
    readings = tuple((str(n), float(a), str(why)) for n, a, why in group.get("readings", ()))
    name = str(group["words"][0])
    for word in group["words"]:
        units[word] = Unit(name, base, float(group["amount"]), readings)


def _of_units(units: Iterable[str]) -> re.Pattern[str]:
    return re.compile(rf"\s?[-]?\s?({_either(units)})(?![^\W_])[\x94]?", re.IGNORECASE)


def _either(words: Iterable[str]) -> str:
    """Alternatives, the longest first; a blank in a word matches any white space, a stop is optional."""
    ordered = sorted(words, key=len, reverse=True)
    return "|".join(re.escape(w).replace(r"\ ", r"\.?\s").replace(r"\.", r"\.?") for w in ordered)


def unit_key(written: str) -> str:
    """The form under which a written unit is on file."""
    return _BLANKS.sub(" ", written.lower()).rstrip(".")


_BLANKS = re.compile(r"\.?\s+")
