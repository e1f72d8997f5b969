"""The word pack compiled for reading: a tree of words, longest phrase first, built once for each word book."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from planish.facts.words import WordBook
from planish.reasoning.reading.tokens import tokenise
from planish.records import MakerValue, TermValue, freeze

CAPITAL_ONLY = frozenset({"place"})
"""Senses that only a capital letter gives: Bath the town, bath the vessel."""


@dataclass(slots=True, eq=False)
class Entry:
    """One sense of a phrase. `side` is a side of Claim, or one of part, form, function, negator, doubter, qualifier,
    unknown, firm, place_name, given: words that steer the reading and claim nothing by themselves."""

    side: str
    value: TermValue
    noun: bool = False
    strength: str = "stated"
    maker: MakerValue | None = None
    differs: str = ""


@dataclass(slots=True, eq=False)
class Node:
    """A word on the way: what may follow, and the senses that end here; `small` are those open to a small letter."""

    next: dict[str, "Node"] = field(default_factory=dict)
    entries: tuple[Entry, ...] = ()
    small: tuple[Entry, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Grammar:
    """How words hang together: see the heads of the tables in `phrases.toml`. `classes` gives, for a word or stop, what it
    does to a phrase (relation, opens, makes, stop, dot, skip) and how."""

    classes: Mapping[str, tuple[str, str]]
    whole: frozenset[str]
    look_before: frozenset[str]
    look_after: frozenset[str]
    looks: frozenset[str]


@dataclass(slots=True, eq=False)
class Lexicon:
    """Everything the reader knows about words of one language."""

    root: dict[str, Node]
    function: frozenset[str]
    given: frozenset[str]
    reigns: frozenset[str]
    particles: frozenset[str]
    negation_ends: frozenset[str]
    opening: frozenset[str]
    roles: Mapping[str, str]
    collective: Mapping[str, Mapping[str, Any]]
    says: Mapping[str, str]
    numbers: Mapping[str, int]
    units: Mapping[str, Any]
    capacities: frozenset[str]
    scots: frozenset[str]
    grammar: Grammar
    makes: Mapping[str, str]
    listed: Mapping[str, Entry]


@lru_cache(maxsize=8)
def lexicon_of(words: WordBook) -> Lexicon:
    """Compile `words`. Tables or keys that a language does not have are simply not read."""
    tables = words.tables
    build = _Builder(
        dict(tables.get("plain", {}).get("spelling", {})),
        _substances(tables),
        frozenset(tables.get("objects", {}).get("heads", ())),
    )
    build.heads = _heads_by_kind(tables.get("objects", {}).get("group", ()))
    for side, table in (
        ("part", "parts"),
        ("material", "materials"),
        ("surface", "surfaces"),
        ("decoration", "techniques"),
        ("state", "states"),
        ("mark", "marks"),
        ("object", "objects"),
        ("count", "counts"),
        ("place", "places"),
        ("provenance", "stories"),
        ("puff", "puffs"),
    ):
        for group in tables.get(table, {}).get("group", ()):
            build.group(side, group)
    for group in tables.get("motifs", {}).get("group", ()):
        build.group("decoration", group)
        if group.get("figure"):
            group = {**group, "words": (*group["words"], *_heads_of(group["words"]))}
            build.group("decoration", group)
            build.group(
                "object", {**group, "kind": "sculpture", "is_a": ("sculpture",), "measured": "height"}
            )
    _steering(build, tables)
    plain, names = tables.get("plain", {}), tables.get("names", {})
    return Lexicon(
        root=build.root,
        function=frozenset(
            (
                *plain.get("function", ()),
                *tables.get("makers", {}).get("roles", {}),
                *tables.get("phrases", {}).get("makes", ()),
            )
        ),
        given=frozenset(w.lower() for w in names.get("given", {}).get("words", ())),
        reigns=frozenset(w.lower() for w in names.get("given", {}).get("reigns", ())),
        particles=frozenset(names.get("particles", {}).get("words", ())),
        negation_ends=frozenset(plain.get("negation_ends", ())),
        opening=frozenset(tables.get("marks", {}).get("opening", {}).get("words", ())),
        roles=tables.get("makers", {}).get("roles", {}),
        collective=tables.get("makers", {}).get("collective", {}),
        says=tables.get("marks", {}).get("says", {}),
        numbers=tables.get("counts", {}).get("numbers", {}),
        units=tables.get("units", {}),
        capacities=frozenset(tables.get("units", {}).get("worded", {}).get("words", ())),
        scots=frozenset(tables.get("units", {}).get("worded", {}).get("scots", ())),
        makes=tables.get("phrases", {}).get("makes", {}),
        listed=_listed(tables.get("materials", {}).get("listed", {})),
        grammar=_grammar(tables.get("phrases", {}), plain),
    )


def _listed(table: Mapping[str, Any]) -> Mapping[str, Entry]:
    """Words that are substances only in a line that lists substances, in one and in many."""
    found: dict[str, Entry] = {}
    for word in table.get("words", ()):
        entry = Entry("material", TermValue(term=word, kind=table.get("kind", "")))
        found.update(dict.fromkeys((word, *plurals(word)), entry))
    return found


def _heads_of(words: Iterable[str]) -> list[str]:
    """ "boar's head", "fox's mask": what a crest, a handle or a terminal shows of a creature."""
    names = [line.split("|")[0] for line in words]
    return [f"{name}'s head|{name}'s mask|{name} mask" for name in names if " " not in name]


def _grammar(table: Mapping[str, Any], plain: Mapping[str, Any]) -> Grammar:
    def words(name: str, key: str = "words") -> frozenset[str]:
        return frozenset(table.get(name, {}).get(key, ()))

    function = (*plain.get("function", ()), *table.get("no_noun", {}).get("words", ()), *_QUOTES)
    classes = dict.fromkeys(function, ("skip", ""))
    classes.update((word, ("makes", part)) for word, part in table.get("makes", {}).items())
    classes.update((word, ("opens", word)) for word in table.get("opens", {}).get("words", ()))
    for name, group in table.get("relation", {}).items():
        classes.update(dict.fromkeys(group, ("relation", "," if name == "apart" else name)))
    classes.update((stop, ("stop", relation)) for relation, stops in _STOPS.items() for stop in stops)
    classes["."] = ("dot", "")
    before, after = words("look", "before"), words("look", "after")
    return Grammar(classes, words("whole"), before, after, looks=before | after)


_QUOTES = "'’\"“”‘*#"
_STOPS = {"(": "([", ",": ",)]-–—|", ".": "\n;:!?•·▪●◦"}


def _substances(tables: Mapping[str, Mapping[str, Any]]) -> Mapping[str, str]:
    """Plain one-word materials and their kind: the last word of a longer phrase is true of it too (walrus ivory)."""
    groups = tables.get("materials", {}).get("group", ())
    return {
        word: group.get("kind", "")
        for group in groups
        for line in group["words"]
        for word in line.split("|")
        if " " not in word
    }


def _numbers(plain: Mapping[str, int]) -> Iterator[tuple[str, int]]:
    """The numbers of the pack and those put together from a ten and a unit: forty-eight."""
    yield from plain.items()
    tens = [(word, number) for word, number in plain.items() if number in range(20, 100, 10)]
    units = [(word, number) for word, number in plain.items() if number < 10]
    for ten, many in tens:
        for unit, few in units:
            yield f"{ten}-{unit}", many + few


def _steering(build: "_Builder", tables: Mapping[str, Mapping[str, Any]]) -> None:
    plain, names, makers = tables.get("plain", {}), tables.get("names", {}), tables.get("makers", {})
    for side, words in (
        ("negator", plain.get("negators", ())),
        ("doubter", plain.get("doubters", ())),
        ("firm", names.get("firm", {}).get("words", ())),
        ("place_name", names.get("place", {}).get("words", ())),
        ("likeness", tables.get("phrases", {}).get("likeness", {}).get("words", ())),
        ("price", tables.get("stories", {}).get("price", {}).get("words", ())),
    ):
        for phrase in words:
            build.add(phrase, Entry(side, TermValue(term=phrase, kind=side)))
    for phrase, relation in tables.get("phrases", {}).get("joins", {}).items():
        build.add(phrase, Entry("joins", TermValue(term=relation, kind="joins")))
    for word, number in _numbers(tables.get("counts", {}).get("numbers", {})):
        if number > 2:
            build.add(
                word, Entry("count", TermValue(term=word, kind="number", more=freeze({"number": number})))
            )
    for group in makers.get("qualifier", ()):
        for phrase in group["words"]:
            build.add(phrase, _qualifier(phrase, group))
    for group in makers.get("unknown", ()):
        for phrase in group["words"]:
            build.add(phrase, Entry("unknown", TermValue(term="unknown", kind="maker"), strength="open"))


def _qualifier(phrase: str, group: Mapping[str, Any]) -> Entry:
    slots = {slot: group.get(slot, "open") for slot in ("hand", "workshop", "period", "copies")}
    maker = MakerValue(name="", qualifier=phrase, role=group.get("role", "maker"), **slots)
    return Entry(
        "qualifier",
        TermValue(term=phrase, kind=group.get("source", "")),
        strength=group.get("strength", "stated"),
        maker=maker,
        differs=group.get("differs", ""),
    )


def _heads_by_kind(groups: Iterable[Mapping[str, Any]]) -> Mapping[str, frozenset[str]]:
    """One-word names of every kind of thing: a serving spoon is a spoon."""
    heads: dict[str, set[str]] = {}
    for group in groups:
        names = (line.split("|")[0] for line in group["words"])
        heads.setdefault(group.get("kind", ""), set()).update(name for name in names if " " not in name)
    return {kind: frozenset(names) for kind, names in heads.items()}


_LOOKS = frozenset({"silver", "gold", "glass"})
"""Substances whose name is lent to others by their look."""
_NO_PLURAL = frozenset(
    {"silver", "gold", "tin alloy", "copper alloy", "copper", "iron", "lead", "zinc alloy"}
)


class _Builder:
    """Grows the tree of words. Kept out of sight: the result is never changed after compiling."""

    def __init__(
        self, spelling: Mapping[str, str], substances: Mapping[str, str], heads: frozenset[str]
    ) -> None:
        self.root: dict[str, Node] = {}
        self.heads: Mapping[str, frozenset[str]] = {}
        self._substances, self._everywhere, self._ends = substances, heads, tuple(heads)
        self._spelling = spelling

    def group(self, side: str, group: Mapping[str, Any]) -> None:
        """Add one group of a table; a group may name its own side."""
        side = group.get("side", side)
        kind = group.get("kind", "")
        if kind == "form" and side == "part":
            side = "form"
        extra = {k: v for k, v in group.items() if k in ("measured", "number", "flat")}
        for line in group["words"]:
            term, *others = line.split("|")
            self._term(side, kind, tuple(group.get("is_a", ())), extra, term, others, group)

    def _term(
        self,
        side: str,
        kind: str,
        is_a: tuple[str, ...],
        extra: dict[str, Any],
        term: str,
        others: Iterable[str],
        group: Mapping[str, Any],
    ) -> None:
        heads = self.heads.get(kind, frozenset()) if side == "object" else frozenset()
        phrases = {term: term, **dict.fromkeys(others, term)}
        for phrase in list(phrases):
            other = self._respelt(phrase)
            if other != phrase:
                phrases[other] = self._respelt(term) if phrase == term else phrases[phrase]
        for phrase, settled in phrases.items():
            if side == "object" and phrase.endswith(" " + term):
                settled = phrase
            broader = is_a if settled == term else (term, *is_a)
            if side == "object":
                broader = self._wider(phrase, settled, broader, heads)
            elif side == "material":
                broader = self._with_head(settled, kind, broader)
                broader = (
                    tuple(dict.fromkeys((*broader, *map(self._respelt, broader))))
                    if phrase != term
                    else broader
                )
            more = freeze({**extra, **({"is_a": broader} if broader else {})})
            entry = Entry(
                side,
                TermValue(term=settled, kind=kind, more=more),
                noun=bool(group.get("noun", False)),
                strength=group.get("strength", "stated"),
            )
            self.add(phrase, entry)
            if (
                side in ("object", "part")
                or kind == "motif"
                or (side == "material" and kind not in _NO_PLURAL)
            ):
                for plural in plurals(phrase):
                    self.add(plural, entry)

    def _wider(
        self, phrase: str, settled: str, broader: tuple[str, ...], heads: frozenset[str]
    ) -> tuple[str, ...]:
        """The label's own word beside the settled one (a creamer is a cream jug), the noun that each ends with, then
        what is true of the whole group."""
        own = [phrase] if phrase != settled else []
        for name in (settled, *own):
            last = name.rsplit(" ", 1)[-1]
            own += [last] if last in (heads if name == settled else self._everywhere) else []
            if last.endswith(self._ends):
                own += [head for head in self._everywhere if last.endswith(head)]
        return tuple(dict.fromkeys(word for word in (*own, *broader) if word != settled))

    def _with_head(self, term: str, kind: str, broader: tuple[str, ...]) -> tuple[str, ...]:
        """Add the last word of a phrase when it is a substance: but nickel silver is no silver, plate no metal."""
        head = term.rsplit(" ", 1)[-1]
        found = self._substances.get(head)
        if head == term or found is None or head in broader or (found in _LOOKS and found != kind):
            return broader
        return (*broader, head)

    def _respelt(self, phrase: str) -> str:
        return " ".join(self._spelling.get(word, word) for word in phrase.split(" "))

    def add(self, phrase: str, entry: Entry) -> None:
        """Add one sense of `phrase`; the same sense twice is kept once."""
        plain = phrase.isascii() and phrase.islower() and phrase.replace(" ", "").isalpha()
        words = phrase.split() if plain else tokenise(phrase).low
        if not words:
            return
        node = self.root.setdefault(words[0], Node())
        for word in words[1:]:
            node = node.next.setdefault(word, Node())
        if " and " in phrase:
            self.add(phrase.replace(" and ", " & "), entry)
        if "'s " in phrase:
            self.add(phrase.replace("'s ", "s "), entry)
        if all(e.side != entry.side for e in node.entries):
            node.entries = (*node.entries, entry)
            if entry.side not in CAPITAL_ONLY:
                node.small = (*node.small, entry)


def plurals(phrase: str) -> tuple[str, ...]:
    """Plural forms of a phrase by rule: the last word, or the word before "of", "and", "on"."""
    words = phrase.split(" ")
    head = len(words) - 1
    for joint in ("of", "on", "with", "and"):
        if joint in words[1:]:
            head = min(head, words.index(joint) - 1)
    word = words[head]
    if not word[-1:].isalpha() or (word.endswith("ss") is False and word.endswith("s")):
        return ()
    if word.endswith(("s", "x", "z", "ch", "sh")):
        forms = [word + "es"]
    elif word.endswith("y") and word[-2:-1] not in "aeiou":
        forms = [word[:-1] + "ies"]
    elif word.endswith("fe"):
        forms = [word[:-2] + "ves", word + "s"]
    elif word.endswith("f"):
        forms = [word[:-1] + "ves", word + "s"]
    else:
        forms = [word + "s"]
    return tuple(" ".join([*words[:head], form, *words[head + 1 :]]) for form in forms)
