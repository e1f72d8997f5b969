"""The pen of one desk: what is written comes back, applied or kept beside."""

import hashlib
import secrets
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.asymmetric.x25519 import X25519PrivateKey

from planish.ledger import sqlite
from planish.ledger.journal import Draft, Journal
from planish.ledger.store import LedgerBusyError
from planish.ledger.veiling import Veil

COUNT = iter(range(10**9))


def chance(size: int) -> bytes:
    """Random-looking bytes, the same each run, never the same twice."""
    return hashlib.shake_256(str(next(COUNT)).encode()).digest(size)


def pen(store: sqlite.SqliteLedger) -> Journal:
    return Journal(store, dev="desk", now=lambda: 1_700_000_000_000, chance=chance)


def begin(path: Path) -> sqlite.SqliteLedger:
    store = sqlite.create(path, fair="harbour", epoch="e1")
    pen(store).add("fair.begun", sub="harbour", who="office", body={"name": "Harbour Fair"})
    return store


def test_a_label_changed_by_two_people_keeps_both_texts_and_applies_the_first(tmp_path: Path) -> None:
    with begin(tmp_path / "fair.planish") as store:
        journal = pen(store)
        journal.add(
            "object.listed", sub="o1", who="office", body={"stand": "A4", "number": "17", "text": "Plate"}
        )
        hung = journal.add("label.hung", sub="o1", who="office", body={"version": 1, "text": "Pewter plate"})
        first = journal.add(
            "label.asked", sub="o1", who="ann", body={"version": 2, "text": "Tin plate"}, base=hung.id
        )
        second = journal.add(
            "label.asked", sub="o1", who="bo", body={"version": 2, "text": "Lead plate"}, base=hung.id
        )
        story = journal.fair_now().objects["o1"]
    assert (first.status, second.status) == ("ok", "stale")
    assert [label.text for label in story.labels] == ["Pewter plate", "Tin plate"]
    assert [loser.body["text"] for loser in story.losers] == ["Lead plate"]


def test_a_second_process_is_told_who_is_writing_and_readers_go_on(tmp_path: Path) -> None:
    path = tmp_path / "fair.planish"
    with begin(path):
        with pytest.raises(LedgerBusyError, match=r"is being written by another planish \(process \d+\)"):
            sqlite.open_ledger(path, wait_s=0.05)
        assert sqlite.read_ledger(path).head().n == 1
    with sqlite.open_ledger(path) as again:
        drafts = [
            Draft(kind="stand.added", sub=f"s{n}", who="office", body={"number": str(n), "exhibitor": "N"})
            for n in range(3)
        ]
        assert [result.n for result in pen(again).add_all(drafts)] == [2, 3, 4]


def test_what_is_followed_out_of_memory_is_what_reading_back_gives(tmp_path: Path) -> None:
    with sqlite.create(tmp_path / "l.db", fair="f", epoch="e") as store:
        store.veil = Veil(X25519PrivateKey.generate().public_key(), chance=secrets.token_bytes)
        pen = Journal(store, dev="desk", now=lambda: 1_700_000_000_000, chance=secrets.token_bytes)
        pen.add("fair.begun", sub="f", who="office", body={"opens": "", "name": "F"})
        body = {"stand": "1", "number": "1", "text": "Pewter plate"}
        pen.add_all([Draft(kind="object.listed", sub=f"o{n}", who="office", body=body) for n in range(3)])
        pen.add("ballot.locked", sub="o1", who="ann", body={"round": 1, "ballot": {"outcome": "accept"}})
        for after in range(store.head().n + 2):
            assert [*(store.recent(after) or ())] == [*store.entries(after)]
        told = [*pen.happened()]
        assert told[-1].covered == ("ballot",)
        store.redact([told[1].id])
        assert store.recent(0) is None, "memory would still hold the text"
        assert "text" not in [*pen.happened()][1].body
        more = [
            Draft(kind="object.listed", sub=f"p{n}", who="office", body=body) for n in range(sqlite.RECENT)
        ]
        pen.add_all(more)
        assert store.recent(1) is None, "it reaches back too far"
        assert [*(store.recent(9) or ())] == [*store.entries(9)]
