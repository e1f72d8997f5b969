"""From the data of a pack to facts: pure, and never stopped by one bad entry.

A pack file is a mapping: defaults at the top (`family`, `law`), then `fact` (one entry each) and `table` (many alike
entries as rows). docs/packs.md describes every key. What cannot be understood becomes a Problem with its place.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any, get_args

from planish.records import Fact, Problem, Source, Use, Years
from planish.records.facts import Confidence, Hardness, Verified

BOUNDS = frozenset(
    {
        "body_made",
        "part_made",
        "finish_applied",
        "decorated",
        "inscribed",
        "mark_struck",
        "repair",
        "designed",
        "cast",
        "printed",
        "registered",
        "imported",
        "retailed",
        "exported",
        "label",
        "measured",  # a vessel was measured against a standard in force
        "sold",  # a law that bears on selling now
        "none",  # bounds no event: a density, a caution
    }
)
"""What a fact's years can bound: the events of `planish.records.evidence`, and three that are no event of an object."""

FACT_KEYS = frozenset(
    {
        "id",
        "family",
        "statement",
        "earliest",
        "latest",
        "bounds",
        "use",
        "hardness",
        "jurisdiction",
        "source",
        "also",
        "verified",
        "partly_memory",
        "confidence",
        "caveats",
        "more",
    }
)
TABLE_KEYS = (FACT_KEYS - {"earliest", "latest"}) | {"key", "rows", "earliest_from", "latest_from"}
ROW_OVERRIDES = ("jurisdiction", "verified", "partly_memory", "confidence", "caveats")
_CHOICES: tuple[tuple[str, frozenset[str]], ...] = (
    ("bounds", BOUNDS),
    ("use", frozenset(get_args(Use))),
    ("hardness", frozenset(get_args(Hardness))),
    ("verified", frozenset(get_args(Verified))),
    ("confidence", frozenset(get_args(Confidence))),
)


@dataclass(slots=True)
class Bibliography:
    """Sources by key, so that a fact can say `source = { key = "...", where = "..." }`."""

    by_key: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    made: dict[tuple[tuple[str, str], ...], Source] = field(default_factory=dict)
    """Sources already put together: a table's rows share one."""


class EntryError(ValueError):
    """One entry that cannot become a fact; `code` is the stable plain word of the mistake, `remedy` the way out."""

    def __init__(self, code: str, what: str, remedy: str) -> None:
        super().__init__(what)
        self.code, self.what, self.remedy = code, what, remedy


def deep_freeze(value: Any) -> Any:
    """Lists become tuples and mappings read-only, all the way down."""
    if isinstance(value, dict):
        return MappingProxyType({key: deep_freeze(inner) for key, inner in value.items()})
    if isinstance(value, list):
        return tuple(deep_freeze(inner) for inner in value)
    return value


def facts_of(
    pack: Mapping[str, Any], where: str, sources: Bibliography
) -> tuple[tuple[Fact, ...], tuple[Problem, ...]]:
    """All facts of one pack file, and a Problem for each entry that could not be one. `where` names the file."""
    facts: list[Fact] = []
    problems: list[Problem] = []
    for entry in _entries(pack):
        try:
            facts.append(_fact(entry, sources))
        except EntryError as error:
            place = f"{where}, {entry.get('id', 'an entry without id')}"
            problems.append(
                Problem(where=place, what=error.what, remedy=error.remedy, code=error.code, severity=2)
            )
    return tuple(facts), tuple(problems)


def _entries(pack: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    family = pack.get("family")
    law = pack.get("law")
    for entry in pack.get("fact", ()):
        yield _with_defaults(entry, family, law)
    for table in pack.get("table", ()):
        for row in table.get("rows", ()):
            yield _with_defaults(_row_entry(table, row), family, law)


def _with_defaults(entry: Mapping[str, Any], family: str | None, law: str | None) -> dict[str, Any]:
    full = dict(entry)
    if family is not None:
        full.setdefault("family", family)
    if law is not None:
        full["more"] = {"law": [law], **full.get("more", {})}
    return full


def _row_entry(table: Mapping[str, Any], row: Mapping[str, Any]) -> dict[str, Any]:
    """One row of a table as an entry: the row's values go to `more`, its statement comes from the table's pattern."""
    entry = {k: v for k, v in table.items() if k not in ("key", "rows", "earliest_from", "latest_from")}
    entry.update((k, row[k]) for k in ROW_OVERRIDES if k in row)
    values = {k: v for k, v in row.items() if k not in ROW_OVERRIDES}
    entry["more"] = {**table.get("more", {}), **values}
    entry["id"] = f"{table.get('id', '')}.{_slug(row.get(table.get('key', ''), ''))}"
    try:
        entry["statement"] = str(table.get("statement", "")).format_map({**entry, **entry["more"]})
    except (KeyError, IndexError, ValueError):
        entry["statement"] = ""
    for end, column in (("earliest", "earliest_from"), ("latest", "latest_from")):
        if (name := table.get(column)) and name in row:
            entry[end] = row[name]
    return entry


def _slug(value: object) -> str:
    return re.sub(r"[^a-z0-9]+", "_", str(value).lower()).strip("_")


def _fact(entry: Mapping[str, Any], sources: Bibliography) -> Fact:
    _known_keys(entry)
    for name in ("id", "statement", "family"):
        if not isinstance(entry.get(name), str) or not entry[name].strip():
            raise EntryError(f"fact.no_{name}", f"It has no {name}.", f"Give it a {name}.")
    for name, choices in _CHOICES:
        _choice(entry, name, choices)
    if "source" not in entry:
        raise EntryError(
            "fact.no_source",
            "It names no source.",
            'Say where the statement comes from, or mark it verified = "practice" with source = { body = '
            '"common practice" }.',
        )
    return Fact(
        id=entry["id"],
        statement=entry["statement"],
        family=entry["family"],
        years=_years(entry),
        bounds=entry["bounds"],
        use=entry["use"],
        hardness=entry["hardness"],
        source=_source(entry["source"], sources),
        also=tuple(_source(one, sources) for one in entry.get("also", ())),
        verified=entry["verified"],
        confidence=entry["confidence"],
        partly_memory=bool(entry.get("partly_memory", False)),
        jurisdiction=str(entry.get("jurisdiction", "")),
        caveats=tuple(str(one) for one in entry.get("caveats", ())),
        more=deep_freeze(dict(entry.get("more", {}))),
    )


def _known_keys(entry: Mapping[str, Any]) -> None:
    if extra := sorted(set(entry) - FACT_KEYS):
        raise EntryError(
            "fact.unknown_key",
            f"It has a key nobody knows: {', '.join(extra)}.",
            f"Correct the spelling, or write more.{extra[0]} for a value of its own family.",
        )


def _choice(entry: Mapping[str, Any], name: str, choices: frozenset[str]) -> None:
    value = entry.get(name)
    if value not in choices:
        said = f"{name} is {value!r}" if value is not None else f"{name} is missing"
        raise EntryError(f"fact.bad_{name}", f"Its {said}.", f"Use one of: {', '.join(sorted(choices))}.")


def _years(entry: Mapping[str, Any]) -> Years:
    ends = entry.get("earliest"), entry.get("latest")
    for end in ends:
        if end is not None and (not isinstance(end, int) or isinstance(end, bool)):
            raise EntryError(
                "fact.year_not_a_number", f"A year is {end!r}.", "Write years as whole numbers: 1842."
            )
    try:
        return Years(*ends)
    except ValueError:
        raise EntryError(
            "fact.years_backwards",
            f"Its years run backwards: {ends[0]} to {ends[1]}.",
            "Put the earlier year in earliest.",
        ) from None


def _source(given: object, sources: Bibliography) -> Source:
    if not isinstance(given, Mapping):
        raise EntryError(
            "fact.bad_source", f"Its source is {given!r}.", 'Write source = { body = "...", title = "..." }.'
        )
    values = {k: str(v) for k, v in given.items()}
    asked = tuple(values.items())
    if asked in sources.made:
        return sources.made[asked]
    key = values.pop("key", None)
    if key is not None:
        if key not in sources.by_key:
            raise EntryError(
                "fact.dangling_source",
                f"Its source has the key {key!r}, which is not in the bibliography.",
                "Add the key to general/sources.toml or correct it.",
            )
        values = {**{k: str(v) for k, v in sources.by_key[key].items()}, **values}
    if not values.get("body") or set(values) - {"body", "title", "year", "where", "seen"}:
        raise EntryError(
            "fact.bad_source",
            f"Its source is not complete or has unknown keys: {dict(given)!r}.",
            "A source has body, and may have title, year, where and seen.",
        )
    sources.made[asked] = Source(**values)
    return sources.made[asked]
