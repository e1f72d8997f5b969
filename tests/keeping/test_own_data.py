"""What is held about one person goes to that person, and nobody else is in it."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from planish.doors.cli import own_data as command
from planish.doors.papers import own_record
from planish.errands.opening import wiring
from planish.errands.opening.refusing import Refused
from planish.errands.people.own_data import ANOTHER, own_data
from planish.ledger.journal import Draft
from tests.keeping.fairs import MARKER, settled_fair

OTHERS = ("Benedikta Example", "Example")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("fair") / "the fair"
    settled_fair(place).close()
    with wiring.open_fair(place, write=True) as fair:
        plate = next(iter(fair.state.objects))
        fair.record(
            [
                Draft(kind="person.added", sub="ben", who="office", body={"name": "Benedikta Example"}),
                Draft(kind="person.added", sub="ada", who="office", body={"name": "Ada Invented", "more": "ada@x.example"}),
                Draft(kind="stand.added", sub="9", who="office", body={"number": "9", "exhibitor": "Nobody Ltd"}),
                Draft(kind="conflict.declared", sub="ada", who="ada", body={"stand": "9", "reason": "ADAS-REASON"}),
                Draft(kind="conflict.declared", sub="ben", who="ben", body={"stand": "7", "reason": "BENS-REASON"}),
                Draft(
                    kind="incident.noted", sub=plate, who="ben",
                    body={"sort": "dispute", "words": "Ada Invented and Mrs Example spoke; Benedikta Example left. <b>"},
                ),
                Draft(kind="question.asked", sub=plate, who="cy", body={"to": "laboratory", "words": "INSIDE-QUESTION"}),
            ]
        )  # fmt: skip
    return place


def test_a_specialist_gets_the_own_ballots_and_what_names_them_and_nobody_elses_name(folder: Path) -> None:
    with wiring.open_fair(folder) as fair:
        data = own_data(fair, "ada")
    text = json.dumps([entry.fields for entry in data.entries])
    kinds = [entry.kind for entry in data.entries]
    assert kinds.count("ballot.locked") == 2
    assert MARKER in text, "the person's own ballot"
    assert "ADAS-REASON" in text
    assert "ada@x.example" in text
    (named,) = [entry for entry in data.entries if entry.kind == "incident.noted"]
    assert named.fields["words"] == f"Ada Invented and Mrs {ANOTHER} spoke; {ANOTHER} left. <b>"
    assert (named.by, named.why) == (ANOTHER, "names the person")
    whole = json.dumps([(entry.sub, entry.by, entry.fields) for entry in data.entries])
    for other in (*OTHERS, "BENS-REASON", "NAME-cleo", "Nobody Ltd", '"ben"', '"cleo"', '"dov"'):
        assert other not in whole, other


def test_an_exhibitor_gets_own_objects_and_reasons_and_no_ballot_no_count_and_no_conflict(
    folder: Path,
) -> None:
    with wiring.open_fair(folder) as fair:
        data = own_data(fair, "7")
        nothing = own_data(fair, "9")
    kinds = {entry.kind for entry in data.entries}
    assert {"stand.added", "object.listed", "label.agreed", "outcome.proposed", "outcome.confirmed"} <= kinds
    assert not any(kind.startswith(("ballot.", "conflict.", "round.", "question.")) for kind in kinds)
    text = json.dumps([(entry.sub, entry.by, entry.fields) for entry in data.entries])
    assert "the form is later" in text, "the reason of the outcome, about the object"
    assert "9017" in text, "the exhibitor's own price"
    for other in (
        *OTHERS,
        "Ada Invented",
        "BENS-REASON",
        '"counts"',
        '"trace"',
        '"needs"',
        "INSIDE-QUESTION",
        '"ada"',
    ):
        assert other not in text, other
    assert [entry.kind for entry in nothing.entries] == ["stand.added"]


def test_the_folder_holds_data_and_a_page_without_script_or_markup_from_texts(
    folder: Path, tmp_path: Path
) -> None:
    run = CliRunner().invoke
    done = run(command.command, ["ada", str(tmp_path / "hers"), "--fair", str(folder)])
    assert done.exit_code == 0, done.exception
    page = (tmp_path / "hers" / "record.html").read_text()
    assert "&lt;b&gt;" in page
    assert "<b>" not in page
    assert "<script" not in page
    assert json.loads((tmp_path / "hers" / "record.json").read_text())["person"] == "ada"
    with wiring.open_fair(folder) as fair, pytest.raises(Refused, match="there already"):
        own_record.write(own_data(fair, "ada"), tmp_path / "hers", fair=folder)
    with wiring.open_fair(folder) as fair, pytest.raises(Refused, match="Nobody at this fair"):
        own_data(fair, "zed")
