"""Which words of a label a fact bears on: read from the packs (`more.on_label`), never written in Python.

docs/packs.md describes the keys. `label_index` compiles them once for a book; the reasoning rooms look words up in it.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from planish.facts.book import FactBook
from planish.records import Fact

ON_LABEL_KEYS = frozenset(
    {
        "terms",
        "marks",
        "patterns",
        "series",
        "slack_years",
        "says",
        "group",
        "unless",
        "needs",
        "clash",
        "ways",
        "fault",
        "severity",
        "hard_end",
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """Numbers given out in order: `firsts[i]` is the first number of `facts[i]`, rising; `last` ends the series."""

    firsts: tuple[int, ...]
    last: int | None
    facts: tuple[Fact, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Trigger:
    """What a fact looks for on a label, and how to speak of it.

    `says` names the thing in a sentence. Of several facts of one `group` only the sharpest is reported. `unless`
    holds words that disclose the thing (a replaced part, a later finish). `needs` words one of which must stand on
    the label too. `clash` words that cannot be true of the same part. `series` numbers that give a year.
    """

    fact: Fact
    says: str
    group: str
    fault: str
    severity: int
    terms: tuple[str, ...] = ()
    marks: tuple[str, ...] = ()
    patterns: tuple[re.Pattern[str], ...] = ()
    series: tuple[Series, ...] = ()
    slack_years: int = 0
    unless: frozenset[str] = frozenset()
    needs: frozenset[str] = frozenset()
    clash: frozenset[str] = frozenset()
    ways: tuple[str, ...] = ()
    hard_end: str = "both"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LabelIndex:
    """Triggers by settled term and by phrase in a mark; `phrases` finds any of the phrases; `orders` of events."""

    by_term: dict[str, tuple[Trigger, ...]]
    by_mark: dict[str, tuple[Trigger, ...]]
    phrases: re.Pattern[str] | None
    numbered: tuple[Trigger, ...]
    clashing: dict[str, tuple[Trigger, ...]]
    law: dict[str, tuple[Trigger, ...]]
    orders: dict[str, Fact]


_KEPT: dict[int, tuple[FactBook, LabelIndex]] = {}


def label_index(book: FactBook) -> LabelIndex:
    """The triggers of `book`, compiled once and kept for the last few books."""
    kept = _KEPT.get(id(book))
    if kept is not None and kept[0] is book:
        return kept[1]
    if len(_KEPT) > 8:
        _KEPT.clear()
    index = _compiled(book)
    _KEPT[id(book)] = (book, index)
    return index


def _compiled(book: FactBook) -> LabelIndex:
    triggers = [_trigger(fact, book) for fact in book if "on_label" in fact.more]
    dated = [one for one in triggers if one.fact.family != "legal"]
    plain = [one for one in dated if not one.clash and not one.series]
    by_mark = _by_word(plain, lambda one: one.marks)
    phrases = sorted(by_mark, key=len, reverse=True)
    return LabelIndex(
        by_term=_by_word(plain, lambda one: one.terms),
        by_mark=by_mark,
        phrases=re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, phrases))})(?!\w)") if phrases else None,
        numbered=tuple(one for one in dated if one.series),
        clashing=_by_word([one for one in dated if one.clash], lambda one: one.terms),
        law=_by_word([one for one in triggers if one.fact.family == "legal"], lambda one: one.terms),
        orders={str(fact.more["event"]): fact for fact in book.family("event_order")},
    )


def _by_word(triggers: Iterable[Trigger], words: Any) -> dict[str, tuple[Trigger, ...]]:
    found: dict[str, list[Trigger]] = {}
    for one in triggers:
        for word in words(one):
            found.setdefault(word.lower(), []).append(one)
    return {word: tuple(members) for word, members in found.items()}


def _trigger(fact: Fact, book: FactBook) -> Trigger:
    given: Any = fact.more["on_label"]
    return Trigger(
        fact=fact,
        says=given.get("says", fact.id),
        group=given.get("group", fact.id),
        fault=given.get("fault", "date.too_early"),
        severity=given.get("severity", 2),
        terms=given.get("terms", ()),
        marks=given.get("marks", ()),
        patterns=tuple(re.compile(one, re.IGNORECASE) for one in given.get("patterns", ())),
        series=tuple(_series(book, name) for name in given.get("series", ())),
        slack_years=given.get("slack_years", 0),
        unless=frozenset(given.get("unless", ())),
        needs=frozenset(given.get("needs", ())),
        clash=frozenset(given.get("clash", ())),
        ways=given.get("ways", ()),
        hard_end=given.get("hard_end", "both"),
    )


def _series(book: FactBook, name: str) -> Series:
    """ "uk_design_number", or "patent_year_us:utility" for one series of a family."""
    family, _, series = name.partition(":")
    facts = sorted(_numbered(book.family(family), series), key=lambda fact: int(str(fact.more["first"])))
    ends = [int(str(fact.more["last"])) for fact in facts if "last" in fact.more]
    return Series(
        firsts=tuple(int(str(fact.more["first"])) for fact in facts),
        last=max(ends) if ends else None,
        facts=tuple(facts),
    )


def _numbered(facts: Iterable[Fact], series: str) -> Iterator[Fact]:
    return (
        fact for fact in facts if "first" in fact.more and (not series or fact.more.get("series") == series)
    )
