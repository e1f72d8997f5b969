"""The log in one SQLite file: one writer thread with group commit, any number of readers.

    create(path, fair=..., epoch=...)   a new file; refuses to overwrite
    open_ledger(path)                   the writer; LedgerBusyError when another process writes
    read_ledger(path)                   read-only; works while somebody writes

Settings: journal_mode=WAL, synchronous=FULL, foreign_keys, secure_delete, trusted_schema=OFF (and fullfsync on
macOS). The connection that writes also checkpoints. Not for network drives.
"""

import contextlib
import queue
import secrets
import sys
import threading
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Future
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

import apsw

from planish.ledger import sqlite_page
from planish.ledger.accepting import ParsedOffer, accept, prepare
from planish.ledger.locking import WriterLock
from planish.ledger.sqlite_page import Memory, SqlitePage
from planish.ledger.store import (
    DeviceHead,
    Entry,
    Head,
    LedgerBrokenError,
    LedgerBusyError,
    LedgerError,
    LedgerFullError,
    LedgerMissingError,
    Offer,
    Result,
)
from planish.ledger.veiling import COVERED, Veil
from planish.ledger.verifying import verify

GROUP = 256
"""Most requests in one transaction."""
REPAIRED = (3, 51, 3)
"""First SQLite in which two connections cannot spoil the write-ahead log (release notes of 3.51.3, March 2026)."""
RECENT = 512
"""Entries kept in memory for whoever follows the log."""
WAIT_S = 2.0
WIPE_S = 10.0
"""How long a deletion waits for readers, seconds (house default)."""
SYNCHRONOUS = "FULL"
T = TypeVar("T")


def create(path: Path, *, fair: str, epoch: str) -> "SqliteLedger":
    """Make a new, empty ledger and open it for writing. Raises LedgerMissingError when something is there already."""
    if path.exists():
        raise LedgerMissingError(
            f"{path.name} is there already; a ledger is never overwritten. Choose another name."
        )
    _check_engine()
    lock = WriterLock(path, wait_s=WAIT_S)
    connection = apsw.Connection(str(path))
    _settle(connection)
    sqlite_page.lay_out(connection, fair=fair, epoch=epoch)
    return SqliteLedger(path, connection, lock)


def open_ledger(path: Path, *, wait_s: float = WAIT_S) -> "SqliteLedger":
    """Open a ledger for writing; waits `wait_s` seconds for another writer to finish."""
    _must_be(path)
    _check_engine()
    lock = WriterLock(path, wait_s=wait_s)
    try:
        connection = apsw.Connection(str(path), flags=apsw.SQLITE_OPEN_READWRITE)
        _settle(connection)
        sqlite_page.check_form(connection, path.name)
        sqlite_page.bring_up(connection)
        _after_fault(path)
        return SqliteLedger(path, connection, lock)
    except apsw.Error as error:
        lock.release()
        raise _plain(error, path.name) from error
    except LedgerError:
        lock.release()
        raise


def read_ledger(path: Path) -> "SqliteReader":
    """Open a ledger for reading only; a writer may go on meanwhile."""
    _must_be(path)
    try:
        connection = apsw.Connection(str(path), flags=apsw.SQLITE_OPEN_READONLY)
        connection.set_busy_timeout(5_000)
        sqlite_page.check_form(connection, path.name)
        return SqliteReader(path, connection)
    except apsw.Error as error:
        raise _plain(error, path.name) from error
    except ValueError as error:
        raise _spoiled(error, path.name) from error


def _must_be(path: Path) -> None:
    if not path.is_file():
        raise LedgerMissingError(f"There is no ledger at {path}. Start a fair first, or give its place.")


def fault_note(path: Path) -> Path:
    """The file that remembers, across a restart, that the disk reported a fault."""
    return path.with_name(path.name + ".fault")


def _after_fault(path: Path) -> None:
    """After a disk fault the whole log is verified before anything more is acknowledged."""
    note = fault_note(path)
    if not note.exists():
        return
    reader = read_ledger(path)
    problems = verify(reader)
    reader.close()
    if problems:
        raise LedgerBrokenError(
            f"The disk reported a fault and {path.name} is not whole any more. {problems[0]}"
        )
    note.unlink()


def _check_engine() -> None:
    version = tuple(int(part) for part in apsw.sqlite_lib_version().split("."))
    if version < REPAIRED:
        raise LedgerError(
            f"This SQLite is {apsw.sqlite_lib_version()}; from 3.7.0 to 3.51.2 it can spoil a ledger when two "
            "connections meet. Install apsw 3.51.3 or newer."
        )


def _settle(connection: apsw.Connection) -> None:
    connection.set_busy_timeout(5_000)
    settings = ["journal_mode=WAL", f"synchronous={SYNCHRONOUS}", "foreign_keys=ON", "secure_delete=ON"]
    settings += ["trusted_schema=OFF", *(["fullfsync=ON"] if sys.platform == "darwin" else [])]
    for setting in settings:
        connection.execute(f"PRAGMA {setting}").fetchall()


def _plain(error: apsw.Error, name: str) -> LedgerError:
    """An engine's error in words for a person."""
    if isinstance(error, apsw.FullError):
        return LedgerFullError(
            f"The disk that holds {name} is full. Nothing of this was recorded; make room and repeat."
        )
    if isinstance(error, (apsw.NotADBError, apsw.CorruptError)):
        return LedgerBrokenError(
            f"{name} is not a whole ledger ({error}). It was left as it is; restore the last backup beside it."
        )
    if isinstance(error, (apsw.BusyError, apsw.LockedError)):
        return LedgerBusyError(f"{name} is in use by another program ({error}). Try again in a moment.")
    return LedgerBrokenError(
        f"The disk reported a fault while {name} was in use ({error}). Nothing more is recorded until planish was "
        "restarted and the log verified."
    )


def _spoiled(error: ValueError, name: str) -> LedgerBrokenError:
    return LedgerBrokenError(
        f"{name} holds something that was never written ({error}). It was left as it is."
    )


class SqliteReader:
    """The reading half of `store.Store`. One connection, used by one thread at a time."""

    def __init__(self, path: Path, connection: apsw.Connection) -> None:
        self.path = path
        self._db = connection
        self._reading = threading.RLock()
        self.fair = sqlite_page.meta(connection, "fair")
        self.veil = Veil()

    def _read(self, ask: Callable[[], T]) -> T:
        with self._reading:
            try:
                return ask()
            except apsw.Error as error:
                raise _plain(error, self.path.name) from error
            except ValueError as error:  # text that is no UTF-8, a number that is none
                raise _spoiled(error, self.path.name) from error

    @property
    def safe_n(self) -> int:
        """See `Store.safe_n`."""
        return self._read(lambda: int(sqlite_page.meta(self._db, "safe_n")))

    def entries(self, after: int = 0) -> Iterator[Entry]:
        """See `Store.entries`; read in pages, so that a long reader never stands in the way of checkpoints."""
        last = self.head().n
        while after < last:
            page = self._read(partial(sqlite_page.entries, self._db, after, min(after + 1_000, last)))
            yield from map(self.veil.uncover, page)
            after = page[-1].n if page else last

    def entry_of(self, event_id: str) -> Entry | None:
        """See `Store.entry_of`."""
        found = self._read(lambda: sqlite_page.entry_of(self._db, event_id))
        return None if found is None else self.veil.uncover(found)

    def entries_of(self, dev: str, after: int = 0, most: int = 500) -> list[Entry]:
        """See `Store.entries_of`."""
        found = self._read(lambda: sqlite_page.entries_of(self._db, dev, after, most))
        return [self.veil.uncover(entry) for entry in found]

    def head(self) -> Head:
        """See `Store.head`."""
        return self._read(lambda: sqlite_page.head(self._db, self.fair))

    def last_of(self, dev: str) -> DeviceHead:
        """See `Store.last_of`."""
        return self._read(lambda: sqlite_page.last_of(self._db, dev))

    def look(self, key: str) -> str | None:
        """See `Store.look`."""
        return self._read(lambda: sqlite_page.look(self._db, key))

    def standing(self) -> Mapping[str, str]:
        """See `Store.standing`."""
        return self._read(lambda: dict(self._db.execute("SELECT key, value FROM standing ORDER BY key")))

    def columns(self) -> Iterator[tuple[Any, ...]]:
        """The index columns that repeat what `raw` says: n, dev, seq, id, kind, sub, who. For the verifier."""
        yield from self._read(
            lambda: self._db.execute(
                "SELECT n, dev, seq, id, kind, sub, who FROM entry ORDER BY n"
            ).fetchall()
        )

    def soundness(self) -> list[str]:
        """What the engine's own check of the file says; empty when it finds nothing."""
        return self._read(lambda: sqlite_page.soundness(self._db))

    def close(self) -> None:
        """Let go of the file."""
        self._db.close()


class SqliteLedger(SqliteReader):
    """The one writer. Requests queue up; a thread takes up to 256, one transaction, one fsync, then all answers."""

    def __init__(self, path: Path, connection: apsw.Connection, lock: WriterLock) -> None:
        reader = apsw.Connection(str(path), flags=apsw.SQLITE_OPEN_READONLY)
        reader.set_busy_timeout(5_000)
        super().__init__(path, reader)
        self._writer, self._lock = connection, lock
        self._token = secrets.token_hex(8)
        self._broken: LedgerError | None = None
        self._memory = Memory()
        self._recent: tuple[Entry, ...] = ()
        self._safe_n: int | None = None
        self._queue: queue.SimpleQueue[_Request | None] = queue.SimpleQueue()
        self._transact(
            [_Request(lambda page: sqlite_page.set_meta(page.db, "writer", self._token))], first=True
        )
        self._thread = threading.Thread(target=self._serve, name="ledger writer", daemon=True)
        self._thread.start()

    def head(self) -> Head:
        """See `Store.head`; nobody else writes, so what was committed last is known here."""
        return self._head

    @property
    def safe_n(self) -> int:
        """See `Store.safe_n`."""
        known = self._safe_n
        if known is None:
            known = self._safe_n = super().safe_n
        return known

    def recent(self, after: int) -> Sequence[Entry] | None:
        """As `entries`, out of memory: what was committed after `after`. None when it reaches back too far for that."""
        last, kept = self._head.n, self._recent
        if after >= last:
            return ()
        if not kept or kept[0].n > after + 1 or kept[-1].n < last:
            return None
        return [self.veil.uncover(entry) for entry in kept[after + 1 - kept[0].n : last + 1 - kept[0].n]]

    def append(self, batch: Sequence[Offer], *, recv_ms: int, epoch: str | None = None) -> list[Result]:
        """See `Store.append`."""
        return self.append_later(batch, recv_ms=recv_ms, epoch=epoch).result()

    def append_later(
        self, batch: Sequence[Offer], *, recv_ms: int, epoch: str | None = None
    ) -> Future[list[Result]]:
        """As `append`, answered when the transaction is on the disk; nobody waits in a thread meanwhile."""
        prepared = [prepare(offer, self.fair) for offer in batch]
        ids = tuple(event.id for _, event, _ in prepared if event is not None)
        request = _Request(lambda page: _take(page, prepared, recv_ms, epoch), ids, plain=True)
        self._queue.put(request)
        return request.answer

    def hand_over(self, batch: Sequence[Offer], *, recv_ms: int) -> "Future[list[Result]]":
        """As `append`, without waiting for the disk: the answer comes on the future."""
        return self.append_later(batch, recv_ms=recv_ms)

    def redact(self, event_ids: Sequence[str], path: str = "") -> int:
        """See `Store.redact`; the file is written anew without them and the write-ahead log is emptied.

        Raises LedgerBusyError when somebody reads so long that the write-ahead log cannot be emptied: the texts are
        deleted, and calling this again wipes where they lay.
        """
        gone = self._ask(lambda page: page.redact(event_ids, path))
        self.wipe()
        return gone

    def wipe(self) -> None:
        """Write the file anew and empty the write-ahead log, so that nothing deleted lies in either."""
        self._ask(lambda page: page.after_commit("VACUUM"))
        log, until = self.path.with_name(self.path.name + "-wal"), time.monotonic() + WIPE_S
        while True:
            self._ask(lambda page: page.after_commit("PRAGMA wal_checkpoint(TRUNCATE)"))
            if not log.exists() or log.stat().st_size == 0:
                return
            if time.monotonic() > until:
                raise LedgerBusyError(
                    f"The texts are deleted, but somebody is reading {self.path.name} and older pages of it still lie "
                    "on the disk. Finish the deletion when they have done."
                )
            time.sleep(0.05)

    def cover_all(self) -> int:
        """Cover every opening of a ballot that was written readable before, and wipe where it lay; gives how many."""
        if (
            self.veil.public is None
            or self._read(lambda: sqlite_page.meta(self._db, "covered")) == self.veil.id
        ):
            return 0
        done = self._ask(lambda page: page.cover_all(COVERED))
        if done:
            self.wipe()
        return done

    def keep_safe(self, n: int) -> None:
        """See `Store.keep_safe`."""
        self._ask(lambda page: page.keep_safe(n))
        self._safe_n = None

    def renew(self, epoch: str) -> None:
        """See `Store.renew`."""
        self._ask(lambda page: page.set_meta("epoch", epoch))

    def rebuild(self) -> None:
        """Drop the derived keys and judge the log again."""
        self._ask(lambda page: page.rebuild())

    def close(self) -> None:
        """Finish what is queued, fold the write-ahead log into the file, and let the next writer in."""
        if self._thread.is_alive():
            self._queue.put(None)
            self._thread.join()
        super().close()
        self._writer.close()
        self._lock.release()

    def __enter__(self) -> "SqliteLedger":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _ask(self, work: "Callable[[SqlitePage], T]") -> T:
        request = _Request(lambda page: _on_all(page, work))
        self._queue.put(request)
        answer: T = request.answer.result()
        return answer

    def _serve(self) -> None:
        while (request := self._queue.get()) is not None:
            group, last = [request], False
            while len(group) < GROUP and not last:
                try:
                    more = self._queue.get_nowait()
                except queue.Empty:
                    break
                if more is None:
                    last = True
                else:
                    group.append(more)
            self._transact(group)
            if last:
                return

    def _transact(self, group: "list[_Request]", *, first: bool = False) -> None:
        """One transaction for the whole group; nobody is answered before it is on the disk."""
        try:
            if self._broken is not None:
                raise self._broken
            answers, later = self._commit(group, first)
            for statement in later:
                self._writer.execute(statement).fetchall()
        except Exception as error:
            told = self._note(error)
            if first:
                raise told from error
            for request in group:
                request.answer.set_exception(told)
            return
        for request, answer in zip(group, answers, strict=True):
            request.answer.set_result(answer)

    def _commit(self, group: "list[_Request]", first: bool) -> tuple[list[Any], list[str]]:
        page = SqlitePage(self._writer, self.fair, self.veil, self._memory)
        self._writer.execute("BEGIN IMMEDIATE")
        try:
            if not first and sqlite_page.meta(self._writer, "writer") != self._token:
                raise LedgerBusyError(
                    f"Another planish has taken over {self.path.name}; this one must stop writing."
                )
            page.expect([event_id for request in group for event_id in request.ids])
            answers = [request.work(page) for request in group]
            page.flush()
            head = page.head()
            self._writer.execute("COMMIT")
        except BaseException:
            self._memory.forget()
            if not self._writer.getautocommit():
                self._writer.execute("ROLLBACK")
            raise
        plain = all(request.plain for request in group)
        self._recent = (*self._recent, *page.written)[-RECENT:] if plain else ()
        self._head = head
        return answers, page.later

    def _note(self, error: Exception) -> Exception:
        """After anything but a full disk, nothing is acknowledged any more: the kernel may have dropped pages."""
        told: Exception = _plain(error, self.path.name) if isinstance(error, apsw.Error) else error
        if isinstance(told, (LedgerBrokenError, LedgerBusyError)) and self._broken is None:
            self._broken = told
            self._writer.config(apsw.SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1)
        if isinstance(told, LedgerBrokenError):
            with contextlib.suppress(OSError):
                fault_note(self.path).write_text(f"{told}\n", encoding="utf-8")
        return told


class _Request:
    """Work for the writer thread, and where its answer goes. `plain` adds entries and touches nothing that lies there."""

    def __init__(
        self, work: Callable[[SqlitePage], Any], ids: Sequence[str] = (), *, plain: bool = False
    ) -> None:
        self.work, self.ids, self.plain = work, ids, plain
        self.answer: Future[Any] = Future()


def _on_all(page: SqlitePage, work: Callable[[SqlitePage], T]) -> T:
    """Work that asks the tables, with everything written that was gathered before it."""
    page.flush()
    return work(page)


def _take(page: SqlitePage, prepared: Sequence[ParsedOffer], recv_ms: int, epoch: str | None) -> list[Result]:
    own = page.head().epoch
    if epoch is not None and epoch != own:
        return [
            Result(status="epoch", epoch=own, last=page.last_of(event.dev).seq if event else 0)
            for _, event, _ in prepared
        ]
    return [accept(page, one, recv_ms) for one in prepared]


__all__ = ["SqliteLedger", "SqliteReader", "create", "open_ledger", "read_ledger"]
