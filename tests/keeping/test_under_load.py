"""Sixty copies of a log in use, each way: by the engine all are whole; plain copies are stale or broken, and refused."""

import random
import secrets
import shutil
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from planish.errands.record.redacting import repeat
from planish.ledger import backup, sqlite
from planish.ledger.journal import Journal
from planish.ledger.sqlite import SqliteLedger
from planish.ledger.store import LedgerError
from planish.ledger.verifying import Remembered
from tests.ledger.desks import NOW, Device, begin, send

COPIES = 60


@contextmanager
def busy(place: Path) -> Iterator[SqliteLedger]:
    """A desk to which three tablets send fifty times a second each."""
    with sqlite.create(place, fair="harbour", epoch="e1") as store:
        begin(store, "t1", "t2", "t3")
        stop = threading.Event()

        def tablet(name: str) -> None:
            device = Device(name)
            while not stop.is_set():
                body = {"kind": "mark", "words": f"{name} {len(device.made)} " + "rose and crown " * 20}
                assert send(store, device.make("observation.made", "o1", "mo", body))[0].status == "ok"
                time.sleep(0.02)

        threads = [threading.Thread(target=tablet, args=(name,)) for name in ("t1", "t2", "t3")]
        for thread in threads:
            thread.start()
        try:
            yield store
        finally:
            stop.set()
            for thread in threads:
                thread.join()


def acknowledged(store: SqliteLedger) -> list[Remembered]:
    """What the desk has answered for at this moment: a copy begun now must hold it."""
    head = store.head()
    return [Remembered(n=head.n, hash=head.hash, where="the desk")]


def test_sixty_copies_by_the_engine_are_all_whole_and_none_is_stale(tmp_path: Path) -> None:
    with busy(tmp_path / "a.planish") as store:
        for number in range(COPIES):
            before = acknowledged(store)
            copied = tmp_path / f"{number}.copy"
            backup.copy(store.path, copied)
            assert backup.checked(copied, before).n >= before[0].n
            copied.unlink()


@pytest.mark.parametrize(
    "sides", [("",), ("", "-wal")], ids=["the file alone", "the file and its write-ahead log"]
)
def test_of_sixty_plain_copies_none_that_lacks_an_acknowledged_entry_is_taken(
    tmp_path: Path, sides: tuple[str, ...]
) -> None:
    taken, refused = 0, 0
    with busy(tmp_path / "a.planish") as store:
        for number in range(COPIES):
            before = acknowledged(store)
            plain = tmp_path / f"{number}.plain"
            for side in sides:
                there = store.path.with_name(store.path.name + side)
                if there.exists():
                    shutil.copyfile(there, plain.with_name(plain.name + side))
            try:
                found = backup.checked(plain, before)
            except LedgerError:
                refused += 1
                continue
            taken += 1
            assert found.n >= before[0].n
    assert refused + taken == COPIES
    if sides == ("",):
        assert refused > COPIES // 2, "the danger is real: most plain copies lack what was acknowledged"


def test_a_copy_of_a_log_that_is_written_all_the_time_comes_to_an_end(tmp_path: Path) -> None:
    """In steps, another connection's write makes the engine begin again; in one step it is of one moment."""
    with sqlite.create(tmp_path / "a.planish", fair="harbour", epoch="e1") as store:
        begin(store, "t1")
        device = Device("t1")
        for _ in range(40):
            body = {"kind": "mark", "words": "x" * 500_000}
            send(store, device.make("observation.made", "o1", "mo", body))
        before = store.head().n
        stop = threading.Event()

        def keep_writing() -> None:
            while not stop.is_set():
                send(store, device.make("observation.made", "o1", "mo", {"kind": "mark", "words": "more"}))

        writer = threading.Thread(target=keep_writing)
        writer.start()
        copying = threading.Thread(target=backup.copy, args=(store.path, tmp_path / "copy"), daemon=True)
        copying.start()
        copying.join(timeout=60)
        ended = not copying.is_alive()
        stop.set()
        writer.join()
        assert ended
        assert backup.checked(tmp_path / "copy").n >= before


class Fair:
    """A desk, three tablets and a stick, and what may go wrong with them; `chance` decides what does."""

    def __init__(self, root: Path) -> None:
        self.chance = random.Random(61)
        self.place, self.root = root / "a.planish", root
        self.store = sqlite.create(self.place, fair="harbour", epoch="e0")
        begin(self.store, "t1", "t2", "t3")
        self.tablets = [Device(name, epoch="e0") for name in ("t1", "t2", "t3")]
        self.copies: list[Path] = []
        self.deleted: dict[str, str] = {}
        self.lines: dict[str, dict[str, object]] = {}
        self.step = 0

    def journal(self, store: SqliteLedger) -> Journal:
        return Journal(store, dev="desk", now=lambda: NOW, chance=secrets.token_bytes)

    def hand_in(self, *, again: int = 0) -> None:
        for tablet in self.tablets:
            last = self.store.last_of(tablet.dev).seq
            offers = tablet.made[max(0, last - again) :]
            told = send(self.store, *offers, epoch=self.store.head().epoch)
            assert {one.status for one in told} <= {"ok", "have"}

    def sent(self) -> None:
        body = {"kind": "mark", "words": f"MARK-{self.step}-"}
        self.chance.choice(self.tablets).make("observation.made", "o1", "mo", body)
        self.hand_in()

    def sent_twice(self) -> None:
        self.hand_in(again=3)

    def deletion(self) -> None:
        made = [e for e in self.store.entries() if e.event.name == "observation.made" and e.openings]
        if not made:
            return
        entry = self.chance.choice(made[-4:])  # often younger than the last backup
        id_ = entry.event.id
        self.deleted[id_] = entry.openings["words"].read()
        body = {"ids": [id_], "ground": "request", "second": "cy"}
        done = self.journal(self.store).add("opening.redacted", sub="harbour", who="office", body=body)
        self.lines[done.id] = {
            **body,
            "at_ms": self.step,
            "path": "",
            "who": "cy",
            "second": "office",
            "files": [],
        }
        self.store.redact([id_])

    def back_up(self) -> None:
        self.copies.append(self.root / f"{self.step}.copy")
        backup.back_up(self.store, self.copies[-1])

    def restore(self) -> None:
        if not self.copies:
            return
        self.store.close()
        older = self.chance.choice(self.copies[-4:])
        again = lambda new: repeat(self.journal(new), self.lines)  # noqa: E731
        self.store = backup.restore(older, self.place, epoch=f"e{self.step}", finishing=again)
        self.hand_in()

    def cut_off(self) -> None:
        self.store.close()
        self.store = sqlite.open_ledger(self.place)


def test_twelve_hours_of_faults_scaled_down_end_with_everything_there_and_nothing_that_was_deleted(
    tmp_path: Path,
) -> None:
    """Tablets send, send twice; texts are deleted; the desk is backed up, restored to older days, closed and opened again."""
    fair = Fair(tmp_path)
    acts = (fair.sent, fair.sent_twice, fair.deletion, fair.back_up, fair.restore, fair.cut_off)
    for fair.step in range(160):
        fair.chance.choices(acts, weights=(60, 12, 8, 8, 8, 4))[0]()
    fair.hand_in()
    assert len(fair.deleted) > 4
    assert len([*tmp_path.glob("*.broken-*")]) > 2, "the desk was restored several times"
    there = [entry.event.id for entry in fair.store.entries()]
    assert len(there) == len(set(there))
    made = {offer.raw for tablet in fair.tablets for offer in tablet.made}
    assert made <= {entry.raw for entry in fair.store.entries()}
    final = tmp_path / "final.copy"
    backup.back_up(fair.store, final)
    for path in (fair.place, fair.place.with_name(fair.place.name + "-wal"), final):
        data = path.read_bytes()
        assert not [words for words in fair.deleted.values() if words.encode() in data]
        assert len(data) < 4_000_000
    fair.store.close()
