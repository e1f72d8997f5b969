"""Copies of a SQLite ledger, made by the engine while it is in use, and opened and verified before they count.

    back_up(ledger, target)          a verified copy at `target`; raises `ledger.safe_n`
    restore(copy, place, epoch=...)  a new ledger at `place` from a verified copy; what lay there is kept beside it
    which_to_keep(times)             12 of the last hour, one an hour for a day, one a day

Never copy the file itself while planish runs: newer events lie in the write-ahead log beside it.
"""

import contextlib
import os
from collections.abc import Iterable
from pathlib import Path

import apsw

from planish.ledger import sqlite
from planish.ledger.locking import WriterLock
from planish.ledger.sqlite import SqliteLedger, SqliteReader
from planish.ledger.store import Head, LedgerBrokenError, LedgerFullError, LedgerMissingError
from planish.ledger.verifying import Remembered, verify

SIDE_FILES = ("", "-wal", "-shm")


def back_up(ledger: SqliteLedger, target: Path) -> Head:
    """Copy through the engine, open the copy, verify all of it, compare the head; only then raise `safe_n`.

    `target` should lie on a second medium. An older file of that name is replaced only by a good copy.
    Raises LedgerBrokenError when the copy does not verify, LedgerFullError when there is no room for it.
    """
    before = ledger.head()
    part = target.with_name(target.name + ".part")
    _copy(ledger.path, part)
    copied = checked(part, [Remembered(n=before.n, hash=before.hash, where="the ledger")] if before.n else [])
    _settle(part, target)
    ledger.keep_safe(copied.n)
    return copied


def checked(copy: Path, remembered: Iterable[Remembered] = ()) -> Head:
    """Open a copy, verify the whole chain, give its head. Raises LedgerBrokenError with the first problem."""
    reader = sqlite.read_ledger(copy)
    try:
        problems = verify(reader, remembered)
        if problems:
            raise LedgerBrokenError(f"{copy.name} does not verify. {problems[0]}")
        return reader.head()
    finally:
        reader.close()


def restore(copy: Path, place: Path, *, epoch: str, again: Iterable[tuple[str, str]] = ()) -> SqliteLedger:
    """Make a ledger at `place` from a verified copy, with a new epoch, and open it for writing.

    What lay at `place` is renamed to `place.broken-1` (or -2 …) with its side files, never overwritten. `again` may
    name (event id, field) pairs whose texts were deleted after the copy was made; they are deleted again before
    anybody can read them. The caller writes `desk.restored`.
    """
    lock = WriterLock(place, wait_s=sqlite.WAIT_S)
    part = place.with_name(place.name + ".part")
    _copy(copy, part)
    checked(part)
    renewed = sqlite.open_ledger(part)
    renewed.renew(epoch)
    for event_id, path in (*redactions(renewed), *again):
        renewed.redact([event_id], path)
    renewed.close()
    _put_aside(place)
    _settle(part, place)
    part.with_name(part.name + ".lock").unlink(missing_ok=True)
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
    """Of backups made at these times: the newest 12, the newest of each of the last 24 hours, the newest of each day."""
    newest_first = sorted(set(times_ms), reverse=True)
    keep = set(newest_first[:12])
    hours: dict[int, int] = {}
    days: dict[int, int] = {}
    for time in newest_first:
        hours.setdefault(time // 3_600_000, time)
        days.setdefault(time // 86_400_000, time)
    keep.update(hours[hour] for hour in sorted(hours, reverse=True)[:24])
    return frozenset(keep | {*days.values()})


def _copy(source: Path, target: Path) -> None:
    """The engine's own copy. Raises LedgerMissingError when there is nothing to copy."""
    if not source.is_file():
        raise LedgerMissingError(f"There is no ledger at {source}.")
    for side in (*SIDE_FILES, ".lock"):
        target.with_name(target.name + side).unlink(missing_ok=True)
    try:
        reading = apsw.Connection(str(source), flags=apsw.SQLITE_OPEN_READONLY)
        writing = apsw.Connection(str(target))
        with writing.backup("main", reading, "main") as backup:
            while not backup.done:
                backup.step(4_096)
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
