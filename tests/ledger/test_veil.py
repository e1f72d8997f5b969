"""Ballots on the disk: covered while the key is locked, to be found in no file; counted once it is unlocked."""

import os
import secrets
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.asymmetric.x25519 import X25519PrivateKey

from planish.ledger import sqlite
from planish.ledger.backup import back_up
from planish.ledger.journal import Draft, Journal
from planish.ledger.sqlite import SqliteLedger
from planish.ledger.store import LedgerBrokenError
from planish.ledger.veiling import ROUND, Veil
from planish.ledger.verifying import verify

MARK = "MARKBALLOT-7f3a"


def journal(store: SqliteLedger) -> Journal:
    return Journal(store, dev="desk", now=lambda: 1_700_000_000_000, chance=secrets.token_bytes)


def begun(path: Path) -> SqliteLedger:
    store = sqlite.create(path, fair="f", epoch="e")
    journal(store).add_all(
        [
            Draft(kind="fair.begun", sub="f", who="office", body={"opens": "", "name": "F"}),
            Draft(kind="object.listed", sub="o", who="office", body={"stand": "1", "number": "1", "content": "", "text": "MARKLABEL plate", "fields": {}, "price": ""}),
        ]
    )  # fmt: skip
    return store


def lock(store: SqliteLedger, who: str, words: str = MARK) -> None:
    body = {"round": 1, "ballot": {"outcome": "accept", "wording": words}}
    result = journal(store).add("ballot.locked", sub="o", who=who, body=body)
    assert result.applied, result


def everything(folder: Path) -> bytes:
    return b"".join(path.read_bytes() for path in folder.rglob("*") if path.is_file())


def veil(private: X25519PrivateKey) -> Veil:
    return Veil(private.public_key(), chance=secrets.token_bytes)


def test_a_covered_ballot_lies_in_no_file_and_the_log_still_verifies(tmp_path: Path) -> None:
    store = begun(tmp_path / "l.db")
    lock(store, "ann", MARK + " before there was a key")
    assert MARK.encode() in everything(tmp_path), "the test would find it"
    store.veil = veil(X25519PrivateKey.generate())
    assert store.cover_all() == 1
    lock(store, "ben")
    copy = tmp_path / "copy" / "l.db"
    copy.parent.mkdir()
    back_up(store, copy)
    assert MARK.encode() not in everything(tmp_path), "database, write-ahead log, or backup"
    assert b"MARKLABEL" in everything(tmp_path), "only ballots are covered"
    assert verify(store) == ()
    cast = [entry for entry in store.entries() if entry.event.name == "ballot.locked"]
    assert [entry.covered for entry in cast] == [frozenset({"ballot"})] * 2
    store.close()
    assert MARK.encode() not in everything(tmp_path)


def test_it_is_read_again_with_the_key_and_with_no_other(tmp_path: Path) -> None:
    private = X25519PrivateKey.generate()
    store = begun(tmp_path / "l.db")
    store.veil = veil(private)
    lock(store, "ann")
    assert not store.veil.unlock(X25519PrivateKey.generate())
    assert not store.veil.open
    assert store.veil.unlock(private)
    entry = [*store.entries()][-1]
    assert entry.openings["ballot"].read()["wording"] == MARK
    assert entry.covered == frozenset()
    assert verify(store) == (), "the opening fits its commitment"
    store.veil.lock()
    assert [*store.entries()][-1].openings == {}
    store.close()


def test_boxes_cannot_change_places_and_their_length_tells_nothing(tmp_path: Path) -> None:
    private = X25519PrivateKey.generate()
    store = begun(tmp_path / "l.db")
    store.veil = veil(private)
    lock(store, "ann", "yes")
    lock(store, "ben", "no, and here is why, at some length " * 8)
    store.close()
    import apsw

    db = apsw.Connection(str(tmp_path / "l.db"))
    rows = db.execute("SELECT n, salt, value FROM opening WHERE path = 'ballot' ORDER BY n").fetchall()
    assert [len(salt) for _, salt, _ in rows] == [0, 0], (
        "a salt beside the commitment would let anybody guess"
    )
    assert len({len(value) for _, _, value in rows}) == 1
    assert len(rows[0][2]) == 1 + 32 + ROUND + 16
    (first, _, one), (second, _, two) = rows
    db.execute("UPDATE opening SET value = ? WHERE n = ?", (two, first))
    db.execute("UPDATE opening SET value = ? WHERE n = ?", (one, second))
    db.close()
    again = sqlite.open_ledger(tmp_path / "l.db")
    again.veil = veil(private)
    again.veil.unlock(private)
    with pytest.raises(LedgerBrokenError, match="covered text"):
        [*again.entries()]
    assert verify(again)[-1].code == "ledger.unreadable"
    again.close()


def test_covering_again_does_nothing(tmp_path: Path) -> None:
    store = begun(tmp_path / "l.db")
    store.veil = veil(X25519PrivateKey.generate())
    lock(store, "ann")
    assert store.cover_all() == 0
    size = os.path.getsize(tmp_path / "l.db")
    assert store.cover_all() == 0
    assert os.path.getsize(tmp_path / "l.db") == size
    store.close()
