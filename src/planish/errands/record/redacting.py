"""Deleting readable text for good: two people, a ground, and the log still verifies.

    chosen(fair, Wanted(people=("ann",)))            what would be deleted; writes nothing
    redact(fair, texts, ground=..., who=..., second=...)   records it, deletes, wipes, verifies
    finish(fair)                                     carries out what was recorded and cut off
    repeat(ledger, lines)                            after an older backup: deletes again what was deleted since

The log keeps the salted commitment, which says nothing once the salt is gone. `deleted.jsonl` in the fair's folder names
event and field of every deletion (no text); backups carry it, so that an older one is never opened without it.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import LISTS, OFFICE, PAPERS, Fair, ledger_refusal
from planish.errands.record import backing
from planish.ledger.journal import Draft, Journal
from planish.ledger.store import Entry, LedgerError, Store
from planish.ledger.verifying import verify

GROUNDS = ("retention", "request", "law", "mistake")
KEPT_FILES = ("pictures", "blobs", LISTS)
STAYS: Mapping[str, frozenset[str]] = {
    "label.hung": frozenset({"text"}),
    "label.agreed": frozenset({"text"}),
    "outcome.proposed": frozenset({"reasons", "trace"}),
    "outcome.confirmed": frozenset({"reasons"}),
    "appeal.decided": frozenset({"reasons"}),
    "ballot.locked": frozenset({"ballot"}),
    "ballot.appeal": frozenset({"ballot"}),
}
"""Not deleted because somebody asks: the words that passed, the reasons, and ballots, which end by the rules of retention."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What to look for: entries by number, everything about objects, people or stands by id, texts that hold some words;
    of those one field, or all ("")."""

    entries: tuple[int, ...] = ()
    objects: tuple[str, ...] = ()
    people: tuple[str, ...] = ()
    stands: tuple[str, ...] = ()
    words: str = ""
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One readable text that can be deleted: its entry's number and event id, the kind, the field, whom or what it is about."""

    n: int
    id: str
    kind: str
    path: str
    sub: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Deleted:
    """What a deletion did: texts and files gone, and printed papers from before, which may still quote them.

    `copies` of papers went from the backup medium; the papers themselves, and every sheet on paper, are people's to destroy.
    """

    texts: int
    files: int
    papers: tuple[str, ...]
    copies: int = 0


def chosen(fair: Fair, wanted: Wanted, *, ground: str = "request") -> tuple[Text, ...]:
    """Every text that is still there and that `wanted` names, in the log's order."""
    return tuple(
        text
        for entry in fair.journal.entries()
        for text in texts_of(entry)
        if (_named(entry, wanted) or _says(entry, text, wanted.words))
        and wanted.field in ("", text.path)
        and may_go(text, ground)
    )


def texts_of(entry: Entry) -> Iterator[Text]:
    """The texts of one entry that are still there."""
    event = entry.event
    for path in sorted(entry.openings):
        yield Text(n=entry.n, id=event.id, kind=event.name, path=path, sub=event.sub)


def _named(entry: Entry, wanted: Wanted) -> bool:
    event = entry.event
    if entry.n in wanted.entries or event.sub in (*wanted.objects, *wanted.people):
        return True
    if event.who in wanted.people and event.name.startswith("ballot."):
        return True
    return event.sub in wanted.stands or event.body.get("stand") in wanted.stands


def _says(entry: Entry, text: Text, words: str) -> bool:
    return bool(words) and words.casefold() in str(entry.openings[text.path].read()).casefold()


def may_go(text: Text, ground: str) -> bool:
    """False for what stays although somebody asks (`STAYS`)."""
    return ground != "request" or text.path not in STAYS.get(text.kind, frozenset())


def redact(fair: Fair, texts: Sequence[Text], *, ground: str, who: str, second: str) -> Deleted:
    """Delete texts for good. Refuses one person alone, a strange ground, and what stays.

    Each entry's deletion is recorded first; should the machine stop in between, `finish` goes on.
    """
    _may(texts, ground, who, second)
    whole = _whole_entries(fair, texts)
    by_path: dict[str, list[str]] = {}
    for text in texts:
        by_path.setdefault("" if text.id in whole else text.path, []).append(text.id)
    drafts = [
        Draft(kind="opening.redacted", sub=fair.state.id, who=who, body=_body(ids, path, ground, second))
        for path, ids in sorted(by_path.items())
    ]
    fair.record(drafts)
    return _carry_out(fair, {(id_, path) for path, ids in by_path.items() for id_ in ids})


def _body(ids: Iterable[str], path: str, ground: str, second: str) -> dict[str, Any]:
    body: dict[str, Any] = {"ids": [*dict.fromkeys(ids)], "ground": ground, "second": second}
    return {**body, "path": path} if path else body


def _may(texts: Sequence[Text], ground: str, who: str, second: str) -> None:
    if not texts:
        raise refuse("deletion", "There is nothing to delete.", "Name entries whose text is still there.")
    if ground not in GROUNDS:
        raise refuse("deletion", f"{ground!r} is no ground.", f"One of: {', '.join(GROUNDS)}.")
    if not second or second == who:
        raise refuse(
            "deletion",
            "A second person must agree to this.",
            "Name another person.",
            kind="rule",
            code="redact.second",
        )
    stays = [text for text in texts if not may_go(text, ground)]
    if stays:
        first = stays[0]
        raise refuse(
            f"entry {first.n}, {first.path}",
            "It is part of what was decided, and stays although somebody asks.",
            "Delete it by the rules of retention, or on the ground of law or mistake.",
            kind="rule",
            code="redact.stays",
        )


def _whole_entries(fair: Fair, texts: Sequence[Text]) -> set[str]:
    """Entries of which every text goes: then the files that only they name go too."""
    by_id: dict[str, set[str]] = {}
    for text in texts:
        by_id.setdefault(text.id, set()).add(text.path)
    found = ((id_, fair.journal.store.entry_of(id_), paths) for id_, paths in by_id.items())
    return {id_ for id_, entry, paths in found if entry is not None and paths == set(entry.openings)}


def _carry_out(fair: Fair, gone: set[tuple[str, str]]) -> Deleted:
    """Delete, wipe, note it for the backups, verify."""
    store = fair.journal.store
    try:
        doomed, copies = _note(fair.folder, store)
        by_path: dict[str, list[str]] = {}
        for id_, path in sorted(gone):
            by_path.setdefault(path, []).append(id_)
        texts = sum(store.redact(ids, path) for path, ids in by_path.items())
        files = delete_files(fair.folder, doomed)
        problems = verify(store)  # type: ignore[arg-type]
    except LedgerError as error:
        raise ledger_refusal(error) from error
    finally:
        fair.forget()
    if problems:
        raise refuse("the fair's log", str(problems[0]), "Restore the last backup beside it.", kind="ledger")
    papers = fair.folder / PAPERS
    older = tuple(sorted(path.name for path in papers.iterdir())) if papers.is_dir() else ()
    return Deleted(texts=texts, files=files, papers=older, copies=copies)


def delete_files(folder: Path, digests: Iterable[str]) -> int:
    """Delete kept pictures, papers and lists by digest; gives how many went."""
    doomed, gone = set(digests), 0
    there = [path for where in KEPT_FILES for path in (folder / where).rglob("*") if path.is_file()]
    for path in there if doomed else ():
        if path.name.partition(".")[0] in doomed:
            path.unlink()
            gone += 1
    return gone


def _files_of(store: Store) -> dict[str, list[str]]:
    """Digests of files by the id of the entry that was deleted as a whole, when no other entry names them."""
    every = {id_ for id_, path, _ in _recorded(store) if not path}
    going: dict[str, list[str]] = {}
    staying: set[str] = set()
    for entry in store.entries():
        event = entry.event
        named = [*event.att, *([event.body["digest"]] if event.name == "list.taken" else [])]
        if event.id in every:
            going[event.id] = named
        else:
            staying.update(named)
    return {id_: [one for one in named if one not in staying] for id_, named in going.items()}


def _recorded(store: Store) -> list[tuple[str, str, Entry]]:
    """Every deletion that counts: event id, field ("" for all), and the entry that records it."""
    return [
        (id_, entry.event.body.get("path", ""), entry)
        for entry in store.entries()
        if entry.event.name == "opening.redacted" and entry.status == "ok"
        for id_ in entry.event.body["ids"]
    ]


def finish(fair: Fair) -> Deleted:
    """Carry out every deletion that was recorded; a second time nothing happens."""
    return _carry_out(fair, {(id_, path) for id_, path, _ in _recorded(fair.journal.store)})


def _note(folder: Path, store: Store) -> tuple[set[str], int]:
    """Bring `deleted.jsonl` up to the log, here and beside the backups; gives the digests of files that go, and how many
    copies of papers went from the medium."""
    lines, files = backing.deletion_lines(folder), _files_of(store)
    for entry in store.entries():
        event = entry.event
        if event.name == "opening.redacted" and entry.status == "ok" and not event.body.get("again"):
            said = {"id": event.id, "at_ms": entry.recv_ms, "ids": event.body["ids"], "who": event.who}
            said |= {name: event.body.get(name, "") for name in ("path", "ground", "second")}
            lines[event.id] = {
                **said,
                "files": sorted({f for id_ in event.body["ids"] for f in files.get(id_, ())}),
            }
    backing.write_deletions(folder, lines)
    last = backing.said_of(folder).get("last")
    copies = backing.carry_deletions(folder, Path(last["file"]).parent) if last else 0
    return {digest for line in lines.values() for digest in line["files"]}, copies


def repeat(journal: Journal, lines: Mapping[str, Mapping[str, Any]]) -> int:
    """Delete again, in a log restored from an older backup, what was deleted since; each is recorded as a repetition.

    Also of entries that this log does not hold yet: a tablet may hand them in again, and their texts stay out. Written
    by the office, with the first deletion's writer as second person, whose roles the older log may not know.
    """
    store = journal.store
    before = [entry.event for entry in store.entries() if entry.event.name == "opening.redacted"]
    known = {event.id for event in before} | {event.body.get("again") for event in before}
    done = 0
    for id_, said in sorted(lines.items(), key=lambda item: item[1]["at_ms"]):
        if id_ in known:
            continue
        second = said["who"] if said["who"] != OFFICE else said["second"]
        body = {**_body(said["ids"], said["path"], said["ground"], second), "again": id_}
        result = journal.add("opening.redacted", sub=store.fair, who=OFFICE, body=body)
        if not result.applied:
            raise LedgerError(f"A deletion could not be repeated: {result.why}")
        store.redact(said["ids"], said["path"])
        done += 1
    return done
