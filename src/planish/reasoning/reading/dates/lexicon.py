"""The word pack compiled for the scanner: one look-up table from a word to its class, value and longer phrases."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Final

from planish.facts.words import WordBook
from planish.reasoning.reading.dates import kinds as k
from planish.reasoning.reading.dates.pieces import cut_up
from planish.records.evidence import Event


@dataclass(frozen=True, slots=True, kw_only=True)
class Happening:
    """A verb of the pack: the event it names; `qualifies` when it says how the year is known ("dated").

    `afterwards`: the word itself says that the object was already there ("later engraved", "repainted").
    `noun`: the word is a thing's name too ("a fern pattern"). `later`: it needs no year of its own ("later cast").
    """

    event: Event
    qualifies: bool = False
    afterwards: bool = False
    noun: bool = False
    later: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Period:
    """One row of the period table; `fact` is the id under which the fact book holds its years, empty when it does not.

    `other` holds narrower or wider years that writers give the same name, `told` what would decide.
    """

    id: str
    name: str
    country: str
    kind: str
    earliest: int
    latest: int | None
    core: tuple[int, int] | None = None
    fact: str = ""
    other: tuple[tuple[int, int], ...] = ()
    told: str = ""
    at_home: bool = False


Phrase = tuple[tuple[str, ...], int, int, Any]
"""A longer phrase: the words after its first, how many they are, class, value."""
Entry = tuple[int, Any, bool, Mapping[str, tuple[Phrase, ...]]]
"""class (-1 when the word only opens phrases), value, may carry a full stop, phrases by their second word, longest first."""


OPENS: Final = -1
"""A word with which a phrase can begin, or that takes a full stop or figures to itself."""
VALUED: Final = -2
"""A word that is its own token and has a value."""
FIGURES: Final = -3
"""Digits, or a word that may be a year in Roman numerals: all of them begin with M."""


class Kinds(dict[str, int]):
    """The class of each word, or one of those above. What is not listed is a plain word, unless it can be a number."""

    def __missing__(self, word: str) -> int:
        return FIGURES if word[0] in "0123456789m" else k.WORD


@dataclass(frozen=True, slots=True, eq=False)
class Lexicon:
    """Everything the scanner asks of the pack.

    `kinds` gives the class of a word that is its own token without a value; any other asks for `entries`.
    `known` holds the trade words of the other tables: no names of people. `things` are the names of things, one or many;
    `given` are first names. `part_letters` are the E, M and L of "E18thC"; `reign_marks` the countries whose marks name
    a reign without dating the thing; `newer` words before a bracket say that its years are not the object's.
    """

    entries: Mapping[str, Entry]
    kinds: Kinds
    ordinal_endings: frozenset[str]
    decade_endings: frozenset[str]
    century_endings: frozenset[str]
    zeros: frozenset[str]
    ones: frozenset[str]
    masks: frozenset[str]
    known: frozenset[str]
    things: frozenset[str]
    given: frozenset[str]
    part_letters: Mapping[str, str]
    reign_marks: frozenset[str]
    newer: frozenset[str]


class _Builder:
    """Collects words and phrases; the first entry of a form wins, so that the pack's order decides."""

    def __init__(self) -> None:
        self.single: dict[str, tuple[int, Any, bool]] = {}
        self.phrases: dict[str, dict[tuple[str, ...], tuple[int, Any]]] = {}

    def add(self, form: str, kind: int, value: object = None) -> None:
        dotted = form.endswith(".") and len(form) > 1
        parts = tuple(cut_up(form.rstrip(".") if dotted else form)[0])
        if not parts:
            return
        if len(parts) == 1:
            self.single.setdefault(parts[0], (kind, value, dotted))
            return
        rest = self.phrases.setdefault(parts[0], {})
        rest.setdefault(parts[1:], (kind, value))
        if dotted:
            rest.setdefault((*parts[1:], "."), (kind, value))

    def entries(self) -> dict[str, Entry]:
        table: dict[str, Entry] = {}
        for word in {*self.single, *self.phrases}:
            kind, value, dotted = self.single.get(word, (-1, None, False))
            table[word] = (kind, value, dotted, _by_second_word(self.phrases.get(word, {})))
        return table


def _by_second_word(phrases: Mapping[tuple[str, ...], tuple[int, Any]]) -> dict[str, tuple[Phrase, ...]]:
    longest_first = sorted(phrases.items(), key=lambda item: -len(item[0]))
    found: dict[str, list[Phrase]] = {}
    for rest, (kind, value) in longest_first:
        found.setdefault(rest[0], []).append((rest, len(rest), kind, value))
    return {word: tuple(rows) for word, rows in found.items()}


IN_CAPITALS = frozenset({"m", "an"})
"""What can begin a year in Roman capitals: M DCC XLVIII, An VIII."""


@cache
def lexicon(words: WordBook) -> Lexicon:
    """Compile `words` once. Missing tables compile to nothing, so a pack without dates reads plain years only."""
    dates: Mapping[str, Any] = words.tables.get("dates", {})
    periods: Mapping[str, Any] = words.tables.get("periods", {})
    build = _Builder()
    for mark, kind in k.PUNCTUATION.items():
        build.single[mark] = (kind, None, False)
    _add_valued(build, dates)
    _add_periods(build, periods)
    _add_happenings(build, dates.get("event", ()))
    for row in dates.get("model", ()):
        for form in row["words"]:
            build.add(form, k.MODELOF, row["event"])
    for name, forms in dates.get("class", {}).items():
        kind = k.BY_NAME.get(name, k.WORD)
        for form in forms:
            build.add(form, kind)
    _add_romans(build, dates.get("century_before", {}).get("words", ()))
    suffix = dates.get("suffix", {})
    entries = build.entries()
    ones = frozenset(suffix.get("letters_for_one", ()))
    opens = {word for word, entry in entries.items() if entry[3] or entry[2]} | ones | IN_CAPITALS
    return Lexicon(
        entries=entries,
        kinds=Kinds(
            {word: entry[0] if entry[1] is None else VALUED for word, entry in entries.items()}
            | dict.fromkeys(opens, OPENS)
        ),
        ordinal_endings=frozenset(suffix.get("ordinal", ())),
        decade_endings=frozenset(suffix.get("decade", ())),
        century_endings=frozenset(suffix.get("century", ())),
        zeros=frozenset(suffix.get("letters_for_zero", ())),
        ones=ones,
        masks=frozenset(suffix.get("unknown_digits", ())),
        known=frozenset(_words_of(table for name, table in words.tables.items() if name not in _NO_TRADE)),
        things=_with_plurals(_words_of([row.get("words", ()) for row in _groups(words, "objects")])),
        given=frozenset(_words_of([words.tables.get("names", {}).get("given", {}).get("words", ())])),
        part_letters=dict(dates.get("part_letter", {})),
        reign_marks=frozenset(periods.get("reign_marks", ())),
        newer=frozenset(dates.get("newer", {}).get("words", ())),
    )


_NO_TRADE = frozenset({"language", "names", "periods"})
"""Tables whose words may be people's names."""


def _groups(words: WordBook, table: str) -> Iterable[Mapping[str, Any]]:
    return [row for row in words.tables.get(table, {}).get("group", ()) if isinstance(row, Mapping)]


def _with_plurals(words: Iterable[str]) -> frozenset[str]:
    """Each word and its regular plurals; a form that no one writes does no harm, since it is only looked up."""
    found = [word for word in words if len(word) > 2 and word.isalpha()]
    return frozenset(
        form for word in found for form in (word, word + "s", word + "es", word.removesuffix("y") + "ies")
    )


def _add_valued(build: _Builder, dates: Mapping[str, Any]) -> None:
    for name, kind in (
        ("month", k.MONTH),
        ("season", k.SEASON),
        ("ordinal", k.ORD),
        ("division", k.DIVISION),
        ("part", k.PART),
        ("cardinal", k.CARDINAL),
        ("word_decade", k.WORDDECADE),
    ):
        for form, value in dates.get(name, {}).items():
            build.add(form, kind, value)


def _add_happenings(build: _Builder, rows: Iterable[Mapping[str, Any]]) -> None:
    for row in rows:
        happening = Happening(
            event=row["event"],
            qualifies=row.get("qualifies", False),
            afterwards=row.get("afterwards", False),
            noun=row.get("noun", False),
            later=row.get("later", False),
        )
        for form in row["words"]:
            build.add(form, k.EVENT, happening)


def _add_periods(build: _Builder, periods: Mapping[str, Any]) -> None:
    strong: dict[str, list[Period]] = {}
    weak: dict[str, list[Period]] = {}
    for row in periods.get("period", ()):
        years = row["years"]
        period = Period(
            id=row["id"],
            name=row["name"],
            country=row["country"],
            kind=row["kind"],
            earliest=years[0],
            latest=years[1] if len(years) > 1 else None,
            core=tuple(row["core"]) if "core" in row else None,
            fact=row.get("fact", ""),
            other=tuple((first, last) for first, last in row.get("other", ())),
            told=row.get("told", ""),
            at_home=row.get("at_home", False),
        )
        for forms, table in ((row["forms"], strong), (row.get("weak_forms", ()), weak)):
            for form in forms:
                for spelling in dict.fromkeys(_spellings(form)):
                    table.setdefault(spelling, []).append(period)
    for form in {**strong, **weak}:
        build.add(form, k.PERIOD, (tuple(strong.get(form, ())), tuple(weak.get(form, ()))))
    for country, forms in periods.get("country", {}).items():
        for form in forms:
            build.add(form, k.COUNTRY, country)


_NUMBERS = {"i": 1, "ii": 2, "iii": 3, "iv": 4, "v": 5, "vi": 6, "vii": 7, "viii": 8, "ix": 9, "x": 10}
_ENDINGS = {1: "st", 2: "nd", 3: "rd"}
_WORDS = ("", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")
_SHORT = {
    "george": "geo",
    "william": "wm",
    "charles": "chas",
    "edward": "edw",
    "james": "jas",
    "elizabeth": "eliz",
}


def _spellings(form: str) -> Iterable[str]:
    """The form itself, and for a numbered ruler the other ways of writing the number: George 3rd, Geo. III, George the Third."""
    yield form
    name, _, number = form.rpartition(" ")
    value = _NUMBERS.get(number)
    if value is None:
        return
    for short in (name, _SHORT.get(name, name)):
        for dot in ("", ".") if short != name else ("",):
            for written in (
                number,
                f"{value}{_ENDINGS.get(value, 'th')}",
                str(value),
                f"the {_WORDS[value]}",
            ):
                yield f"{short}{dot} {written}"


_ROMAN = {
    9: "ix", 10: "x", 11: "xi", 12: "xii", 13: "xiii", 14: "xiv", 15: "xv", 16: "xvi", 17: "xvii", 18: "xviii",
    19: "xix", 20: "xx", 21: "xxi",
}  # fmt: skip


def _add_romans(build: _Builder, century_before: Iterable[str]) -> None:
    """XVIII, XVIIIe, and the "secolo XVIII" of languages that put the word first."""
    for value, numeral in _ROMAN.items():
        for ending in ("", "th", "st", "e", "ème", "eme"):
            build.add(numeral + ending, k.ORD, value)
        build.add(numeral + "thc", k.ORDCENT, value)
        for word in century_before:
            build.add(f"{word} {numeral}", k.ORDCENT, value)


def _words_of(tables: Iterable[object]) -> Iterable[str]:
    """Every lower-case word that stands in a table, however deep."""
    texts: list[str] = []
    waiting = [*tables]
    while waiting:
        table = waiting.pop()
        if isinstance(table, str):
            texts.append(table)
        elif isinstance(table, Mapping):
            texts.extend(table)
            waiting.extend(table.values())
        elif isinstance(table, (list, tuple)):
            waiting.extend(table)
    return set(cut_up("\n".join(texts).lower())[0])
