"""What was done at earlier fairs: out of a folder or an archive, only where the rule book allows it, as it stood there."""

from pathlib import Path

import pytest
from click.testing import CliRunner

from planish.doors.cli import like
from planish.errands.intake.finding import find
from planish.errands.opening.refusing import Refused
from planish.errands.opening.wiring import RULES, Fair, open_fair
from planish.errands.panel import earlier, liking
from planish.errands.record import archiving
from tests.panel_errands.fairs import begun, voted

THEN = "Saltmere Autumn Fair 2026, 9/20"


@pytest.fixture
def now(tmp_path: Path) -> Fair:
    return begun(tmp_path / "now")


@pytest.fixture
def before(tmp_path: Path) -> Path:
    made = begun(tmp_path / "before")
    voted(made, "9/20", "relabel", falls="date")
    voted(made, "9/21", "accept", confirm=False)
    made.close()
    return tmp_path / "before"


def archived(before: Path) -> Path:
    with open_fair(before) as fair:
        archiving.archive(fair, before.parent / "archive")
    return before.parent / "archive"


@pytest.mark.parametrize("form", ["folder", "archive"])
def test_a_case_of_an_earlier_fair_is_shown_as_it_stood_there(now: Fair, before: Path, form: str) -> None:
    found = earlier.earlier_cases(now, [before if form == "folder" else archived(before)])
    book = liking.CaseBook.of(now, earlier=found.cases, then=found.then)
    (case,) = book.like(find(now.state, "7/14")).cases
    assert (case.number, case.outcome, case.fault) == (THEN, "relabel", "date.dates_disagree")
    assert case.words == "Brass chamberstick, English, Georgian, c.1890, height 9 cm."
    assert case.reasons[0] == "the form is later"
    assert liking.CaseBook.of(now).like(find(now.state, "7/14")).cases == ()


def test_unlike_outcomes_of_two_fairs_raise_an_alarm(now: Fair, before: Path) -> None:
    voted(now, "7/14", "accept")
    found = earlier.earlier_cases(now, [before])
    (alarm,) = liking.CaseBook.of(now, earlier=found.cases, then=found.then).alarms()
    assert alarm.sentence.startswith(f"7/14: accept, but {THEN}: relabel")


def test_the_rule_book_decides_whether_and_how_far_back(now: Fair, before: Path) -> None:
    folder = now.folder
    now.close()
    text = (folder / RULES).read_text(encoding="utf-8")
    forbidden = text.replace("like_cases_from_earlier_fairs = true", "like_cases_from_earlier_fairs = false")
    assert forbidden != text
    (folder / RULES).write_text(forbidden, encoding="utf-8")
    with open_fair(folder) as fair, pytest.raises(Refused, match=r"does not allow them \(clause 8.10\)"):
        earlier.earlier_cases(fair, [before])
    (folder / RULES).write_text(text.replace("fair_year = 2026", "fair_year = 2033"), encoding="utf-8")
    with open_fair(folder) as fair, pytest.raises(Refused, match="held in 2026; this rule book remembers 6"):
        earlier.earlier_cases(fair, [before])


def test_what_is_no_earlier_fair_is_refused_in_words(now: Fair, tmp_path: Path) -> None:
    for place in (tmp_path, now.folder):
        with pytest.raises(Refused, match="neither an earlier fair's folder nor an archive"):
            earlier.earlier_cases(now, [place])


def test_the_command_takes_earlier_fairs(now: Fair, before: Path) -> None:
    folder = str(now.folder)
    now.close()
    done = CliRunner().invoke(
        like.command, ["--fair", folder, "7/14", "--earlier", str(archived(before)), "--earlier", str(before)]
    )
    assert done.exit_code == 0, done.output
    assert done.output.count(f"{THEN}  relabel  Brass chamberstick") == 2
