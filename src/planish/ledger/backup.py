"""Copies of a SQLite ledger, made by the engine while it is in use, and opened and verified before they count.

    back_up(ledger, target)          a verified copy at `target`; raises `ledger.safe_n`
    copy(path, target)               the engine's copy alone, for whoever verifies it next (`checked`)
    restore(copy, place, epoch=...)  a new ledger at `place` from a verified copy; what lay there is kept beside it
    which_to_keep(times)             12 of the last hour, one an hour for a day, one a day for five weeks

Never copy the file itself while planish runs: newer events lie in the write-ahead log beside it.
"""

import contextlib
import os
from collections.abc import Callable, Iterable
from pathlib import Path

import apsw

from planish.ledger import sqlite
from planish.ledger.locking import WriterLock
from planish.ledger.sqlite import SqliteLedger, SqliteReader
from planish.ledger.store import Head, LedgerBrokenError, LedgerFullError, LedgerMissingError
from planish.ledger.verifying import Remembered, verify

SIDE_FILES = ("", "-wal", "-shm")
FIVE_MINUTES_MS, HOUR_MS, DAY_MS = 300_000, 3_600_000, 86_400_000
KEPT = ((FIVE_MINUTES_MS, 12), (HOUR_MS, 24), (DAY_MS, 35))
"""The newest copy of so many spans of each length. 35 days: deleted words live no longer in any backup (house default)."""


def back_up(ledger: SqliteLedger, target: Path) -> Head:
    """Copy through the engine, open the copy, verify all of it, compare the head; only then raise `safe_n`.

    `target` should lie on a second medium. An older file of that name is replaced only by a good copy.
    Raises LedgerBrokenError when the copy does not verify, LedgerFullError when there is no room for it.
    """
    before = ledger.head()
    part = target.with_name(target.name + ".part")
    copy(ledger.path, part)
    copied = checked(part, [Remembered(n=before.n, hash=before.hash, where="the ledger")] if before.n else [])
    _settle(part, target)
    ledger.keep_safe(copied.n)
    return copied


def checked(copy: Path, remembered: Iterable[Remembered] = (), *, will_delete: bool = False) -> Head:
    """Open a copy, verify the whole chain, give its head. Raises LedgerBrokenError with the first problem.

    A text whose deletion is recorded and that is still there is a problem too, unless the caller is about to delete it.
    """
    reader = sqlite.read_ledger(copy)
    try:
        found = verify(reader, remembered)
        problems = [one for one in found if not (will_delete and one.code == "ledger.not_deleted")]
        if problems:
            raise LedgerBrokenError(f"{copy.name} does not verify. {problems[0]}")
        return reader.head()
    finally:
        reader.close()


def restore(
    source: Path,
    place: Path,
    *,
    epoch: str,
    remembered: Iterable[Remembered] = (),
    finishing: Callable[[SqliteLedger], None] = lambda _: None,
) -> SqliteLedger:
    """Make a ledger at `place` from a verified copy, with a new epoch, and open it for writing.

    What lay at `place` is renamed to `place.broken-1` (or -2 …) with its side files, never overwritten. Texts whose
    deletion the copy records are deleted again. `finishing` is given the new ledger before it has its name and anybody
    can read it: the caller writes `desk.restored` there, and repeats the deletions that are younger than the copy.
    """
    lock = WriterLock(place, wait_s=sqlite.WAIT_S)
    part = place.with_name(place.name + ".part")
    try:
        copy(source, part)
        checked(part, remembered, will_delete=True)
        with sqlite.open_ledger(part) as renewed:
            renewed.renew(epoch)
            for event_id, path in redactions(renewed):
                renewed.redact([event_id], path)
            finishing(renewed)
        checked(part)
        _put_aside(place)
        _settle(part, place)
    finally:
        for side in (*SIDE_FILES, ".lock"):
            part.with_name(part.name + side).unlink(missing_ok=True)
        lock.release()
    return sqlite.open_ledger(place)


def redactions(reader: SqliteReader) -> list[tuple[str, str]]:
    """(event id, field) of every deletion the log records, "" for all fields."""
    return [
        (event_id, entry.event.body.get("path", ""))
        for entry in reader.entries()
        if entry.event.name == "opening.redacted" and entry.status == "ok"
        for event_id in entry.event.body["ids"]
    ]


def which_to_keep(times_ms: Iterable[int]) -> frozenset[int]:
    """Of backups made at these times (ms): the newest of each of the last 12 spans of five minutes in which one was
    made, of the last 24 hours, and of each day that began less than 35 days before the newest. The newest always.
    """
    newest_first = sorted(set(times_ms), reverse=True)
    keep: set[int] = set()
    for span, most in KEPT:
        first_of: dict[int, int] = {}
        for time in newest_first:
            first_of.setdefault(time // span, time)
        keep.update([*first_of.values()][:most])
    return frozenset(time for time in keep if time > newest_first[0] - KEPT[-1][1] * DAY_MS)


def copy(source: Path, target: Path) -> None:
    """The engine's own copy, of one moment, while others write. Raises LedgerMissingError when there is nothing to copy.

    In one step: between steps another connection's write would make the engine begin again, under load for ever.
    """
    if not source.is_file():
        raise LedgerMissingError(f"There is no ledger at {source}.")
    for side in (*SIDE_FILES, ".lock"):
        target.with_name(target.name + side).unlink(missing_ok=True)
    try:
        reading = apsw.Connection(str(source), flags=apsw.SQLITE_OPEN_READONLY)
        writing = apsw.Connection(str(target))
        writing.execute(
            "PRAGMA synchronous=OFF"
        ).fetchall()  # a copy counts only after `_settle`, and syncs stall the desk
        with writing.backup("main", reading, "main") as backup:
            backup.step(-1)
        writing.execute("PRAGMA journal_mode=DELETE").fetchall()
        writing.close()
        reading.close()
    except apsw.FullError as error:
        raise LedgerFullError(f"There is no room for a copy at {target.parent}.") from error
    except apsw.Error as error:
        raise LedgerBrokenError(f"{source.name} cannot be copied ({error}). It was left as it is.") from error


def _settle(part: Path, target: Path) -> None:
    """Onto the disk, then under its name, then the folder onto the disk."""
    with part.open("rb+") as handle:
        os.fsync(handle.fileno())
    part.replace(target)
    with contextlib.suppress(OSError):  # some systems cannot sync a folder
        folder = os.open(target.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)


def _put_aside(place: Path) -> None:
    """Rename what lies at a place, with its side files; never overwrite an earlier one."""
    if not place.exists():
        return
    number = 1
    while place.with_name(f"{place.name}.broken-{number}").exists():
        number += 1
    for side in reversed(SIDE_FILES):
        there = place.with_name(place.name + side)
        if there.exists():
            there.rename(place.with_name(f"{place.name}.broken-{number}{side}"))
