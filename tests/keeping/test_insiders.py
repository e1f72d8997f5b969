"""Whoever owns the laptop can rewrite the log; whoever kept one later head sees it. On real files."""

from pathlib import Path

import apsw
import pytest

from planish.ledger import sqlite
from planish.ledger.sqlite import SqliteLedger
from planish.ledger.verifying import Remembered, verify
from tests.ledger.desks import Device, begin, send

LATER = 12


def log(place: Path, changed: str = "") -> list[Remembered]:
    """A log with twelve entries after the one that matters; gives the head after each of the twelve, as tablets keep it."""
    heads = []
    with sqlite.create(place, fair="harbour", epoch="e1") as store:
        desk = begin(store, "t1")
        words = changed or "Pewter plate, c.1720"
        send(store, desk.make("label.hung", "o1", "office", {"version": 1, "text": words}, base=""))
        for number in range(LATER):
            body = {"number": str(number), "exhibitor": "N"}
            send(store, desk.make("stand.added", f"s{number}", "office", body))
            head = store.head()
            heads.append(Remembered(n=head.n, hash=head.hash, where=f"tablet {number + 1}"))
    return heads


def read(place: Path, remembered: list[Remembered]) -> list[str]:
    reader = sqlite.read_ledger(place)
    try:
        return [problem.code for problem in verify(reader, remembered)]
    finally:
        reader.close()


def test_one_entry_changed_with_all_rights_is_named(tmp_path: Path) -> None:
    place = tmp_path / "a.planish"
    log(place)
    insider = apsw.Connection(str(place))
    insider.execute("DROP TRIGGER entry_stays")
    (n,) = next(insider.execute("SELECT n FROM entry WHERE kind = 'label.hung/1'"))
    insider.execute("UPDATE entry SET who = 'nobody' WHERE n = ?", (n,))
    insider.execute(
        "CREATE TRIGGER entry_stays BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'an entry is never changed'); END"
    )
    insider.close()
    reader = sqlite.read_ledger(place)
    found = [problem for problem in verify(reader) if problem.where == f"entry {n}"]
    reader.close()
    assert [problem.code for problem in found] == ["ledger.index"]


def test_a_chain_rewritten_from_one_entry_on_contradicts_every_later_head_that_anybody_kept(
    tmp_path: Path,
) -> None:
    true = log(tmp_path / "true.planish")
    log(tmp_path / "rewritten.planish", "Pewter plate, c.1650")
    assert read(tmp_path / "true.planish", true) == []
    assert read(tmp_path / "rewritten.planish", []) == [], "a chain alone does not stop its owner"
    caught = [read(tmp_path / "rewritten.planish", [head]) for head in true]
    assert caught == [["ledger.rewritten"]] * LATER
    paper = [Remembered(n=head.n, hash=head.hash[:12], where="day sheet") for head in true]
    assert [read(tmp_path / "rewritten.planish", [head]) for head in paper] == [["ledger.rewritten"]] * LATER


@pytest.mark.parametrize("first", ["t1", "t2"])
def test_two_desks_from_one_copy_are_found_out_by_the_first_tablet_that_meets_the_other(
    tmp_path: Path, first: str
) -> None:
    log(tmp_path / "one.planish")
    (tmp_path / "two.planish").write_bytes((tmp_path / "one.planish").read_bytes())
    heads: dict[str, Remembered] = {}
    for place, tablet in (("one", "t1"), ("two", "t2")):
        with sqlite.open_ledger(tmp_path / f"{place}.planish") as store:
            heads[tablet] = seen(store, tablet)
    assert (
        read(tmp_path / "one.planish", [heads["t1"]]) == read(tmp_path / "two.planish", [heads["t2"]]) == []
    )
    other = "two" if first == "t1" else "one"
    assert read(tmp_path / f"{other}.planish", [heads[first]]) == ["ledger.rewritten"]


def seen(store: SqliteLedger, tablet: str) -> Remembered:
    """What a tablet writes at its desk, and the head it goes away with."""
    device = Device("t1")
    send(store, device.make("observation.made", "o1", "mo", {"kind": "wear", "words": f"seen by {tablet}"}))
    head = store.head()
    return Remembered(n=head.n, hash=head.hash, where=tablet)
