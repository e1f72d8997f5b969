"""Back from a backup: on another machine with the stick and one sheet; nothing overwritten, nothing deleted comes back."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from planish.errands.intake.finding import find
from planish.errands.opening import wiring
from planish.errands.opening.refusing import Refused
from planish.errands.opening.wiring import LEDGER
from planish.errands.record import backing, keeping, redacting, restoring
from planish.errands.record.redacting import Wanted
from planish.errands.seals import keys, sealing
from planish.ledger.events import parse
from planish.ledger.journal import Draft
from planish.ledger.verifying import Remembered, verify
from tests.keeping.fairs import KETTLE, PASSPHRASE, settled_fair, with_keys
from tests.ledger.desks import Device, send

SECRETS = (bytes(range(32)), bytes(range(1, 33)))
MARKER = "ANYBODY-CAN-READ-THIS"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    place = tmp_path / "the fair"
    settled_fair(place).close()
    with_keys(place)
    (place / "pictures").mkdir()
    (place / "pictures" / "note.jpg").write_bytes(b"a picture")
    (tmp_path / "stick").mkdir()
    return place


def back_up(folder: Path, stick: Path) -> backing.BackedUp:
    with wiring.open_fair(folder, write=True) as fair:
        return backing.back_up(fair, stick, counts=True)


def note(fair: wiring.Fair, words: str) -> None:
    body = {"sort": "other", "words": words}
    fair.record([Draft(kind="incident.noted", sub=fair.state.id, who="office", body=body)])


def holding(folder: Path, marker: str) -> list[str]:
    """Files under a folder that hold a text, in any of the two ways that SQLite and Python write it."""
    wanted = [marker.encode("utf-8"), marker.encode("utf-16-le")]
    return [
        path.name
        for path in folder.rglob("*")
        if path.is_file() and any(one in path.read_bytes() for one in wanted)
    ]


@pytest.mark.parametrize("sheet", [1, 2])
def test_on_another_machine_the_stick_and_one_sheet_are_enough(
    folder: Path, tmp_path: Path, sheet: int
) -> None:
    head = back_up(folder, tmp_path / "stick")
    shutil.rmtree(folder)
    words = " ".join(keys.in_words(SECRETS[sheet - 1]))
    plain = {name: value for name, value in os.environ.items() if not name.startswith("PLANISH")}
    command = [
        sys.executable,
        "-m",
        "planish",
        "restore",
        str(tmp_path / "stick"),
        "--into",
        str(tmp_path / "new"),
    ]
    done = subprocess.run(
        command, env={**plain, "PLANISH_SHEET": words}, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert f"up to entry {head.n}" in done.stdout
    assert keeping.verify_log(tmp_path / "new", remembered=f"{head.n}:{head.hash}").problems == ()
    assert (tmp_path / "new" / "pictures" / "note.jpg").read_bytes() == b"a picture"
    with wiring.open_fair(tmp_path / "new", write=True) as fair:
        last = [*fair.journal.entries()][-1].event
        assert (last.name, last.body["n"]) == ("desk.restored", head.n)
        assert last.body["now"] == fair.journal.store.head().epoch != last.body["was"]
        kettle = find(fair.state, "7/14")
        sealing.seal_label(fair, kettle, keys.private(fair.folder, PASSPHRASE), who="sam", hangs=KETTLE)


def test_the_broken_file_stays_beside_the_restored_one_byte_for_byte(folder: Path, tmp_path: Path) -> None:
    back_up(folder, tmp_path / "stick")
    broken = (folder / LEDGER).read_bytes()[:30_000]
    (folder / LEDGER).write_bytes(broken)
    (folder / "rulebook.toml").write_text("spoiled = true\n")
    done = restoring.restore(tmp_path / "stick", folder, SECRETS[0])
    assert (folder / f"{LEDGER}.broken-1").read_bytes() == broken
    assert (folder / "rulebook.toml.broken-1").read_text() == "spoiled = true\n"
    assert "rulebook.toml.broken-1" in done.aside
    restoring.restore(tmp_path / "stick", folder, SECRETS[1])
    assert (folder / f"{LEDGER}.broken-1").read_bytes() == broken
    assert (folder / f"{LEDGER}.broken-2").exists()
    assert not [*folder.glob(".restore-*")]


def test_an_older_backup_does_not_bring_back_what_was_deleted_since(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PLANISH_NOW", "2026-10-15T10:00:00Z")
    with wiring.open_fair(folder, write=True) as fair:
        note(fair, MARKER)
        old = backing.back_up(fair, tmp_path / "stick", counts=True)
        monkeypatch.setenv("PLANISH_NOW", "2026-10-15T10:06:00Z")
        texts = redacting.chosen(fair, Wanted(words=MARKER))
        redacting.redact(fair, texts, ground="request", who="cy", second="office")
        note(fair, "later")
        backing.back_up(fair, tmp_path / "stick", counts=True)
    shutil.rmtree(folder)
    done = restoring.restore(tmp_path / "stick", tmp_path / "new", SECRETS[0], made_ms=old.at_ms)
    assert (done.repeated, done.newer) == (1, True)
    assert holding(tmp_path / "new", MARKER) == []
    assert keeping.verify_log(tmp_path / "new").problems == ()
    with wiring.open_fair(tmp_path / "new", write=True) as fair:
        again = [*fair.journal.entries()][-1].event
        assert (again.name, again.body["ground"], again.body["second"]) == (
            "opening.redacted",
            "request",
            "cy",
        )
        (tmp_path / "other stick").mkdir()
        third = backing.back_up(fair, tmp_path / "other stick", counts=True)
    restoring.restore(tmp_path / "other stick", tmp_path / "third", SECRETS[0])
    assert keeping.verify_log(tmp_path / "third", remembered=f"{third.n}:{third.hash}").problems == ()


def test_the_same_older_backup_would_bring_the_text_back_without_the_list_of_deletions(
    folder: Path, tmp_path: Path
) -> None:
    with wiring.open_fair(folder, write=True) as fair:
        note(fair, MARKER)
        old = backing.back_up(fair, tmp_path / "stick", counts=True)
        redacting.redact(
            fair, redacting.chosen(fair, Wanted(words=MARKER)), ground="law", who="cy", second="office"
        )
    assert (old.file.parent / backing.DELETED).is_file(), "the medium learns of a deletion at once"
    (old.file.parent / backing.DELETED).unlink()
    restoring.restore(tmp_path / "stick", tmp_path / "new", SECRETS[0])
    assert holding(tmp_path / "new", MARKER) != []


def test_a_wrong_sheet_a_cut_file_and_a_flipped_byte_restore_nothing(folder: Path, tmp_path: Path) -> None:
    good = back_up(folder, tmp_path / "stick").file
    whole = good.read_bytes()
    with pytest.raises(Refused, match="does not open it"):
        restoring.restore(tmp_path / "stick", tmp_path / "new", bytes(32))
    for spoiled in (
        whole[:-1],
        whole[: len(whole) // 2],
        whole[:-100] + bytes([whole[-100] ^ 1]) + whole[-99:],
    ):
        good.write_bytes(spoiled)
        with pytest.raises(Refused):
            restoring.restore(tmp_path / "stick", tmp_path / "new", SECRETS[0])
    assert [*(tmp_path / "new").iterdir()] == []


def test_a_backup_that_contradicts_the_day_sheet_is_refused_before_anything_is_moved(
    folder: Path, tmp_path: Path
) -> None:
    done = back_up(folder, tmp_path / "stick")
    before = (folder / LEDGER).read_bytes()
    wrong = Remembered(n=done.n, hash=bytes(12), where="day sheet")
    with pytest.raises(Refused, match="day sheet remembers another log"):
        restoring.restore(tmp_path / "stick", folder, SECRETS[0], remembered=[wrong])
    assert (folder / LEDGER).read_bytes() == before
    assert not [*folder.glob("*.broken-*")]


def test_a_drill_reads_everything_with_a_sheet_changes_nothing_and_is_noted(
    folder: Path, tmp_path: Path
) -> None:
    done = back_up(folder, tmp_path / "stick")
    before = (folder / LEDGER).read_bytes()
    drilled = restoring.drill(folder, tmp_path / "stick", SECRETS[1])
    assert (drilled.n, drilled.files, drilled.missing) == (done.n, 1, ())
    assert (folder / LEDGER).read_bytes() == before
    with wiring.open_fair(folder) as fair:
        assert backing.standing(fair).drilled_ms > 0
    next(iter((done.file.parent / "files").iterdir())).unlink()
    assert restoring.drill(folder, tmp_path / "stick", SECRETS[1]).missing == ("pictures/note.jpg",)


def test_two_fairs_on_one_stick_are_never_mixed(folder: Path, tmp_path: Path) -> None:
    back_up(folder, tmp_path / "stick")
    settled_fair(tmp_path / "other").close()
    keys.make(tmp_path / "other", PASSPHRASE, secret=bytes(range(2, 34)), second=bytes(range(3, 35)))
    back_up(tmp_path / "other", tmp_path / "stick")
    assert len(restoring.homes(tmp_path / "stick")) == 2
    with pytest.raises(Refused, match="several fairs"):
        restoring.restore(tmp_path / "stick", tmp_path / "new", SECRETS[0])


def test_after_a_restore_to_yesterday_the_tablets_hand_in_again_what_the_backup_does_not_hold(
    folder: Path, tmp_path: Path
) -> None:
    with wiring.open_fair(folder, write=True) as fair:
        tablets = [
            Device(name, fair=fair.state.id, epoch=fair.journal.store.head().epoch) for name in ("t1", "t2")
        ]
        for tablet in tablets:
            fair.record([Draft(kind="device.paired", sub=tablet.dev, who="office")])
        plate = find(fair.state, "7/15").listed.id
        for number in range(6):
            if number == 3:
                backing.back_up(fair, tmp_path / "stick", counts=True)
            for tablet in tablets:
                body = {"kind": "wear", "words": f"look {number} of {tablet.dev}"}
                send(fair.journal.store, tablet.make("observation.made", plate, "ben", body))
        safe = backing.safe_n(fair)
        held = fair.journal.store.head().n
    assert safe == held - 6, "what came after the backup is not safe, so tablets keep it"
    restoring.restore(tmp_path / "stick", folder, SECRETS[0])
    with wiring.open_fair(folder, write=True) as fair:
        store = fair.journal.store
        for tablet in tablets:
            told = send(store, *tablet.made, epoch=tablet.epoch)
            assert {(one.status, one.last) for one in told} == {("epoch", 3)}
            tablet.epoch = told[0].epoch
            again = send(store, *tablet.made[told[0].last :], epoch=tablet.epoch)
            assert [one.status for one in again] == ["ok"] * 3
        there = {entry.event.id for entry in store.entries()}
        assert {parse(offer.raw).id for tablet in tablets for offer in tablet.made} <= there
        assert verify(store) == ()  # type: ignore[arg-type]


def test_a_text_deleted_since_the_backup_stays_out_when_its_tablet_hands_it_in_again(
    folder: Path, tmp_path: Path
) -> None:
    with wiring.open_fair(folder, write=True) as fair:
        tablet = Device("t1", fair=fair.state.id)
        fair.record([Draft(kind="device.paired", sub="t1", who="office")])
        plate = find(fair.state, "7/15").listed.id
        backing.back_up(fair, tmp_path / "stick", counts=True)
        made = tablet.make("observation.made", plate, "ben", {"kind": "wear", "words": MARKER})
        send(fair.journal.store, made)
        redacting.redact(
            fair, redacting.chosen(fair, Wanted(words=MARKER)), ground="law", who="cy", second="office"
        )
    restoring.restore(tmp_path / "stick", folder, SECRETS[0])
    for path in folder.glob("*.broken-*"):
        path.unlink()
    with wiring.open_fair(folder, write=True) as fair:
        (told,) = send(fair.journal.store, made)
        assert told.status == "ok", "the entry is taken in, so that the tablet's numbers go on"
        assert holding(folder, MARKER) == []
        assert verify(fair.journal.store) == ()  # type: ignore[arg-type]
