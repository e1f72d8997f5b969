"""How many events a second the ledger makes durable, as a share of what the same database commits bare; how fast it verifies.

    python bench/ledger.py [folder]

Bare commits and events are taken in turns on the same disk in the same run, so that a busy machine slows both.
"""

import secrets
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from pathlib import Path

import apsw

from planish.ledger import sqlite
from planish.ledger.journal import Draft, Journal
from planish.ledger.verifying import verify

ROUNDS, COUNT, TABLETS = 5, 200, 16


def main(folder: Path) -> None:
    """Print the figures."""
    bare = apsw.Connection(str(folder / "bare.db"))
    for setting in ("journal_mode=WAL", "synchronous=FULL"):
        bare.execute(f"PRAGMA {setting}").fetchall()
    bare.execute("CREATE TABLE entry (n INTEGER PRIMARY KEY, raw BLOB)")
    with sqlite.create(folder / "fair.planish", fair="bench", epoch="e1") as store:
        journal = Journal(store, dev="desk", now=lambda: int(time.time() * 1000), chance=secrets.token_bytes)
        journal.add("fair.begun", sub="bench", who="office", body={"name": "Bench"})
        raw, alone, crowd = [], [], []
        for _ in range(ROUNDS):
            raw.append(rate(COUNT, lambda: bare.execute("INSERT INTO entry (raw) VALUES (?)", (b"x" * 600,))))
            alone.append(rate(COUNT, lambda: add(journal)))
            crowd.append(many(store))
        best = max(raw)
        print(f"bare commits of this SQLite, FULL   {best:9.0f} a second")
        print(
            f"one desk, one event at a time       {max(alone):9.0f} a second   {max(alone) / best:5.0%} of bare"
        )
        print(
            f"{TABLETS} senders at once               {max(crowd):9.0f} a second   {max(crowd) / best:5.0%} of bare"
        )
        big = rate(1, lambda: journal.add_all([draft(n) for n in range(5_000)])) * 5_000
        print(f"a list of 5,000 in one transaction  {big:9.0f} a second")
        n = store.head().n
        print(
            f"verified and read back              {rate(1, lambda: verify(store)) * n:9.0f} entries a second"
        )


def draft(number: int) -> Draft:
    """One listed object."""
    body = {"stand": "A4", "number": str(number), "text": "Pewter plate, London, c.1720, by a maker unknown"}
    return Draft(kind="object.listed", sub=f"o{number}", who="office", body=body)


def add(journal: Journal) -> None:
    """One observation."""
    journal.add(
        "observation.made", sub="o1", who="ann", body={"kind": "mark", "words": "A rose and crown, rubbed"}
    )


def many(store: sqlite.SqliteLedger) -> float:
    """Events a second when several devices hand in at the same time."""
    desk = Journal(store, dev="desk", now=lambda: 0, chance=secrets.token_bytes)
    names = [secrets.token_hex(4) for _ in range(TABLETS)]
    desk.add_all([Draft(kind="device.paired", sub=name, who="office") for name in names])
    desk.add_all(
        [
            Draft(kind="role.given", sub="ann", who="office", body={"role": role})
            for role in ("member", "office")
        ]
    )
    pens = [Journal(store, dev=name, now=lambda: 0, chance=secrets.token_bytes) for name in names]
    each = COUNT // 4
    threads = [threading.Thread(target=lambda pen=pen: [add(pen) for _ in range(each)]) for pen in pens]
    start = time.perf_counter()
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return TABLETS * each / (time.perf_counter() - start)


def rate(count: int, work: Callable[[], object]) -> float:
    """How often a second `work` runs."""
    start = time.perf_counter()
    for _ in range(count):
        work()
    return count / (time.perf_counter() - start)


if __name__ == "__main__":
    if len(sys.argv) > 1:
        main(Path(sys.argv[1]))
    else:
        with tempfile.TemporaryDirectory() as place:
            main(Path(place))
