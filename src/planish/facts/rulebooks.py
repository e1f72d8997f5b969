"""Rule books: one fair's clauses and switches, read from a file, so that an exhibitor can run the same file at home.

`load_rulebook` takes the name of a rule book on file or a path; `compare` says where two books differ. docs/packs.md
describes the file.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields
from importlib.resources import files
from os import PathLike
from pathlib import Path
from typing import Any, get_args

from planish.facts.entries import deep_freeze
from planish.facts.toml_text import parse
from planish.records import Clause, Conventions, Problem, RuleBook, VotingRules
from planish.records.rulebook import Check

CHECKS = frozenset(get_args(Check))
KEYS = frozenset(field.name for field in fields(RuleBook)) - {"clauses"} | {"clause"}


def rulebook_ids() -> tuple[str, ...]:
    """Names of the rule books on file, sorted."""
    folder = files("planish") / "packs" / "rulebook"
    return tuple(sorted(f.name.removesuffix(".toml") for f in folder.iterdir() if f.name.endswith(".toml")))


def load_rulebook(path_or_name: str | PathLike[str]) -> tuple[RuleBook, tuple[Problem, ...]]:
    """The rule book of that name ("saltmere") or at that path, and what could not be understood in it.

    A file that cannot be read gives an empty rule book and the Problem; a bad clause is left out and named.
    """
    text, where, trouble = _text(path_or_name)
    if trouble is not None:
        return _empty(where), (trouble,)
    try:
        table = parse(text)
    except ValueError as error:
        return _empty(where), (_problem(where, "unreadable", f"The file cannot be read: {error}.",
                                        "Mend the line named.", severity=1),)  # fmt: skip
    return rulebook_of(table, where)


def rulebook_of(table: Mapping[str, Any], where: str) -> tuple[RuleBook, tuple[Problem, ...]]:
    """A rule book from its data; `where` names the file in problems."""
    problems = list(_strange_keys(table, where))
    clauses, bad = _clauses(table.get("clause", ()), where)
    problems.extend(bad)
    switches = table.get("switches", {})
    datelines, late = _datelines(table.get("datelines", {}), switches.get("fair_year"), where)
    problems.extend(late)
    conventions, odd = _record(Conventions, table.get("conventions", {}), f"{where}, conventions")
    voting, odder = _record(VotingRules, table.get("voting", {}), f"{where}, voting")
    problems.extend((*odd, *odder))
    book = RuleBook(
        id=str(table.get("id", where)),
        fair=str(table.get("fair", "")),
        version=str(table.get("version", "")),
        clauses=clauses,
        conventions=conventions,
        voting=voting,
        datelines=deep_freeze(datelines),
        definitions=deep_freeze(table.get("definitions", {})),
        switches=deep_freeze(switches),
        law=tuple(table.get("law", ())),
        house_form=deep_freeze(table.get("house_form", {})),
    )
    return book, tuple(problems)


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One thing that two rule books say differently. `left` or `right` is empty when that book is silent."""

    what: str
    left: str
    right: str
    clause: str = ""


def compare(left: RuleBook, right: RuleBook) -> tuple[Difference, ...]:
    """Every clause, dateline, convention, voting rule, definition and switch on which two books differ, in book order."""
    pairs = (
        (_datelines_in_force(left, right), _datelines_in_force(right, left)),
        (_settings(left), _settings(right)),
        (_clause_texts(left), _clause_texts(right)),
    )
    return tuple(found for a, b in pairs for found in _differing(a, b))


def _datelines_in_force(book: RuleBook, other: RuleBook) -> dict[str, str]:
    """The last year admitted for every discipline that either book names, "default" standing for the rest."""
    names = dict.fromkeys((*book.datelines, *other.datelines))
    years = {name: book.datelines.get(name, book.datelines.get("default")) for name in names}
    return {f"dateline {name}": str(year) for name, year in years.items() if year is not None}


def _differing(left: Mapping[str, str], right: Mapping[str, str]) -> Iterator[Difference]:
    for what in dict.fromkeys((*left, *right)):
        one, other = left.get(what, ""), right.get(what, "")
        if one != other:
            clause = what.removeprefix("clause ") if what.startswith("clause ") else ""
            yield Difference(what=what, left=one, right=other, clause=clause)


def _settings(book: RuleBook) -> dict[str, str]:
    flat: dict[str, str] = {"law": ", ".join(book.law)}
    groups: tuple[tuple[str, Mapping[str, object]], ...] = (
        ("convention", {f.name: getattr(book.conventions, f.name) for f in fields(Conventions)}),
        (
            "voting",
            {f.name: getattr(book.voting, f.name) for f in fields(VotingRules) if f.name != "clauses"},
        ),
        ("definition", book.definitions),
        ("switch", book.switches),
        ("house form", book.house_form),
    )
    for name, values in groups:
        flat.update((f"{name} {key}", _plain(value)) for key, value in values.items())
    return flat


def _clause_texts(book: RuleBook) -> dict[str, str]:
    return {f"clause {c.number}": _clause_text(c) for c in book.clauses}


def _clause_text(clause: Clause) -> str:
    settings = "; ".join(f"{key}: {_plain(value)}" for key, value in clause.settings.items())
    return f"{clause.text} [{clause.check}, severity {clause.severity}{'; ' + settings if settings else ''}]"


def _plain(value: object) -> str:
    if isinstance(value, Mapping):
        return "; ".join(f"{key} {_plain(inner)}" for key, inner in value.items())
    if isinstance(value, tuple | list):
        return ", ".join(_plain(inner) for inner in value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def _text(path_or_name: str | PathLike[str]) -> tuple[str, str, Problem | None]:
    name = str(path_or_name)
    on_file = name in rulebook_ids()
    where = f"packs/rulebook/{name}.toml" if on_file else name
    try:
        if on_file:
            return (files("planish") / "packs" / "rulebook" / f"{name}.toml").read_text("utf-8"), where, None
        return Path(name).read_text(encoding="utf-8"), where, None
    except (OSError, UnicodeDecodeError) as error:
        said = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        remedy = f"Name a file, or one of the rule books on file: {', '.join(rulebook_ids())}."
        return (
            "",
            where,
            _problem(where, "not_found", f"The rule book cannot be opened: {said}.", remedy, severity=1),
        )


def _empty(where: str) -> RuleBook:
    return RuleBook(id=where, fair="", version="")


def _problem(where: str, code: str, what: str, remedy: str, severity: Any = 2) -> Problem:
    return Problem(where=where, what=what, remedy=remedy, code=f"rulebook.{code}", severity=severity)


def _strange_keys(table: Mapping[str, Any], where: str) -> Iterator[Problem]:
    for key in sorted(set(table) - KEYS):
        yield _problem(where, "unknown_key", f"It has a part nobody knows: {key}.",
                       f"Use one of: {', '.join(sorted(KEYS))}.")  # fmt: skip
    for key in ("id", "fair", "version"):
        if not table.get(key):
            yield _problem(where, f"no_{key}", f"It has no {key}.", f"Give it a {key}.")


def _clauses(entries: Any, where: str) -> tuple[tuple[Clause, ...], list[Problem]]:
    clauses: dict[str, Clause] = {}
    problems: list[Problem] = []
    for entry in entries:
        number = str(entry.get("number", ""))
        place = f"{where}, clause {number or '?'}"
        fault = _clause_fault(entry, clauses)
        if fault is not None:
            problems.append(_problem(place, *fault))
            continue
        clauses[number] = Clause(
            number=number,
            text=str(entry["text"]),
            check=entry.get("check", "note"),
            settings=deep_freeze(entry.get("settings", {})),
            severity=entry.get("severity", 3),
        )
    return tuple(clauses.values()), problems


def _clause_fault(entry: Mapping[str, Any], so_far: Mapping[str, Clause]) -> tuple[str, str, str] | None:
    if not entry.get("number") or not entry.get("text"):
        return "clause_incomplete", "A clause has no number or no text.", "Give every clause both."
    if str(entry["number"]) in so_far:
        return "clause_twice", "Two clauses have this number.", "Number every clause once."
    if entry.get("check", "note") not in CHECKS:
        return "bad_check", f"Its check is {entry['check']!r}.", f"Use one of: {', '.join(sorted(CHECKS))}."
    if entry.get("severity", 3) not in (1, 2, 3, 4):
        return "bad_severity", f"Its severity is {entry['severity']!r}.", "Use 1, 2, 3 or 4."
    return None


def _datelines(given: Mapping[str, Any], year: object, where: str) -> tuple[dict[str, int], list[Problem]]:
    lines: dict[str, int] = {}
    problems: list[Problem] = []
    for discipline, value in given.items():
        rolling = value.get("rolling_years") if isinstance(value, Mapping) else None
        if isinstance(value, int) and not isinstance(value, bool):
            lines[discipline] = value
        elif isinstance(rolling, int) and isinstance(year, int):
            lines[discipline] = year - rolling
        else:
            problems.append(
                _problem(
                    f"{where}, datelines, {discipline}",
                    "bad_dateline",
                    f"The dateline is {value!r}.",
                    "Write a year, or { rolling_years = 100 } with fair_year among the switches.",
                )
            )
    return lines, problems


def _record(kind: Any, given: Mapping[str, Any], where: str) -> tuple[Any, list[Problem]]:
    """A Conventions or VotingRules from data; unknown keys and wrong kinds of value are named and left at default."""
    defaults = kind()
    names = {field.name for field in fields(kind)}
    values: dict[str, Any] = {}
    problems: list[Problem] = []
    for key, value in given.items():
        if key not in names:
            problems.append(_problem(where, "unknown_key", f"It has a setting nobody knows: {key}.",
                                     f"Use one of: {', '.join(sorted(names))}."))  # fmt: skip
        elif not _same_kind(value, getattr(defaults, key)):
            problems.append(_problem(where, "bad_value", f"{key} is {value!r}.",
                                     f"Write it like {_plain(getattr(defaults, key))!r}."))  # fmt: skip
        else:
            values[key] = deep_freeze(value)
    return kind(**values), problems


def _same_kind(value: Any, default: Any) -> bool:
    if isinstance(default, bool) or isinstance(value, bool):
        return isinstance(default, bool) and isinstance(value, bool)
    if isinstance(default, float):
        return isinstance(value, int | float)
    if isinstance(default, tuple):
        return isinstance(value, list | tuple) and len(value) == len(default)
    if isinstance(default, Mapping):
        return isinstance(value, Mapping)
    return isinstance(value, type(default))
