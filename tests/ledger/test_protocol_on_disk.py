"""The push protocol's state machine on the stores that real desks use, and the same course on all of them."""

import itertools
import os
import random
import shutil
import tempfile
from pathlib import Path
from typing import Any

import psycopg
import pytest
from hypothesis import settings
from hypothesis.stateful import run_state_machine_as_test

from planish.ledger import backup, postgres, sqlite
from planish.ledger.store import Offer, Result
from tests.ledger.desks import NOW, begin
from tests.ledger.test_protocol import RUNS, TABLETS, Desk, Floor, Tablet, machine

SCHEMAS = itertools.count(1)
TABLES = ("entry", "opening", "signature", "standing")
QUICK = Path("/dev/shm")


class SqliteDesk(Desk):
    """A desk on a SQLite file; a crash leaves the files as kill -9 does, a restore is the real one."""

    def __init__(self) -> None:
        self.epochs = itertools.count(2)
        self.home = Path(tempfile.mkdtemp(dir=QUICK if QUICK.is_dir() else None, prefix="protocol-"))
        self.lives = itertools.count(1)
        self.place = self.home / "0.planish"
        self.store: Any = sqlite.create(self.place, fair="harbour", epoch="e1")
        self.officer = begin(self.store, *TABLETS)
        self.back_up()

    def push(self, epoch: str, offers: list[Offer]) -> list[Result]:
        return list(self.store.append(offers, recv_ms=NOW, epoch=epoch))

    def crash(self) -> None:
        after = self.home / f"{next(self.lives)}.planish"
        for side in ("", "-wal"):
            there = self.place.with_name(self.place.name + side)
            if there.exists():
                shutil.copy(there, after.with_name(after.name + side))
        self.store.close()
        self.place = after
        self.store = sqlite.open_ledger(self.place)

    def back_up(self) -> None:
        backup.back_up(self.store, self.home / "copy.planish")

    def restore(self) -> None:
        self.store.close()
        epoch = f"e{next(self.epochs)}"
        self.store = backup.restore(self.home / "copy.planish", self.place, epoch=epoch)

    def close(self) -> None:
        self.store.close()
        shutil.rmtree(self.home)


class PostgresDesk(Desk):
    """A desk on PostgreSQL; a crash cuts the connection, a restore brings the tables as they were copied."""

    conninfo = ""

    def __init__(self) -> None:
        self.epochs = itertools.count(2)
        self.schema = f"protocol_{next(SCHEMAS)}"
        self.store: Any = postgres.create(self.conninfo, schema=self.schema, fair="harbour", epoch="e1")
        self.officer = begin(self.store, *TABLETS)
        self.back_up()

    push = SqliteDesk.push

    def crash(self) -> None:
        self.store.close()
        self.store = postgres.open_ledger(self.conninfo, schema=self.schema)

    def _run(self, *statements: str) -> None:
        with psycopg.connect(self.conninfo) as db:
            for statement in statements:
                db.execute(statement.encode())

    def back_up(self) -> None:
        copies = [
            f"CREATE TABLE {self.schema}_copy.{one} AS TABLE {self.schema}.{one}" for one in (*TABLES, "head")
        ]
        self._run(
            f"DROP SCHEMA IF EXISTS {self.schema}_copy CASCADE", f"CREATE SCHEMA {self.schema}_copy", *copies
        )
        self.store.keep_safe(self.store.head().n)

    def restore(self) -> None:
        self.store.close()
        old, self.schema = self.schema, f"protocol_{next(SCHEMAS)}"
        postgres.create(self.conninfo, schema=self.schema, fair="harbour", epoch="e0").close()
        back = [f"INSERT INTO {self.schema}.{one} SELECT * FROM {old}_copy.{one}" for one in TABLES]
        head = f"INSERT INTO {self.schema}.head SELECT * FROM {old}_copy.head"
        again = [f"DROP SCHEMA {old} CASCADE", f"ALTER SCHEMA {old}_copy RENAME TO {self.schema}_copy"]
        self._run(*back, f"DELETE FROM {self.schema}.head", head, *again)
        self.store = postgres.open_ledger(self.conninfo, schema=self.schema)
        self.store.renew(f"e{next(self.epochs)}")

    def close(self) -> None:
        self.store.close()
        self._run(f"DROP SCHEMA {self.schema} CASCADE", f"DROP SCHEMA IF EXISTS {self.schema}_copy CASCADE")


def closing(kind: type[Desk], tablet: type[Tablet] = Tablet) -> type[Floor]:
    """The machine, which also clears away."""

    class Closing(machine(kind, tablet)):  # type: ignore[misc]
        def teardown(self) -> None:
            try:
                super().teardown()
            finally:
                self.desk.close()

    return Closing


@pytest.fixture
def on_postgres(conninfo: str) -> type[PostgresDesk]:
    return type("OnPostgres", (PostgresDesk,), {"conninfo": conninfo})


EXAMPLES = int(os.environ.get("PLANISH_EXAMPLES", "10"))
"""Courses on each store; a long run asks for more."""
FEW = settings(RUNS, max_examples=EXAMPLES, stateful_step_count=20)


def test_the_protocol_holds_on_a_sqlite_file() -> None:
    run_state_machine_as_test(closing(SqliteDesk), settings=FEW)


@pytest.mark.database
def test_the_protocol_holds_on_postgresql(on_postgres: type[PostgresDesk]) -> None:
    run_state_machine_as_test(
        closing(on_postgres), settings=settings(FEW, max_examples=max(5, EXAMPLES // 2))
    )


class NoEpoch(SqliteDesk):
    """Comes back from a backup as if nothing had been."""

    def restore(self) -> None:
        self.store.close()
        self.store = backup.restore(self.home / "copy.planish", self.place, epoch="e1")


def test_a_restore_without_a_new_epoch_goes_red_on_a_file_too() -> None:
    with pytest.raises(AssertionError):
        run_state_machine_as_test(closing(NoEpoch), settings=settings(FEW, max_examples=300))


def course(kind: type[Desk], seed: int) -> list[tuple[Any, ...]]:
    """The same random course of a floor, and the log it leaves: every column of every entry, its texts and the keys."""
    dice, floor = random.Random(seed), machine(kind)()
    for _ in range(60):
        dev, what = dice.choice(TABLETS), dice.random()
        if what < 0.4:
            floor.write(dev, dice.choice(["see", "vote", "word"]))
        elif what < 0.7:
            floor.hand_in(dev, dice.random() < 0.7, dice.random() < 0.3, dice.randrange(1, 4))
        elif what < 0.8:
            floor.hand_in_out_of_order(dev, dice.randrange(1, 3))
        elif what < 0.85:
            floor.crash()
        elif what < 0.9:
            floor.back_up()
        elif what < 0.94:
            floor.restore()
        else:
            floor.pull(dev)
    floor.teardown()
    store: Any = floor.desk.store
    log = [
        (
            e.n,
            e.recv_ms,
            e.status,
            e.raw,
            e.leaf,
            e.hash,
            sorted((o.path, o.salt, o.value) for o in e.openings.values()),
        )
        for e in store.entries()
    ]
    keys = sorted(store.standing().items())
    if hasattr(floor.desk, "close"):
        floor.desk.close()
    return [*log, (keys,)]


@pytest.mark.database
@pytest.mark.parametrize("seed", range(3))
def test_one_course_leaves_the_same_log_on_sqlite_postgresql_and_in_memory(
    seed: int, on_postgres: type[PostgresDesk]
) -> None:
    memory = course(Desk, seed)
    assert len(memory) > 20
    assert course(SqliteDesk, seed) == memory
    assert course(on_postgres, seed) == memory
