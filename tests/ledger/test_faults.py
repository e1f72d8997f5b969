"""Faults that a hall deals out: kills, lost power, flipped bits, cut files, full and failing disks."""

import os
import random
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from planish.ledger import backup, sqlite
from planish.ledger.store import LedgerBrokenError, LedgerBusyError, LedgerError, LedgerFullError
from planish.ledger.verifying import verify
from tests.ledger.desks import Device, begin, send
from tests.ledger.power_loss import images

WRITER = Path(__file__).parent / "writer.py"
KILLS = int(os.environ.get("PLANISH_KILLS", "60"))
IMAGES = int(os.environ.get("PLANISH_IMAGES", "60"))
BITS = int(os.environ.get("PLANISH_BITS", "150"))


def write(*words: str | Path, before: tuple[str, ...] = ()) -> list[str]:
    """Run the writer and give the lines it said."""
    command = [*before, sys.executable, str(WRITER), *(str(word) for word in words)]
    return subprocess.run(command, capture_output=True, text=True, check=False).stdout.splitlines()


def acknowledged(lines: list[str]) -> set[str]:
    return {line[3:] for line in lines if line.startswith("ok ")}


def stored(path: Path) -> list[str]:
    reader = sqlite.read_ledger(path)
    try:
        assert verify(reader) == ()
        return [entry.event.id for entry in reader.entries()]
    finally:
        reader.close()


LOCK = "DPkg::Lock::Timeout=300"


def need(tool: str) -> str:
    """A tool of the system; brought by apt where we may. In CI its absence is a failure."""
    if shutil.which(tool) is None and os.geteuid() == 0 and shutil.which("apt-get"):
        subprocess.run(["apt-get", "-qq", "-o", LOCK, "update"], check=False, capture_output=True)
        subprocess.run(
            ["apt-get", "-qq", "-o", LOCK, "install", "-y", tool], check=False, capture_output=True
        )
    found = shutil.which(tool)
    if found is None:
        (pytest.fail if os.environ.get("CI") else pytest.skip)(
            f"apt-get install {tool} brings what this test needs"
        )
    return str(found)


def test_a_desk_killed_between_commit_and_reply_loses_and_doubles_nothing(tmp_path: Path) -> None:
    path, kills, told = tmp_path / "a.planish", 0, set[str]()
    runs = 0
    while kills < KILLS:
        runs += 1
        lines = write(path, "200", "--die", "0.2", str(runs))
        kills += lines[-1:] != ["end"]
        told |= acknowledged(lines)
    ids = stored(path)
    assert len(ids) == len(set(ids))
    assert told <= set(ids)
    assert len(ids) - len(told) == kills  # each kill fell after a commit that nobody was told of


@pytest.mark.parametrize("synchronous", ["FULL", "NORMAL"])
def test_lost_power_loses_no_acknowledged_event_under_full_and_some_under_normal(
    tmp_path: Path, synchronous: str
) -> None:
    strace = need("strace")
    path, trace = tmp_path / "a.planish", tmp_path / "trace"
    calls = "trace=openat,close,pwrite64,write,ftruncate,fdatasync,fsync,unlink,rename"
    before = (strace, "-f", "-xx", "-s", "1000000", "-e", calls, "-o", str(trace))
    write(path, "40", "--synchronous", synchronous, before=before)
    lost = broken = 0
    for number, (folder, told) in enumerate(
        images(trace, path, tmp_path / "images", random.Random(7), IMAGES)
    ):
        assert number < IMAGES
        try:
            lost += bool(told - set(stored(folder / path.name)))
        except AssertionError:
            broken += bool(told)  # before the first word nothing was promised
        except LedgerError:  # not even a ledger yet: nothing may have been acknowledged
            lost += bool(told)
    if synchronous == "FULL":
        assert (lost, broken) == (0, 0)
    else:
        assert lost > 0


@pytest.fixture
def whole(tmp_path: Path) -> Path:
    """A closed ledger of a hundred entries with words in it."""
    path = tmp_path / "whole.planish"
    with sqlite.create(path, fair="harbour", epoch="e1") as store:
        begin(store, "t1", "t2")
        tablet = Device("t1")
        words = {"kind": "mark", "words": "A rose, rubbed", "spot": "under the rim"}
        send(store, *(tablet.make("observation.made", "o1", "mo", words) for _ in range(100)))
    return path


def content(path: Path) -> object:
    """Every value the file holds, for telling whether a flipped bit changed any."""
    import apsw

    try:
        db = apsw.Connection(str(path), flags=apsw.SQLITE_OPEN_READONLY)
        tables = ("meta", "entry NOT INDEXED", "opening NOT INDEXED", "standing", "sqlite_schema")
        return [db.execute(f"SELECT * FROM {table}").fetchall() for table in tables]
    except (apsw.Error, UnicodeDecodeError) as error:
        return repr(error)


def test_one_flipped_bit_that_changes_a_value_is_always_noticed(whole: Path, tmp_path: Path) -> None:
    good, dice, changed, missed = whole.read_bytes(), random.Random(3), 0, []
    before = content(whole)
    for _ in range(BITS):
        bad = bytearray(good)
        bit = dice.randrange(len(good) * 8)
        bad[bit // 8] ^= 1 << bit % 8
        copy = tmp_path / "flipped.planish"
        copy.write_bytes(bad)
        if content(copy) == before:
            continue
        changed += 1
        if not noticed(copy):
            missed.append(bit)
    assert missed == []
    assert changed > BITS // 3


def noticed(path: Path) -> bool:
    try:
        reader = sqlite.read_ledger(path)
    except LedgerError:
        return True
    try:
        return verify(reader) != ()
    finally:
        reader.close()


def test_a_file_cut_short_anywhere_is_noticed_and_left_as_it_is(whole: Path, tmp_path: Path) -> None:
    good, dice = whole.read_bytes(), random.Random(5)
    for _ in range(40):
        copy = tmp_path / "cut.planish"
        bad = good[: dice.randrange(len(good))]
        copy.write_bytes(bad)
        assert noticed(copy)
        assert copy.read_bytes() == bad


def test_an_insider_who_changes_one_entry_is_found_and_the_entry_named(whole: Path) -> None:
    import apsw

    db = apsw.Connection(str(whole))
    db.execute("DROP TRIGGER entry_stays")
    changed = "CAST(replace(CAST(raw AS TEXT), 'mark', 'wear') AS BLOB)"
    db.execute(f"UPDATE entry SET raw = {changed} WHERE n = 50")
    db.close()
    reader = sqlite.read_ledger(whole)
    found = {(problem.where, problem.code) for problem in verify(reader)}
    reader.close()
    assert ("entry 50", "ledger.changed") in found
    assert ("the ledger file", "ledger.unsound") in found


def test_a_full_disk_stops_writing_with_a_plain_word_reading_goes_on_and_room_lets_it_resume(
    small_disk: Path,
) -> None:
    ballast = small_disk / "ballast"
    ballast.write_bytes(b"\0" * 2_000_000)
    with sqlite.create(small_disk / "a.planish", fair="harbour", epoch="e1") as store:
        desk = begin(store)
        told, full = len(desk.made), 0
        while not full:
            offer = desk.make("stand.added", "s", "office", {"number": "1", "exhibitor": "N" * 20_000})
            try:
                told += send(store, offer)[0].status == "ok"
            except LedgerFullError:
                full += 1
        assert len([*store.entries()]) == told
        ballast.unlink()
        assert send(store, desk.made[-1])[0].status == "ok"
        assert [entry.raw for entry in store.entries()] == [offer.raw for offer in desk.made]
        assert verify(store) == ()


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    place = tmp_path / "small"
    place.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=6m", "none", str(place)], capture_output=True
    )
    if mounted.returncode:
        pytest.skip("mounting a small disk needs root")
    yield place
    subprocess.run(["umount", "-l", str(place)], check=False)


def test_after_a_failed_sync_nothing_is_acknowledged_until_restart_and_verify(tmp_path: Path) -> None:
    strace = need("strace")
    path = tmp_path / "a.planish"
    inject = ("-f", "-e", "trace=fdatasync", "-e", "inject=fdatasync:error=EIO:when=12", "-o", "/dev/null")
    lines = write(path, "30", before=(strace, *inject))
    first = next(index for index, line in enumerate(lines) if line.startswith("no "))
    assert first > 0
    assert {line.partition(" ")[0] for line in lines[first:]} == {"no", "end"}
    assert sqlite.fault_note(path).exists()
    assert acknowledged(lines) <= set(stored(path))
    with sqlite.open_ledger(path):
        assert not sqlite.fault_note(path).exists()


def test_a_writer_whose_lock_file_was_deleted_notices_that_another_took_over(tmp_path: Path) -> None:
    path = tmp_path / "a.planish"
    with sqlite.create(path, fair="harbour", epoch="e1") as store:
        desk = begin(store)
        path.with_name("a.planish.lock").unlink()
        with sqlite.open_ledger(path):
            offer = desk.make("stand.added", "s", "office", {"number": "1", "exhibitor": "N"})
            with pytest.raises(LedgerBusyError, match="has taken over"):
                send(store, offer)
    assert len(stored(path)) == len(desk.made) - 1


def test_an_old_engine_is_refused(whole: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sqlite.apsw, "sqlite_lib_version", lambda: "3.51.2")
    with pytest.raises(LedgerError, match=r"Install apsw 3\.51\.3 or newer"):
        sqlite.open_ledger(whole)


def test_a_backup_made_while_events_come_in_is_whole_and_only_then_raises_what_is_safe(
    tmp_path: Path,
) -> None:
    with sqlite.create(tmp_path / "a.planish", fair="harbour", epoch="e1") as store:
        desk = begin(store)
        copy = tmp_path / "stick" / "a.backup"
        copy.parent.mkdir()
        for _ in range(3):
            send(store, desk.make("stand.added", "s", "office", {"number": "1", "exhibitor": "N"}))
            assert backup.back_up(store, copy) == store.head()
            assert store.safe_n == store.head().n
    assert len(stored(copy)) == len(desk.made)


def test_a_restore_keeps_the_broken_file_starts_a_new_epoch_and_deletes_again_what_was_deleted(
    tmp_path: Path,
) -> None:
    place, copy = tmp_path / "a.planish", tmp_path / "a.backup"
    with sqlite.create(place, fair="harbour", epoch="e1") as store:
        desk = begin(store, "t1")
        send(
            store,
            Device("t1").make("observation.made", "o1", "mo", {"kind": "mark", "words": "MARKER-PHRASE"}),
        )
        marked = [*store.entries()][-1].event.id
        body = {"ids": [marked], "ground": "request", "second": "cy"}
        send(store, desk.make("opening.redacted", "harbour", "office", body))
        with pytest.raises(LedgerBrokenError, match="the text of it is still there"):
            backup.back_up(store, copy)
        backup.copy(place, copy)
    place.write_bytes(b"broken")
    with backup.restore(copy, place, epoch="e2") as again:
        assert again.head().epoch == "e2"
        assert verify(again) == ()
    assert (tmp_path / "a.planish.broken-1").read_bytes() == b"broken"
    assert b"MARKER-PHRASE" not in place.read_bytes()


def test_a_backup_that_does_not_verify_is_not_restored(whole: Path, tmp_path: Path) -> None:
    bad = tmp_path / "bad.backup"
    bad.write_bytes(whole.read_bytes()[:20_000])
    with pytest.raises(LedgerBrokenError):
        backup.restore(bad, tmp_path / "new.planish", epoch="e2")
    assert not (tmp_path / "new.planish").exists()
