"""The log in PostgreSQL, for fairs with several desk servers. The server software holds no state.

    create(conninfo, schema=..., fair=..., epoch=...)
    open_ledger(conninfo, schema=...)

Order is gapless: one head row is locked for the length of each transaction (`SELECT … FOR UPDATE`), so numbers are
given in the order in which transactions commit, and a reader who follows them misses nothing. A sequence would not do:
its numbers become visible out of order. `synchronous_commit` is on for the writing connection.
"""

import threading
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import psycopg
from psycopg import errors, sql

from planish.ledger import chain
from planish.ledger.accepting import accept, keys_of, prepare
from planish.ledger.commitments import Opening
from planish.ledger.store import (
    DeviceHead,
    Entry,
    Head,
    LedgerBrokenError,
    LedgerError,
    LedgerFullError,
    LedgerMissingError,
    Offer,
    Result,
)
from planish.ledger.veiling import Veil

Connection = psycopg.Connection[tuple[Any, ...]]
_TABLES = """
CREATE TABLE head (one boolean PRIMARY KEY DEFAULT true CHECK (one), fair text NOT NULL, epoch text NOT NULL,
  n bigint NOT NULL, hash bytea NOT NULL, recv_ms bigint NOT NULL, safe_n bigint NOT NULL);
CREATE TABLE entry (
  n bigint PRIMARY KEY, recv_ms bigint NOT NULL, status text NOT NULL, dev text NOT NULL, seq bigint NOT NULL,
  id text NOT NULL UNIQUE, kind text NOT NULL, sub text NOT NULL, who text NOT NULL, raw bytea NOT NULL,
  leaf bytea NOT NULL, hash bytea NOT NULL, UNIQUE (dev, seq));
CREATE TABLE opening (n bigint NOT NULL REFERENCES entry, path text NOT NULL, salt bytea NOT NULL,
  value bytea NOT NULL, PRIMARY KEY (n, path));
CREATE TABLE signature (n bigint PRIMARY KEY REFERENCES entry, sig bytea NOT NULL);
CREATE TABLE standing (key text COLLATE "C" PRIMARY KEY, value text NOT NULL);
CREATE FUNCTION entry_stays() RETURNS trigger LANGUAGE plpgsql AS
  $$BEGIN RAISE EXCEPTION 'an entry is never changed or deleted'; END$$;
CREATE TRIGGER entry_stays BEFORE UPDATE OR DELETE OR TRUNCATE ON entry EXECUTE FUNCTION entry_stays();
"""
_LATER = "CREATE TABLE IF NOT EXISTS signature (n bigint PRIMARY KEY REFERENCES entry, sig bytea NOT NULL)"
_ENTRY = "SELECT n, recv_ms, status, raw, leaf, hash FROM entry"
PAGE = 1_000


def create(conninfo: str, *, schema: str, fair: str, epoch: str) -> "PostgresLedger":
    """Make the tables of an empty ledger in a schema of its own, and open it."""
    with _connect(conninfo) as db, db.transaction():
        try:
            db.execute(sql.SQL("CREATE SCHEMA {}").format(sql.Identifier(schema)))
        except errors.DuplicateSchema:
            raise LedgerMissingError(
                f"There is a ledger {schema!r} already; it is never overwritten."
            ) from None
        _enter(db, schema)
        db.execute(_TABLES)
        start = (fair, epoch, chain.genesis(fair))
        db.execute("INSERT INTO head VALUES (true, %s, %s, 0, %s, 0, 0)", start)
    return open_ledger(conninfo, schema=schema)


def open_ledger(conninfo: str, *, schema: str) -> "PostgresLedger":
    """Open a ledger; any number of servers may have it open and write."""
    db = _connect(conninfo)
    try:
        _enter(db, schema)
        db.execute(_LATER)
        return PostgresLedger(db)
    except errors.UndefinedTable:
        db.close()
        raise LedgerMissingError(f"There is no ledger {schema!r} in this database.") from None


def _connect(conninfo: str) -> Connection:
    try:
        db = psycopg.connect(conninfo, autocommit=True)
    except psycopg.OperationalError as error:
        raise LedgerError(f"The database does not answer ({error}). Nothing was recorded.") from error
    db.execute("SET synchronous_commit = on")
    return db


def _enter(db: Connection, schema: str) -> None:
    db.execute(sql.SQL("SET search_path = {}").format(sql.Identifier(schema)))


def _plain(error: psycopg.Error) -> LedgerError:
    if isinstance(error, errors.DiskFull):
        return LedgerFullError(
            "The database's disk is full. Nothing of this was recorded; make room and repeat."
        )
    if isinstance(error, errors.IoError):
        return LedgerBrokenError(f"The database reported a disk fault ({error}).")
    return LedgerError(
        f"The database did not confirm ({error}). Send the same events again; none is stored twice."
    )


class PostgresLedger:
    """Keeps the promise of `store.Store`. One connection, one thread at a time; open more for more."""

    def __init__(self, db: Connection) -> None:
        self._db = db
        self._using = threading.RLock()
        self.fair = str(self._one("SELECT fair FROM head")[0])
        self.veil = Veil()

    def _one(self, query: str, values: Sequence[Any] = ()) -> tuple[Any, ...]:
        row = self._rows(query, values)
        return row[0]

    def _rows(self, query: str, values: Sequence[Any] = ()) -> list[tuple[Any, ...]]:
        with self._using:
            return self._db.execute(query.encode(), values).fetchall()

    @property
    def safe_n(self) -> int:
        """See `Store.safe_n`."""
        return int(self._one("SELECT safe_n FROM head")[0])

    def append(self, batch: Sequence[Offer], *, recv_ms: int, epoch: str | None = None) -> list[Result]:
        """See `Store.append`."""
        prepared = [prepare(offer, self.fair) for offer in batch]
        try:
            with self._using, self._db.transaction():
                page = PostgresPage(self._db, self.veil)
                own = page.head().epoch
                if epoch is not None and epoch != own:
                    lasts = [page.last_of(event.dev).seq if event else 0 for _, event, _ in prepared]
                    return [Result(status="epoch", epoch=own, last=last) for last in lasts]
                results = [accept(page, one, recv_ms) for one in prepared]
                page.finish()
            return results
        except psycopg.Error as error:
            raise _plain(error) from error

    def entries(self, after: int = 0) -> Iterator[Entry]:
        """See `Store.entries`."""
        last = self.head().n
        while after < last:
            upto = min(after + PAGE, last)
            openings: dict[int, dict[str, Opening]] = {}
            asked = "SELECT n, path, salt, value FROM opening WHERE n > %s AND n <= %s ORDER BY n, path"
            for n, path, salt, value in self._rows(asked, (after, upto)):
                openings.setdefault(n, {})[path] = Opening(path=path, salt=salt, value=value)
            asked = "SELECT n, sig FROM signature WHERE n > %s AND n <= %s"
            signatures = dict(self._rows(asked, (after, upto)))
            for row in self._rows(f"{_ENTRY} WHERE n > %s AND n <= %s ORDER BY n", (after, upto)):
                n, recv_ms, status, raw, leaf, hash_ = row
                there = openings.get(n, {})
                sig = signatures.get(n, b"")
                entry = Entry(
                    n=n,
                    recv_ms=recv_ms,
                    status=status,
                    raw=raw,
                    leaf=leaf,
                    hash=hash_,
                    openings=there,
                    sig=sig,
                )
                yield self.veil.uncover(entry)
            after = upto

    def entry_of(self, event_id: str) -> Entry | None:
        """See `Store.entry_of`."""
        for (n,) in self._rows("SELECT n FROM entry WHERE id = %s", (event_id,)):
            return next(self.entries(n - 1))
        return None

    def entries_of(self, dev: str, after: int = 0, most: int = 500) -> list[Entry]:
        """See `Store.entries_of`."""
        asked = "SELECT n FROM entry WHERE dev = %s AND seq > %s ORDER BY seq LIMIT %s"
        return [next(self.entries(n - 1)) for (n,) in self._rows(asked, (dev, after, most))]

    def head(self) -> Head:
        """See `Store.head`."""
        n, hash_, recv_ms, epoch = self._one("SELECT n, hash, recv_ms, epoch FROM head")
        return Head(n=n, hash=hash_, recv_ms=recv_ms, epoch=epoch)

    def last_of(self, dev: str) -> DeviceHead:
        """See `Store.last_of`."""
        with self._using:
            return _last_of(self._db, dev)

    def look(self, key: str) -> str | None:
        """See `Store.look`."""
        with self._using:
            return _look(self._db, key)

    def standing(self) -> Mapping[str, str]:
        """See `Store.standing`."""
        return {key: value for key, value in self._rows("SELECT key, value FROM standing ORDER BY key")}

    def columns(self) -> Iterator[tuple[Any, ...]]:
        """n, dev, seq, id, kind, sub, who as indexed."""
        yield from self._rows("SELECT n, dev, seq, id, kind, sub, who FROM entry ORDER BY n")

    def soundness(self) -> list[str]:
        """PostgreSQL looks after its own files (checksums, `pg_amcheck`); here the head row is compared."""
        head = self.head()
        rows = self._rows("SELECT n, hash FROM entry ORDER BY n DESC LIMIT 1")
        newest = rows[0] if rows else (0, chain.genesis(self.fair))
        return [] if newest == (head.n, head.hash) else ["the head row does not name the newest entry"]

    def redact(self, event_ids: Sequence[str], path: str = "") -> int:
        """See `Store.redact`. Old row versions go with the database's VACUUM, which is asked for here."""
        query = b"DELETE FROM opening o USING entry e WHERE o.n = e.n AND e.id = ANY(%s) AND (%s = '' OR o.path = %s)"
        with self._using:
            gone = self._db.execute(query, ([*event_ids], path, path)).rowcount
            self._db.execute("VACUUM opening")
        return gone

    def keep_safe(self, n: int) -> None:
        """See `Store.keep_safe`."""
        with self._using:
            self._db.execute("UPDATE head SET safe_n = greatest(safe_n, least(%s, n))", (n,))

    def renew(self, epoch: str) -> None:
        """See `Store.renew`."""
        with self._using:
            self._db.execute("UPDATE head SET epoch = %s", (epoch,))

    def rebuild(self) -> None:
        """Drop the derived keys and set them again from the recorded statuses."""
        with self._using, self._db.transaction():
            page = PostgresPage(self._db, self.veil)
            self._db.execute("DELETE FROM standing")
            for entry in self.entries():
                for key, value in keys_of(entry, look=page.look, raw_of=page.raw_of):
                    page.put(key, value)

    def close(self) -> None:
        """See `Store.close`."""
        self._db.close()

    def __enter__(self) -> "PostgresLedger":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


def _last_of(db: Connection, dev: str) -> DeviceHead:
    for seq, raw in db.execute("SELECT seq, raw FROM entry WHERE dev = %s ORDER BY seq DESC LIMIT 1", (dev,)):
        return DeviceHead(seq=seq, digest=chain.digest(raw).hex())
    return DeviceHead()


def _look(db: Connection, key: str) -> str | None:
    for (value,) in db.execute("SELECT value FROM standing WHERE key = %s", (key,)):
        return str(value)
    return None


class PostgresPage:
    """One open transaction, holding the head row; see `store.Page`."""

    def __init__(self, db: Connection, veil: Veil) -> None:
        self._db, self._veil = db, veil
        row = db.execute("SELECT fair, n, hash, recv_ms, epoch FROM head FOR UPDATE").fetchone()
        if row is None:
            raise LedgerBrokenError("The ledger's head row is gone.")
        self.fair = str(row[0])
        self._head = Head(n=row[1], hash=row[2], recv_ms=row[3], epoch=row[4])

    def head(self) -> Head:
        """See `Page.head`."""
        return self._head

    def raw_of(self, event_id: str) -> tuple[int, bytes] | None:
        """See `Page.raw_of`."""
        for n, raw in self._db.execute("SELECT n, raw FROM entry WHERE id = %s", (event_id,)):
            return n, raw
        return None

    def last_of(self, dev: str) -> DeviceHead:
        """See `Page.last_of`."""
        return _last_of(self._db, dev)

    def look(self, key: str) -> str | None:
        """See `Page.look`."""
        return _look(self._db, key)

    def put(self, key: str, value: str) -> None:
        """See `Page.put`."""
        query = "INSERT INTO standing VALUES (%s, %s) ON CONFLICT (key) DO UPDATE SET value = excluded.value"
        self._db.execute(query, (key, value))

    def write(self, entry: Entry) -> None:
        """See `Page.write`."""
        event = entry.event
        index = (event.dev, event.seq, event.id, event.kind, event.sub, event.who)
        self._db.execute(
            "INSERT INTO entry VALUES (%s, %s, %s, %s, %s, %s, %s, %s, %s, %s, %s, %s)",
            (entry.n, entry.recv_ms, entry.status, *index, entry.raw, entry.leaf, entry.hash),
        )
        for opening in entry.openings.values():
            kept = self._veil.cover(event.name, entry.n, opening)
            row = (entry.n, kept.path, kept.salt, kept.value)
            self._db.execute("INSERT INTO opening VALUES (%s, %s, %s, %s)", row)
        if entry.sig:
            self._db.execute("INSERT INTO signature VALUES (%s, %s)", (entry.n, entry.sig))
        self._head = Head(n=entry.n, hash=entry.hash, recv_ms=entry.recv_ms, epoch=self._head.epoch)

    def finish(self) -> None:
        """Move the head row on, in the same transaction."""
        head = self._head
        self._db.execute("UPDATE head SET n = %s, hash = %s, recv_ms = %s", (head.n, head.hash, head.recv_ms))
