"""From settled words to a printed code and back, through the commands that people type."""

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from planish.doors.cli import compare, invoice, key, printing, seal
from planish.doors.papers.scanning import codes_in
from planish.errands.intake.finding import find
from planish.errands.opening import wiring
from planish.errands.opening.refusing import Refused
from planish.errands.seals import keys, sealing
from planish.ledger.journal import Draft
from planish.ledger.sealing import open_seal
from planish.ledger.sealing.lists import read_list
from tests.conftest import missing
from tests.keeping.fairs import KETTLE, PASSPHRASE, settled_fair, with_keys


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    place = tmp_path / "the fair"
    settled_fair(place).close()
    return place


def run(command: object, *words: object, typed: str = "") -> Result:
    environment = {"PLANISH_PASSPHRASE": PASSPHRASE}
    return CliRunner().invoke(command, [str(w) for w in words], input=typed, env=environment)  # type: ignore[arg-type]


def seal_all(folder: Path) -> None:
    done = run(seal.command, "--fair", folder, "--all", "--by", "sam", typed="y\ny\n")
    assert done.exit_code == 0, done.output


def test_nothing_is_sealed_before_both_sheets_were_typed_once(folder: Path, tmp_path: Path) -> None:
    done = run(key.command, "make", "--fair", folder, "--out", tmp_path / "sheets")
    assert done.exit_code == 0, done.output
    assert sorted(path.name for path in (tmp_path / "sheets").iterdir()) == ["sheet-1.pdf", "sheet-2.pdf"]
    refused = run(seal.command, "--fair", folder, "--all", typed="y\ny\n")
    assert isinstance(refused.exception, Refused)
    assert "never" not in (folder / keys.PUBLIC).read_text()
    words = [" ".join(sheet_words(tmp_path / "sheets" / f"sheet-{n}.pdf")) for n in (2, 1)]
    done = run(key.command, "finish", "--fair", folder, typed="\n".join(words) + "\n")
    assert "Both sheets were tried" in done.output
    seal_all(folder)


def sheet_words(pdf: Path) -> list[str]:
    import pypdf

    from planish.ledger.daywords import WORDS

    text = pypdf.PdfReader(pdf).pages[0].extract_text().partition("Whoever")[0].partition("and nothing else")
    body = text[2] or text[0].partition("can be opened.")[2]
    return [word for word in body.split() if word in WORDS]


def test_a_key_file_is_readable_by_its_owner_only_and_a_wrong_passphrase_opens_nothing(folder: Path) -> None:
    with_keys(folder)
    assert (folder / keys.PRIVATE).stat().st_mode & 0o077 == 0
    assert b"ENCRYPTED" in (folder / keys.PRIVATE).read_bytes()
    with pytest.raises(Refused, match="does not open"):
        keys.private(folder, "five plain tin mugs")


def test_a_sheet_with_one_word_wrong_or_of_another_fair_is_refused(folder: Path) -> None:
    first, _ = with_keys(folder)
    with pytest.raises(Refused, match="do not fit together"):
        keys.finish(folder, first.replace("adze", "alder", 1))
    other = " ".join(keys.in_words(bytes(32)))
    with pytest.raises(Refused, match="another key"):
        keys.finish(folder, other)


def test_a_lost_passphrase_is_replaced_by_sheet_one(folder: Path) -> None:
    first, _ = with_keys(folder)
    keys.finish(folder, first, "a quite different line")
    assert keys.private(folder, "a quite different line")
    with pytest.raises(Refused):
        keys.private(folder, PASSPHRASE)


def test_sealed_words_come_back_from_the_printed_card_and_from_the_check_code(
    folder: Path, tmp_path: Path
) -> None:
    with_keys(folder)
    seal_all(folder)
    assert run(printing.command, "labels", "--fair", folder, "--out", tmp_path).exit_code == 0
    with wiring.open_fair(folder) as fair:
        code, check = sealing.printed_code(fair, find(fair.state, "7/14"))
    pdf = [tmp_path / "labels.pdf"] if shutil.which("pdftoppm") else []
    for given in (*pdf, code, check):
        done = run(compare.command, given, "--fair", folder, "--hangs", KETTLE, "--json")
        said = json.loads(done.output)
        assert said[0]["words"]["words"] == KETTLE
        assert (said[0]["same"], said[0]["state"]) == (True, "sealed")
        assert said[0]["words"]["compare"] == ["Height 31 cm"]


def test_every_card_of_a_sheet_is_found_and_a_sheet_without_seals_is_refused(
    folder: Path, tmp_path: Path
) -> None:
    if shutil.which("pdftoppm") is None:
        missing("drawing PDF pages needs pdftoppm: apt-get install poppler-utils")
    with_keys(folder)
    run(printing.command, "labels", "--fair", folder, "--out", tmp_path / "before")
    seal_all(folder)
    run(printing.command, "labels", "--fair", folder, "--out", tmp_path / "after")
    assert len(codes_in(tmp_path / "after" / "labels.pdf")) == 2
    with pytest.raises(Refused, match="No seal's code"):
        codes_in(tmp_path / "before" / "labels.pdf")


def test_without_the_fair_the_answer_is_as_passed_on_that_day_and_one_changed_word_is_shown(
    folder: Path, tmp_path: Path
) -> None:
    with_keys(folder)
    seal_all(folder)
    run(key.command, "show", "--fair", folder, "--out", tmp_path / "public.json")
    with wiring.open_fair(folder) as fair:
        code, _ = sealing.printed_code(fair, find(fair.state, "7/14"))
    hangs = KETTLE.replace("the lid replaced", "the lid original")
    done = run(compare.command, code, "--keys", tmp_path / "public.json", "--hangs", hangs)
    assert done.exit_code == 1
    assert "Words as passed on" in done.output
    assert "Later changes are not known here." in done.output
    assert "[-replaced" in done.output
    assert "{+original" in done.output
    for word in ("valid", "authentic", "certified", "genuine"):
        assert word not in done.output.casefold()


def test_a_steward_who_reads_other_words_cannot_seal(folder: Path) -> None:
    with_keys(folder)
    done = run(
        seal.command, "--fair", folder, "7/14", "--by", "sam", "--hangs", KETTLE.replace("1790", "1760")
    )
    assert isinstance(done.exception, Refused)
    assert "not what was agreed" in str(done.exception)
    with wiring.open_fair(folder) as fair:
        assert find(fair.state, "7/14").state.label == "agreed"


def test_a_relabelled_object_supersedes_its_old_seal_with_and_without_the_list(
    folder: Path, tmp_path: Path
) -> None:
    with_keys(folder)
    seal_all(folder)
    secret = keys.private(folder, PASSPHRASE)
    with wiring.open_fair(folder, write=True) as fair:
        plate = find(fair.state, "7/15")
        old = sealing.seal_of(fair, plate)
        words = {"version": 2, "text": plate.label.text.replace("1750", "1760")}  # type: ignore[union-attr]
        fair.record([Draft(kind="label.hung", sub=plate.listed.id, who="office", body=words)])
        plate = find(fair.state, "7/15")
        assert (plate.state.label, plate.state.examination) == ("as_hung", "reopened")
        assert sealing.state_of(fair, old) == "superseded"
        fair.record([Draft(kind="outcome.proposed", sub=plate.listed.id, who="ada", body={"outcome": "accept"}),
                     Draft(kind="outcome.confirmed", sub=plate.listed.id, who="ada", body={"outcome": "accept"})])  # fmt: skip
        new = sealing.seal_label(fair, find(fair.state, "7/15"), secret, who="sam", hangs=str(words["text"]))
        plate = find(fair.state, "7/15")
        assert (new.words.version, plate.state.label) == (2, "sealed")
        assert [label.stage for label in plate.labels] == ["superseded", "sealed"]
        listed = read_list(sealing.list_of_withdrawn(fair, secret), [secret.public_key()])
        assert listed.state(old) == "superseded"
        assert listed.state(sealing.seal_of(fair, plate)) == ""
    assert open_seal(old, [secret.public_key()]).day, "offline and without the list: as passed on that day"
    (tmp_path / "gone.seals").write_bytes(b"")
    run(seal.command, "--fair", folder, "--write-list", tmp_path / "gone.seals")
    run(key.command, "show", "--fair", folder, "--out", tmp_path / "public.json")
    from planish.ledger.sealing import write_code

    given = (write_code(old), "--keys", tmp_path / "public.json")
    assert "Later changes are not known here." in run(compare.command, *given).output
    assert "SUPERSEDED" in run(compare.command, *given, "--list", tmp_path / "gone.seals").output


def test_two_people_revoke_a_seal_and_one_cannot(folder: Path) -> None:
    with_keys(folder)
    seal_all(folder)
    why = ("--revoke", "--by", "office", "--reason", "it hung on the wrong kettle")
    assert isinstance(
        run(seal.command, "--fair", folder, "7/14", *why, "--second", "office").exception, Refused
    )
    done = run(seal.command, "--fair", folder, "7/14", *why, "--second", "cy")
    assert done.exit_code == 0, done.output
    with wiring.open_fair(folder) as fair:
        assert set(sealing.states(fair).values()) == {"revoked", "sealed"}


def test_an_invoice_carries_the_sealed_words_and_their_disclosure_word_for_word(folder: Path) -> None:
    with_keys(folder)
    assert isinstance(run(invoice.command, "--fair", folder, "7/14").exception, Refused)
    seal_all(folder)
    lines = run(invoice.command, "--fair", folder, "7/14").output.splitlines()
    assert lines[0] == KETTLE
    assert "To be read out: the lid replaced" in lines


def test_a_code_of_another_object_asks_for_the_comparison_and_names_its_stand(folder: Path) -> None:
    with_keys(folder)
    seal_all(folder)
    with wiring.open_fair(folder) as fair:
        plate_code, _ = sealing.printed_code(fair, find(fair.state, "7/15"))
    done = run(compare.command, plate_code, "--fair", folder, "--hangs", KETTLE)
    assert done.exit_code == 1
    assert "stand 7, no. 15" in done.output
    assert "Compare with the object: Diameter 24 cm" in done.output


def test_a_code_read_at_two_objects_raises_an_alarm_on_both_and_keeps_nothing_of_a_buyer(
    folder: Path,
) -> None:
    with_keys(folder)
    seal_all(folder)
    with wiring.open_fair(folder) as fair:
        plate_code, _ = sealing.printed_code(fair, find(fair.state, "7/15"))
        before = fair.journal.store.head().n
    own = run(compare.command, plate_code, "--fair", folder, "--at", "7/15", "--by", "sam")
    assert own.exit_code == 0, own.output
    swapped = run(compare.command, plate_code, "--fair", folder, "--at", "7/14", "--by", "sam")
    assert swapped.exit_code == 1
    assert "ALARM: this is the code of 7/15, read at 7/14." in swapped.output
    with wiring.open_fair(folder) as fair:
        kettle, plate = find(fair.state, "7/14"), find(fair.state, "7/15")
        assert [one.partition(": ")[2] for one in kettle.alarms] == [
            "the code read here is that of 7/15. Go and look at both labels."
        ]
        assert [one.partition(": ")[2] for one in plate.alarms] == [
            "its code was read at 7/14. Go and look at both labels."
        ]
        new = [entry.event for entry in fair.journal.entries(before)]
        assert [(e.name, e.who) for e in new] == [("seal.misplaced", "sam")] * 2
        assert {name for e in new for name in e.body} == {"seal", "here", "other", "where"}
