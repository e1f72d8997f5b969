"""Backups: verified, encrypted to two sheets, on a second medium; nothing is called safe before all of that is true."""

import io
import json
import tarfile
from pathlib import Path

import pyrage
import pytest

from planish.errands.opening import wiring
from planish.errands.opening.refusing import Refused
from planish.errands.opening.wiring import LEDGER
from planish.errands.record import backing, envelopes, packing
from planish.errands.seals import keys
from planish.ledger.backup import which_to_keep
from planish.ledger.journal import Draft
from tests.keeping.fairs import settled_fair, with_keys

MINUTE = 60_000


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    place = tmp_path / "the fair"
    settled_fair(place).close()
    with_keys(place)
    (tmp_path / "stick").mkdir()
    return place


def note(fair: wiring.Fair, words: str) -> None:
    fair.record(
        [
            Draft(
                kind="incident.noted", sub=fair.state.id, who="office", body={"sort": "other", "words": words}
            )
        ]
    )


def test_a_backup_opens_with_either_sheet_and_holds_the_whole_log(folder: Path, tmp_path: Path) -> None:
    with wiring.open_fair(folder, write=True) as fair:
        done = backing.back_up(fair, tmp_path / "stick", counts=True)
        assert (done.n, done.hash) == (fair.journal.store.head().n, fair.journal.store.head().hash.hex())
        assert backing.safe_n(fair) == done.n
    for secret in (bytes(range(32)), bytes(range(1, 33))):
        # pyrage is the Rust implementation of age v1; it is given the line that any age tool takes
        opened = pyrage.decrypt(
            done.file.read_bytes(), [pyrage.x25519.Identity.from_str(envelopes.identity(secret))]
        )
        with tarfile.open(fileobj=io.BytesIO(opened)) as tar:
            log = tar.extractfile(LEDGER)
            assert log is not None
            assert log.read(15) == b"SQLite format 3"
            assert {"rulebook.toml", "keys/seal.pem", "index.json"} <= set(tar.getnames())
    with pytest.raises(pyrage.DecryptError):
        pyrage.decrypt(done.file.read_bytes(), [pyrage.x25519.Identity.generate()])


def test_nothing_on_the_stick_can_be_read_without_a_sheet(folder: Path, tmp_path: Path) -> None:
    (folder / "pictures").mkdir()
    (folder / "pictures" / "note.txt").write_text("PLAIN-PICTURE-MARKER")
    with wiring.open_fair(folder, write=True) as fair:
        note(fair, "PLAIN-WORDS-MARKER")
        backing.back_up(fair, tmp_path / "stick")
    for path in (tmp_path / "stick").rglob("*"):
        assert not path.is_file() or b"MARKER" not in path.read_bytes()
    assert not [*folder.glob(".backup-*")], "no readable copy stays behind"


def test_a_backup_on_the_same_disk_is_made_and_makes_nothing_safer(folder: Path, tmp_path: Path) -> None:
    with wiring.open_fair(folder, write=True) as fair:
        done = backing.back_up(fair, tmp_path / "stick")
        assert done.file.is_file()
        assert not done.counts
        assert backing.safe_n(fair) == 0
        assert backing.standing(fair).late


def test_what_cannot_be_verified_is_not_called_safe_and_the_earlier_backup_stands(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with wiring.open_fair(folder, write=True) as fair:
        first = backing.back_up(fair, tmp_path / "stick", counts=True)
        note(fair, "more")
        head = fair.journal.store.head()
        wrong = packing.Job(
            folder=str(folder), place=str(first.file.parent), recipients=(str(pyrage.x25519.Identity.generate().to_public()),),
            n=head.n, hash="00" * 32, at_ms=first.at_ms + 1,
        )  # fmt: skip
        assert "remembers another log" in packing.pack(wrong).fault
        monkeypatch.setattr(backing, "_in_a_process", lambda *_: packing.Packed(fault="the medium is full"))
        with pytest.raises(Refused, match="the medium is full"):
            backing.back_up(fair, tmp_path / "stick", counts=True)
        assert backing.safe_n(fair) == first.n
        assert backing.standing(fair).fault == "the medium is full"
    assert first.file.is_file()


def test_a_medium_that_gives_back_other_bytes_is_noticed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "a").write_bytes(b"words")
    monkeypatch.setattr(envelopes, "_read_back", lambda _: "00" * 32)
    with pytest.raises(OSError, match="gave back other bytes"):
        envelopes.close_up(
            tmp_path / "a", tmp_path / "b", [str(pyrage.x25519.Identity.generate().to_public())]
        )
    assert not (tmp_path / "b").exists()


def test_a_picture_is_copied_once(folder: Path, tmp_path: Path) -> None:
    (folder / "pictures").mkdir()
    for number in range(3):
        (folder / "pictures" / f"{number:064x}.jpg").write_bytes(bytes([number]) * 1000)
    with wiring.open_fair(folder, write=True) as fair:
        first = backing.back_up(fair, tmp_path / "stick")
        note(fair, "more")
        (folder / "pictures" / f"{9:064x}.jpg").write_bytes(b"new")
        again = backing.back_up(fair, tmp_path / "stick")
    assert (first.new_files, again.new_files) == (3, 1)


def test_a_desk_takes_note_of_a_backup_that_another_process_made(folder: Path, tmp_path: Path) -> None:
    with wiring.open_fair(folder, write=True) as desk:
        with wiring.open_fair(folder) as beside:
            made = backing.back_up(beside, tmp_path / "stick", counts=True)
        assert backing.safe_n(desk) == made.n
        said = json.loads((folder / backing.SAID).read_text())
        note(desk, "more")
        said["last"] |= {"n": made.n + 1, "hash": "00" * 32}
        (folder / backing.SAID).write_text(json.dumps(said))
        assert backing.safe_n(desk) == made.n, "a backup of another log is not ours"


def test_a_turn_backs_up_only_what_is_new_and_keeps_a_fault_for_the_red_strip(
    folder: Path, tmp_path: Path
) -> None:
    with wiring.open_fair(folder, write=True) as fair:
        assert backing.turn(fair).place == "", "no place was named, so nothing is made"
        backing.back_up(fair, tmp_path / "stick", counts=True)
        home = backing.home(folder, fair.state.id, tmp_path / "stick")
        backing.turn(fair)
        assert len(backing.found(home)) == 1
        note(fair, "more")
        assert backing.turn(fair).safe_n == fair.journal.store.head().n
        note(fair, "still more")
        (tmp_path / "stick").rename(tmp_path / "gone")
        after = backing.turn(fair)
        assert "no such folder" in after.fault
        assert not after.late
        assert backing.standing(fair, now_ms=after.last_ms + 16 * MINUTE).late


def test_of_two_months_of_backups_every_five_minutes_the_schedule_keeps_twelve_a_day_of_hours_and_35_days() -> (
    None
):
    times = range(0, 60 * 24 * 60 * MINUTE, 5 * MINUTE)
    kept = sorted(which_to_keep(times), reverse=True)
    newest = times[-1]
    assert kept[:12] == [newest - at * 5 * MINUTE for at in range(12)]
    hours = {time // (60 * MINUTE) for time in kept if time > newest - 24 * 60 * MINUTE}
    assert len(hours) == 24
    days = {time // (24 * 60 * MINUTE) for time in kept}
    assert len(days) == 35
    assert len(kept) <= 12 + 24 + 35
    assert which_to_keep([5]) == {5}
    assert which_to_keep([]) == frozenset()


def test_a_fair_without_keys_is_told_to_make_them_and_a_place_inside_the_fair_is_refused(
    tmp_path: Path,
) -> None:
    settled_fair(tmp_path / "fair").close()
    with wiring.open_fair(tmp_path / "fair", write=True) as fair:
        with pytest.raises(Refused, match="no seal key"):
            backing.back_up(fair, tmp_path)
        with_keys(tmp_path / "fair")
        with pytest.raises(Refused, match="own folder"):
            backing.back_up(fair, tmp_path / "fair" / "keys")
        with pytest.raises(Refused, match="no such folder"):
            backing.back_up(fair, tmp_path / "nowhere")


# BIP 173, "Test vectors": valid strings, given here as the data they hold
@pytest.mark.parametrize(
    ("start", "fives", "text"),
    [("a", 0, "a12uel5l"), ("abcdef", 32, "abcdef1qpzry9x8gf2tvdw0s3jn54khce6mua7lmqqqxw")],
)
def test_bech32_gives_the_strings_of_bip_173(start: str, fives: int, text: str) -> None:
    number = 0
    for value in range(fives):
        number = number << 5 | value
    assert envelopes._bech32(start, number.to_bytes(fives * 5 // 8, "big")) == text


def test_a_sheets_key_is_the_one_that_backups_are_written_for() -> None:
    secret = bytes(range(7, 39))
    known = pyrage.x25519.Identity.from_str(envelopes.identity(secret))
    assert str(known.to_public()) == envelopes.recipient(keys.backup_key(secret).public_key())


def test_databases_beside_the_log_go_through_the_engine_and_half_sent_pictures_do_not_go_at_all(
    folder: Path, tmp_path: Path
) -> None:
    from planish.errands.people.accounts import Accounts
    from planish.errands.record.restoring import restore

    accounts = Accounts(folder)
    accounts.set_passphrase("cy", "a long enough line")
    accounts.begin("cy")
    whole = folder / "blobs" / "aa" / ("a" * 64)
    for path in (whole, folder / "blobs" / "parts" / "x"):
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(b"JPEG")
    assert (folder / "accounts.db-wal").stat().st_size > 0, "what was written last is not in the file itself"
    names = dict(packing.files_of(folder))
    assert names == {f"blobs/aa/{'a' * 64}": "a" * 64}
    with wiring.open_fair(folder, write=True) as fair:
        backing.back_up(fair, tmp_path / "stick")
    accounts.close()
    restore(tmp_path / "stick", tmp_path / "new", bytes(range(32)))
    again = Accounts(tmp_path / "new")
    assert again.has("cy")
    assert again._db.execute("SELECT count(*) FROM session").fetchall() == [(0,)]
    again.close()
