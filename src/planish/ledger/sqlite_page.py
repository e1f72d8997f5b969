"""The tables of the SQLite ledger, and one open transaction on them."""

from collections.abc import Sequence
from dataclasses import replace

import apsw

from planish.ledger import chain
from planish.ledger.accepting import keys_of
from planish.ledger.commitments import Opening
from planish.ledger.events import read
from planish.ledger.store import DeviceHead, Entry, Head, LedgerBrokenError
from planish.ledger.veiling import Veil

FORM = "planish ledger 1"
_TABLES = """
CREATE TABLE meta (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT, WITHOUT ROWID;
CREATE TABLE entry (
  n INTEGER PRIMARY KEY, recv_ms INTEGER NOT NULL, status TEXT NOT NULL,
  dev TEXT NOT NULL, seq INTEGER NOT NULL, id TEXT NOT NULL, kind TEXT NOT NULL, sub TEXT NOT NULL, who TEXT NOT NULL,
  raw BLOB NOT NULL, leaf BLOB NOT NULL, hash BLOB NOT NULL
) STRICT;
CREATE UNIQUE INDEX entry_id ON entry (id);
CREATE UNIQUE INDEX entry_number ON entry (dev, seq);
CREATE TABLE opening (
  n INTEGER NOT NULL REFERENCES entry (n), path TEXT NOT NULL, salt BLOB NOT NULL, value BLOB NOT NULL,
  PRIMARY KEY (n, path)
) STRICT;
CREATE TABLE standing (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT, WITHOUT ROWID;
CREATE TABLE signature (n INTEGER PRIMARY KEY REFERENCES entry (n), sig BLOB NOT NULL) STRICT;
CREATE TRIGGER entry_stays BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'an entry is never changed'); END;
CREATE TRIGGER entry_remains BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'an entry is never deleted'); END;
"""
_LATER = {
    "signature": "CREATE TABLE signature (n INTEGER PRIMARY KEY REFERENCES entry (n), sig BLOB NOT NULL) STRICT"
}
"""Tables that a ledger made earlier lacks until it is opened for writing; a reader takes them as empty."""
_ENTRY = "SELECT n, recv_ms, status, raw, leaf, hash FROM entry"
_INSERTS = {"entry": 12, "opening": 4, "signature": 2}
"""Tables that an entry is written to, in the order in which they need each other, with their columns."""
_AT_ONCE = (64, 8, 1)
"""Rows in one statement: few sizes, so that the engine keeps the statements ready."""
_GATHERED, _EXPECTED, _REMEMBERED = 512, 200, 50_000
"""Most rows gathered, ids looked up together, keys kept in memory."""


def lay_out(db: apsw.Connection, *, fair: str, epoch: str) -> None:
    """Make the tables of an empty ledger."""
    with db:
        db.execute(_TABLES)
        for key, value in (("form", FORM), ("fair", fair), ("epoch", epoch), ("safe_n", "0"), ("writer", "")):
            set_meta(db, key, value)


def check_form(db: apsw.Connection, name: str) -> None:
    """Raises LedgerBrokenError when the file is some other database, or one of a newer form."""
    there = db.execute(
        "SELECT count(*) FROM sqlite_schema WHERE name IN ('meta', 'entry', 'opening')"
    ).fetchall()
    if there[0][0] != 3:
        raise LedgerBrokenError(f"{name} is no planish ledger, or not a whole one. It was left as it is.")
    if meta(db, "form") != FORM:
        raise LedgerBrokenError(f"{name} has the form {meta(db, 'form')!r}; this planish reads {FORM!r}.")


def bring_up(db: apsw.Connection) -> None:
    """Add the tables that a ledger made by an earlier planish lacks. What it holds stays as it is."""
    there = {str(row[0]) for row in db.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")}
    with db:
        for name, statement in _LATER.items():
            if name not in there:
                db.execute(statement)


def meta(db: apsw.Connection, key: str) -> str:
    """One setting of the file."""
    rows = db.execute("SELECT value FROM meta WHERE key = ?", (key,)).fetchall()
    return str(rows[0][0]) if rows else ""


def set_meta(db: apsw.Connection, key: str, value: str) -> None:
    """Write one setting."""
    put = "INSERT INTO meta VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value"
    db.execute(put, (key, value))
    db.execute(put, ("check", _meta_check(db)))


def _meta_check(db: apsw.Connection) -> str:
    rows = db.execute("SELECT key, value FROM meta WHERE key <> 'check' ORDER BY key").fetchall()
    return chain.digest(repr(rows).encode()).hex()


def soundness(db: apsw.Connection) -> list[str]:
    """What the engine's own check says, and whether settings and tables are as they were laid out."""
    found = [str(row[0]) for row in db.execute("PRAGMA integrity_check(20)")]
    found = [line for line in found if line != "ok"]
    if meta(db, "check") != _meta_check(db):
        found.append("the ledger's settings were changed")
    fresh = apsw.Connection(":memory:")
    fresh.execute(_TABLES)
    schema = "SELECT type, name, tbl_name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite_stat%' ORDER BY name, sql"
    there, wanted = db.execute(schema).fetchall(), fresh.execute(schema).fetchall()
    missing = _LATER.keys() - {row[1] for row in there}
    if there != [row for row in wanted if row[2] not in missing]:
        found.append("the ledger's tables were changed")
    return found


def head(db: apsw.Connection, fair: str) -> Head:
    """The newest entry."""
    epoch = meta(db, "epoch")
    for n, hash_, recv_ms in db.execute("SELECT n, hash, recv_ms FROM entry ORDER BY n DESC LIMIT 1"):
        return Head(n=n, hash=hash_, recv_ms=recv_ms, epoch=epoch)
    return Head(n=0, hash=chain.genesis(fair), recv_ms=0, epoch=epoch)


def last_of(db: apsw.Connection, dev: str) -> DeviceHead:
    """A device's newest event."""
    for seq, raw in db.execute("SELECT seq, raw FROM entry WHERE dev = ? ORDER BY seq DESC LIMIT 1", (dev,)):
        return DeviceHead(seq=seq, digest=chain.digest(raw).hex())
    return DeviceHead()


def look(db: apsw.Connection, key: str) -> str | None:
    """What a key holds."""
    for (value,) in db.execute("SELECT value FROM standing WHERE key = ?", (key,)):
        return str(value)
    return None


def entries(db: apsw.Connection, after: int, upto: int) -> list[Entry]:
    """Entries above `after`, up to `upto`, with their openings."""
    openings: dict[int, dict[str, Opening]] = {}
    rows = db.execute(
        "SELECT n, path, salt, value FROM opening WHERE n > ? AND n <= ? ORDER BY n, path", (after, upto)
    )
    for n, path, salt, value in rows:
        openings.setdefault(n, {})[path] = Opening(path=path, salt=salt, value=value)
    signatures = _signatures(db, after, upto)
    found = db.execute(f"{_ENTRY} WHERE n > ? AND n <= ? ORDER BY n", (after, upto))
    return [_entry(row, openings.get(row[0], {}), signatures.get(row[0], b"")) for row in found]


def _signatures(db: apsw.Connection, after: int, upto: int) -> dict[int, bytes]:
    try:
        rows = db.execute("SELECT n, sig FROM signature WHERE n > ? AND n <= ?", (after, upto))
    except apsw.SQLError:  # a ledger made earlier, read before it was opened for writing
        return {}
    return {int(n): bytes(sig) for n, sig in rows}


def entry_of(db: apsw.Connection, event_id: str) -> Entry | None:
    """The entry of one event."""
    for (n,) in db.execute("SELECT n FROM entry WHERE id = ?", (event_id,)):
        return entries(db, n - 1, n)[0]
    return None


def entries_of(db: apsw.Connection, dev: str, after: int, most: int) -> list[Entry]:
    """A device's own entries above its number `after`."""
    asked = "SELECT n FROM entry WHERE dev = ? AND seq > ? ORDER BY seq LIMIT ?"
    numbers = [n for (n,) in db.execute(asked, (dev, after, most))]
    return [entries(db, n - 1, n)[0] for n in numbers]


def _entry(row: Sequence[object], openings: dict[str, Opening], sig: bytes) -> Entry:
    n, recv_ms, status, raw, leaf, hash_ = row
    return Entry(  # the columns are STRICT, so the types are the table's
        n=n,  # type: ignore[arg-type]
        recv_ms=recv_ms,  # type: ignore[arg-type]
        status=status,  # type: ignore[arg-type]
        raw=raw,  # type: ignore[arg-type]
        leaf=leaf,  # type: ignore[arg-type]
        hash=hash_,  # type: ignore[arg-type]
        openings=openings,
        sig=sig,
    )


def _insert(db: apsw.Connection, table: str, rows: Sequence[tuple[object, ...]]) -> None:
    """Write rows, as many in a statement as there are."""
    columns = _INSERTS.get(table, 2)
    again = " ON CONFLICT (key) DO UPDATE SET value = excluded.value" if table == "standing" else ""
    row, at = f"({','.join('?' * columns)})", 0
    for size in _AT_ONCE:
        statement = f"INSERT INTO {table} VALUES {','.join([row] * size)}{again}"
        while len(rows) - at >= size:
            db.execute(statement, [value for one in rows[at : at + size] for value in one])
            at += size


def _as_read(entry: Entry, kept: dict[str, Opening]) -> Entry:
    if all(kept[path] is one for path, one in entry.openings.items()):
        return entry
    same = replace(entry, openings=kept)
    same.__dict__["event"] = entry.event  # parsed already
    return same


class Memory:
    """What the one writer knows of its own log without asking the disk; forgotten whenever a transaction failed."""

    def __init__(self) -> None:
        self.head: Head | None = None
        self.keys: dict[str, str | None] = {}
        self.devices: dict[str, DeviceHead] = {}

    def forget(self) -> None:
        """Ask the disk again."""
        self.head = None
        self.keys.clear()
        self.devices.clear()


class SqlitePage:
    """One open transaction of the writer; see `store.Page`.

    Rows are gathered and written many in a statement (`flush`): each call of the engine lets go of the interpreter,
    and a writer that must win it back for every row waits for whatever else the process does.
    """

    def __init__(
        self, db: apsw.Connection, fair: str, veil: Veil | None = None, memory: Memory | None = None
    ) -> None:
        self.db, self.fair, self.veil = db, fair, veil or Veil()
        self.later: list[str] = []
        self.written: list[Entry] = []
        """Entries as reading them back will give them."""
        self._memory = memory or Memory()
        self._rows: dict[str, list[tuple[object, ...]]] = {table: [] for table in _INSERTS}
        self._puts: dict[str, str] = {}
        self._raws: dict[str, tuple[int, bytes] | None] = {}

    def expect(self, event_ids: Sequence[str]) -> None:
        """These events will be asked for: look them up together."""
        for first in range(0, len(event_ids), _EXPECTED):
            ids = event_ids[first : first + _EXPECTED]
            self._raws |= dict.fromkeys(ids)
            marks = ",".join("?" * len(ids))
            for id_, n, raw in self.db.execute(f"SELECT id, n, raw FROM entry WHERE id IN ({marks})", ids):
                self._raws[id_] = (n, raw)

    def flush(self) -> None:
        """Write what was gathered, in the order in which the tables need each other."""
        for table, rows in self._rows.items():
            _insert(self.db, table, rows)
            rows.clear()
        _insert(self.db, "standing", [*self._puts.items()])
        self._puts.clear()

    def head(self) -> Head:
        """See `Page.head`."""
        if self._memory.head is None:
            self._memory.head = head(self.db, self.fair)
        return self._memory.head

    def raw_of(self, event_id: str) -> tuple[int, bytes] | None:
        """See `Page.raw_of`."""
        if event_id not in self._raws:
            self.expect([event_id])
        return self._raws[event_id]

    def last_of(self, dev: str) -> DeviceHead:
        """See `Page.last_of`."""
        known = self._memory.devices.get(dev)
        if known is None:
            known = self._memory.devices[dev] = last_of(self.db, dev)
        return known

    def look(self, key: str) -> str | None:
        """See `Page.look`."""
        keys = self._memory.keys
        if key not in keys:
            if len(keys) >= _REMEMBERED:
                self.flush()
                keys.clear()
            keys[key] = look(self.db, key)
        return keys[key]

    def put(self, key: str, value: str) -> None:
        """See `Page.put`."""
        self._puts[key] = self._memory.keys[key] = value

    def write(self, entry: Entry) -> None:
        """See `Page.write`."""
        event = entry.event
        index = (event.dev, event.seq, event.id, event.kind, event.sub, event.who)
        self._rows["entry"].append(
            (entry.n, entry.recv_ms, entry.status, *index, entry.raw, entry.leaf, entry.hash)
        )
        kept = {path: self.veil.cover(event.name, entry.n, one) for path, one in entry.openings.items()}
        self._rows["opening"] += [(entry.n, one.path, one.salt, one.value) for one in kept.values()]
        if entry.sig:
            self._rows["signature"].append((entry.n, entry.sig))
        self._memory.head = Head(n=entry.n, hash=entry.hash, recv_ms=entry.recv_ms, epoch=self.head().epoch)
        self._memory.devices[event.dev] = DeviceHead(seq=event.seq, digest=chain.digest(entry.raw).hex())
        self._raws[event.id] = (entry.n, entry.raw)
        self.written.append(_as_read(entry, kept))
        if len(self._rows["entry"]) >= _GATHERED:
            self.flush()

    def set_meta(self, key: str, value: str) -> None:
        """Write one setting of the file."""
        set_meta(self.db, key, value)
        self._memory.head = None  # the epoch is part of it

    def cover_all(self, kinds: Sequence[str]) -> int:
        """Cover what lies readable of these kinds, and note to which key; gives how many."""
        asked = (
            "SELECT o.n, o.path, o.salt, o.value, e.raw FROM entry e JOIN opening o ON o.n = e.n "
            "WHERE e.kind LIKE 'ballot.%' AND length(o.salt) > 0"
        )
        done = 0
        rows: list[tuple[int, str, bytes, bytes, bytes]] = self.db.execute(asked).fetchall()  # type: ignore[assignment]
        for n, path, salt, value, raw in rows:
            if (name := read(raw).name) in kinds:
                box = self.veil.cover(name, n, Opening(path=path, salt=salt, value=value))
                update = "UPDATE opening SET salt = ?, value = ? WHERE n = ? AND path = ?"
                self.db.execute(update, (box.salt, box.value, n, path))
                done += 1
        set_meta(self.db, "covered", self.veil.id)
        return done

    def redact(self, event_ids: Sequence[str], path: str) -> int:
        """Delete openings; gives how many."""
        gone = 0
        for event_id in event_ids:
            self.db.execute(
                "DELETE FROM opening WHERE n = (SELECT n FROM entry WHERE id = ?1) AND (?2 = '' OR path = ?2)",
                (event_id, path),
            )
            gone += self.db.changes()
        return gone

    def keep_safe(self, n: int) -> None:
        """See `Store.keep_safe`."""
        best = max(int(meta(self.db, "safe_n")), min(n, self.head().n))
        set_meta(self.db, "safe_n", str(best))

    def after_commit(self, statement: str) -> None:
        """Run a statement once this transaction is on the disk."""
        self.later.append(statement)

    def rebuild(self) -> None:
        """Drop the derived keys and set them again from the recorded statuses."""
        self.db.execute("DELETE FROM standing")
        self._memory.keys.clear()
        last, after = self.head().n, 0
        while after < last:
            for entry in entries(self.db, after, after + 1_000):
                for key, value in keys_of(entry, look=self.look, raw_of=self.raw_of):
                    self.put(key, value)
                after = entry.n
        self.flush()
