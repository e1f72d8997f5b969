"""Deleting readable text: by two people, with a ground; the chain still verifies and the text lies nowhere any more."""

from pathlib import Path

import pytest

from planish.errands.intake.finding import find
from planish.errands.opening import wiring
from planish.errands.opening.refusing import Refused
from planish.errands.opening.wiring import LEDGER
from planish.errands.record import archiving, backing, keeping, redacting
from planish.errands.record.redacting import Text, Wanted
from planish.errands.telling import reporting
from planish.ledger import sqlite
from planish.ledger.journal import Draft
from planish.ledger.store import LedgerBusyError
from planish.ledger.verifying import verify
from tests.keeping.fairs import settled_fair, with_keys
from tests.keeping.test_restoring import holding, note

MARKER = "MRS-EXAMPLE-OF-NOWHERE"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    place = tmp_path / "the fair"
    settled_fair(place).close()
    with_keys(place)
    (tmp_path / "stick").mkdir()
    return place


def test_a_deleted_text_lies_in_no_file_of_the_fair_no_later_backup_and_no_archive(
    folder: Path, tmp_path: Path
) -> None:
    with wiring.open_fair(folder, write=True) as fair:
        for number in range(40):
            note(fair, f"{MARKER} {number} " + "long words " * 900)
        assert holding(folder, MARKER), "the grep finds it while it is there"
        done = redacting.redact(
            fair, redacting.chosen(fair, Wanted(words=MARKER)), ground="request", who="cy", second="office"
        )
        assert done.texts == 40
        assert holding(folder, MARKER) == [], "not in the file, the write-ahead log or its index"
        assert verify(fair.journal.store) == ()  # type: ignore[arg-type]
        assert MARKER not in str(fair.state)
        archiving.archive(fair, tmp_path / "archive")
        backing.back_up(fair, tmp_path / "stick")
    assert holding(tmp_path / "archive", MARKER) == []
    from planish.errands.record import restoring

    restoring.restore(tmp_path / "stick", tmp_path / "new", bytes(range(32)))
    assert holding(tmp_path / "new", MARKER) == []


def test_one_person_alone_deletes_nothing_and_neither_does_a_ground_that_is_none(folder: Path) -> None:
    with wiring.open_fair(folder, write=True) as fair:
        note(fair, MARKER)
        texts = redacting.chosen(fair, Wanted(words=MARKER))
        n = fair.journal.store.head().n
        for who, second in (("cy", "cy"), ("cy", "")):
            with pytest.raises(Refused, match="second person"):
                redacting.redact(fair, texts, ground="request", who=who, second=second)
        with pytest.raises(Refused, match="no ground"):
            redacting.redact(fair, texts, ground="because", who="cy", second="office")
        assert fair.journal.store.head().n == n
        with pytest.raises(
            Refused, match="is for"
        ):  # a member has no right; the log keeps the try and applies nothing
            redacting.redact(fair, texts, ground="request", who="ben", second="ada")
        assert redacting.chosen(fair, Wanted(words=MARKER)) == texts


def test_what_was_decided_stays_although_somebody_asks(folder: Path) -> None:
    with wiring.open_fair(folder, write=True) as fair:
        kettle = find(fair.state, "7/14").listed.id
        asked = redacting.chosen(fair, Wanted(objects=(kettle,)))
        assert not {(text.kind, text.path) for text in asked} & {
            ("label.agreed", "text"), ("outcome.proposed", "reasons"), ("ballot.locked", "ballot"),
        }  # fmt: skip
        agreed = [
            Text(n=e.n, id=e.event.id, kind=e.event.name, path="text", sub=kettle)
            for e in fair.journal.entries()
            if e.event.name == "label.agreed"
        ]
        with pytest.raises(Refused, match="stays although somebody asks"):
            redacting.redact(fair, agreed, ground="request", who="cy", second="office")
        assert redacting.redact(fair, agreed, ground="law", who="cy", second="office").texts == 1


def test_a_deletion_cut_off_after_it_was_recorded_is_noticed_blocks_backups_and_is_finished(
    folder: Path, tmp_path: Path
) -> None:
    with wiring.open_fair(folder, write=True) as fair:
        note(fair, MARKER)
        (text,) = redacting.chosen(fair, Wanted(words=MARKER))
        body = {"ids": [text.id], "ground": "request", "second": "office"}
        fair.record([Draft(kind="opening.redacted", sub=fair.state.id, who="cy", body=body)])
        assert [one.code for one in verify(fair.journal.store)] == ["ledger.not_deleted"]  # type: ignore[arg-type]
        with pytest.raises(Refused, match="the text of it is still there"):
            backing.back_up(fair, tmp_path / "stick")
        assert redacting.finish(fair).texts == 1
        backing.back_up(fair, tmp_path / "stick")
    assert holding(folder, MARKER) == []


def test_a_reader_who_stands_in_the_way_is_told_of_and_nothing_is_claimed_too_early(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sqlite, "WIPE_S", 0.2)
    import apsw

    with wiring.open_fair(folder, write=True) as fair:
        note(fair, MARKER)
        reading = apsw.Connection(str(folder / LEDGER), flags=apsw.SQLITE_OPEN_READONLY)
        reading.execute("BEGIN")
        reading.execute("SELECT count(*) FROM entry").fetchall()
        with pytest.raises(Refused, match="somebody is reading"):
            redacting.redact(
                fair,
                redacting.chosen(fair, Wanted(words=MARKER)),
                ground="request",
                who="cy",
                second="office",
            )
        reading.execute("COMMIT")
        reading.close()
        redacting.finish(fair)
        assert holding(folder, MARKER) == []
    assert issubclass(LedgerBusyError, Exception)


def test_with_every_text_deleted_the_fair_still_opens_and_stands_where_it_stood(
    folder: Path, tmp_path: Path
) -> None:
    with wiring.open_fair(folder, write=True) as fair:
        before = {id_: story.state for id_, story in fair.state.objects.items()}
        texts = [text for entry in fair.journal.entries() for text in redacting.texts_of(entry)]
        redacting.redact(fair, texts, ground="law", who="cy", second="office")
        assert {id_: story.state for id_, story in fair.state.objects.items()} == before
        assert not any(entry.openings for entry in fair.journal.entries())
        reporting.stories(fair)
        reporting.slips(fair, "")
        archiving.archive(fair, tmp_path / "archive")
    assert keeping.verify_log(folder).problems == ()


def test_a_picture_goes_when_the_last_entry_that_names_it_goes_from_the_fair_and_from_the_medium(
    folder: Path, tmp_path: Path
) -> None:
    shown, shared = "a" * 64, "b" * 64
    (folder / "pictures").mkdir()
    for digest in (shown, shared):
        (folder / "pictures" / f"{digest}.jpg").write_bytes(b"JPEG")
    with wiring.open_fair(folder, write=True) as fair:
        ids = [find(fair.state, item).listed.id for item in ("7/14", "7/15")]
        take = [(ids[0], shown), (ids[0], shared), (ids[1], shared)]
        drafts = [
            Draft(kind="picture.taken", sub=sub, who="ben", body={"note": "n"}, att=(digest,))
            for sub, digest in take
        ]
        fair.record(drafts)
        done = backing.back_up(fair, tmp_path / "stick")
        files = done.file.parent / "files"
        assert {path.name for path in files.iterdir()} == {f"{shown}.age", f"{shared}.age"}
        chosen = redacting.chosen(fair, Wanted(objects=(ids[0],), field="note"))
        assert redacting.redact(fair, chosen, ground="request", who="cy", second="office").files == 1
        assert [path.stem for path in (folder / "pictures").iterdir()] == [shared]
        assert [path.stem for path in files.iterdir()] == [shared]


def test_earlier_copies_of_papers_go_from_the_medium_and_what_is_to_be_destroyed_is_named(
    folder: Path, tmp_path: Path
) -> None:
    """Two versions of a paper were copied; the text goes: neither copy stays, and a paper printed since is copied anew."""
    papers, stick = folder / "papers", tmp_path / "stick"
    papers.mkdir(exist_ok=True)
    with wiring.open_fair(folder, write=True) as fair:
        note(fair, MARKER)
        (papers / "slips.pdf").write_bytes(b"first, " + MARKER.encode())
        backing.back_up(fair, stick)
        (papers / "slips.pdf").write_bytes(b"second, " + MARKER.encode())
        done = backing.back_up(fair, stick)
        files = done.file.parent / "files"
        assert len(list(files.iterdir())) == 2
        told = redacting.redact(
            fair, redacting.chosen(fair, Wanted(words=MARKER)), ground="request", who="cy", second="office"
        )
        assert (told.copies, told.papers) == (2, ("slips.pdf",))
        assert list(files.iterdir()) == []
        backing.back_up(fair, stick)
        assert list(files.iterdir()) == [], "a paper from before the deletion is not carried on"
        (papers / "slips.pdf").write_bytes(b"third, without it")
        backing.back_up(fair, stick)
        assert len(list(files.iterdir())) == 1
    from planish.errands.record import restoring

    back = restoring.restore(stick, tmp_path / "new", bytes(range(32)))
    assert (tmp_path / "new" / "papers" / "slips.pdf").read_bytes() == b"third, without it"
    assert holding(tmp_path / "new", MARKER) == []
    assert not back.missing


def test_the_command_names_every_paper_to_destroy(folder: Path) -> None:
    from click.testing import CliRunner

    from planish.doors.cli import redact

    (folder / "papers").mkdir(exist_ok=True)
    names = [f"slips-{n}.pdf" for n in range(12)]
    for name in names:
        (folder / "papers" / name).write_bytes(b"PDF")
    with wiring.open_fair(folder, write=True) as fair:
        note(fair, MARKER)
    words = [
        "--fair",
        str(folder),
        "--words",
        MARKER,
        "--by",
        "cy",
        "--second",
        "office",
        "--ground",
        "request",
    ]
    done = CliRunner().invoke(redact.command, words)
    assert done.exit_code == 0, done.output
    assert all(f"papers/{name}, and every sheet printed from it" in done.output for name in names)
