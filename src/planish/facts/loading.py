"""Reads packs from disk, once: facts of a discipline with everything it leans on.

With `words` and `rulebooks` the only file readers below the errands. A file or an entry that cannot be read becomes
a Problem; the rest is read. Nothing here judges whether a pack is sound beyond that: `checking` does.
"""

from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any

from planish.facts.book import FactBook
from planish.facts.entries import Bibliography, deep_freeze, facts_of
from planish.facts.toml_text import parse
from planish.records import Discipline, Fact, Problem

GENERAL = "general"
LAW = "law"


@cache
def load(discipline: str = "metalware") -> tuple[FactBook, tuple[Problem, ...]]:
    """The fact book of `discipline`: general facts, law packs, its own folder and those that it reads.

    Raises LookupError, naming the disciplines on file, when there is none of that name.
    """
    root = _packs()
    folders = [root / GENERAL, root / LAW, *_discipline_folders(root, discipline)]
    return read_packs(folders, root / GENERAL)


def read_packs(
    folders: list[Traversable], general: Traversable | None = None
) -> tuple[FactBook, tuple[Problem, ...]]:
    """Facts of every TOML file in `folders`, in order of name; `general` holds the bibliography `sources.toml`."""
    sources, problems = _bibliography(general)
    facts: dict[str, Fact] = {}
    places: dict[str, str] = {}
    for where, pack, trouble in _pack_files(folders):
        problems.extend(trouble)
        found, bad = facts_of(pack, where, sources)
        problems.extend(bad)
        for fact in found:
            if fact.id in facts:
                problems.append(_twice(fact.id, places[fact.id], where))
            else:
                facts[fact.id], places[fact.id] = fact, where
    return FactBook(facts.values()), tuple(problems)


def read_table(path: Traversable) -> tuple[Mapping[str, Any], tuple[Problem, ...]]:
    """One TOML file; an empty mapping and a Problem when it cannot be read."""
    where = _where(path)
    try:
        return parse(path.read_text(encoding="utf-8")), ()
    except (OSError, ValueError) as error:
        return {}, (
            Problem(
                where=where,
                what=f"The file cannot be read: {error}.",
                remedy="Mend the place named, or put back the last good copy of the file.",
                code="pack.unreadable",
                severity=1,
            ),
        )


_TABLES: dict[str, tuple[Mapping[str, Any], tuple[Problem, ...]]] = {}


def _kept_table(path: Traversable) -> tuple[Mapping[str, Any], tuple[Problem, ...]]:
    """Disciplines share most files: each is parsed once."""
    if str(path) not in _TABLES:
        _TABLES[str(path)] = read_table(path)
    return _TABLES[str(path)]


def discipline_ids() -> tuple[str, ...]:
    """Names of the disciplines on file, sorted."""
    root = _packs() / "discipline"
    return tuple(sorted(entry.name for entry in root.iterdir() if entry.is_dir()))


@cache
def disciplines() -> tuple[tuple[Discipline, ...], tuple[Problem, ...]]:
    """Every discipline on file, in order of name, and what could not be understood."""
    root = _packs() / "discipline"
    found: list[Discipline] = []
    problems: list[Problem] = []
    for name in discipline_ids():
        table, trouble = read_table(root / name / "discipline.toml")
        problems.extend(trouble)
        if table:
            found.append(_discipline(name, table))
    return tuple(found), tuple(problems)


def _discipline(folder: str, table: Mapping[str, Any]) -> Discipline:
    plain = ("id", "name", "leads", "seconds", "never", "priority")
    return Discipline(
        id=str(table.get("id", folder)),
        name=str(table.get("name", folder)),
        leads=tuple(table.get("leads", ())),
        seconds=tuple(table.get("seconds", ())),
        never=tuple(table.get("never", ())),
        priority=int(table.get("priority", 0)),
        more=deep_freeze({key: value for key, value in table.items() if key not in plain}),
    )


def _packs() -> Traversable:
    return files("planish") / "packs"


def _discipline_folders(root: Traversable, discipline: str) -> list[Traversable]:
    folder = root / "discipline" / discipline
    if not folder.is_dir():
        raise LookupError(f"no discipline {discipline!r}; on file: {', '.join(discipline_ids())}")
    about = folder / "discipline.toml"
    reads = read_table(about)[0].get("reads", ()) if about.is_file() else ()
    return [folder, *(root / "discipline" / other for other in reads if other != discipline)]


def _bibliography(general: Traversable | None) -> tuple[Bibliography, list[Problem]]:
    if general is None or not (general / "sources.toml").is_file():
        return Bibliography(), []
    table, problems = read_table(general / "sources.toml")
    return Bibliography(table.get("source", {})), list(problems)


def _pack_files(
    folders: list[Traversable],
) -> Iterator[tuple[str, Mapping[str, Any], tuple[Problem, ...]]]:
    for folder in folders:
        for path in sorted(folder.iterdir(), key=lambda entry: entry.name):
            if path.name.endswith(".toml") and path.name not in ("sources.toml", "discipline.toml"):
                pack, trouble = _kept_table(path)
                yield _where(path), pack, trouble


def _where(path: Traversable) -> str:
    text = str(path).replace("\\", "/")
    return text[text.rfind("/packs/") + 1 :] if "/packs/" in text else path.name


def _twice(fact_id: str, first: str, second: str) -> Problem:
    return Problem(
        where=f"{second}, {fact_id}",
        what=f"Two facts are called {fact_id!r}; the other is in {first}.",
        remedy="Give one of them another id.",
        code="fact.duplicate_id",
        severity=2,
    )
