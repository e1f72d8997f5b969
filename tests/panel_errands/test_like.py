"""What was done on the other stand? Like cases out of a fair, and the alarm when outcomes differ."""

from pathlib import Path

import pytest
from click.testing import CliRunner

from planish.doors.cli import like
from planish.errands.intake.finding import find
from planish.errands.opening.wiring import Fair
from planish.errands.panel import liking
from tests.panel_errands.fairs import begun, voted


@pytest.fixture
def fair(tmp_path: Path) -> Fair:
    return begun(tmp_path / "fair")


def test_the_same_fault_on_another_stand_is_found_and_nothing_is_like_itself(fair: Fair) -> None:
    voted(fair, "9/20", "relabel", falls="date")
    found = liking.CaseBook.of(fair).like(find(fair.state, "7/14"))
    assert [(case.number, case.outcome, case.fault) for case in found.cases] == [
        ("9/20", "relabel", "date.dates_disagree")
    ]
    assert found.cases[0].reasons[0] == "the form is later"
    assert found.alarms == ()


def test_like_cases_with_unlike_outcomes_raise_one_alarm_for_the_pair(fair: Fair) -> None:
    voted(fair, "9/20", "relabel", falls="date")
    voted(fair, "7/14", "accept")
    book = liking.CaseBook.of(fair)
    (alarm,) = book.alarms()
    assert {alarm.one, alarm.other} == {find(fair.state, n).listed.id for n in ("7/14", "9/20")}
    assert alarm.sentence.startswith(
        "7/14: accept, but 9/20: relabel (both date: dates disagree; discipline: metalware"
    )
    assert book.like(find(fair.state, "9/20")).alarms[0].outcomes == ("relabel", "accept")


def test_an_object_is_compared_by_its_gravest_fault_only(fair: Fair) -> None:
    voted(fair, "9/20", "remove", falls="material")
    voted(fair, "7/14", "relabel", falls="date")
    cases = liking.cases_of(fair, find(fair.state, "9/20"))
    assert {c.fault: c.severity for c in cases} == {"date.dates_disagree": 3, "material.not_carried": 2}
    assert liking.CaseBook.of(fair).alarms() == ()


def test_a_claim_that_fell_is_a_fault_where_the_paper_names_none_and_says_no_number(fair: Fair) -> None:
    voted(fair, "7/16", "relabel", falls="material")
    (case,) = [
        c for c in liking.cases_of(fair, find(fair.state, "7/16")) if c.fault == "material.not_carried"
    ]
    assert case.sentence == "The panel did not carry “Brass”."


def test_a_reader_who_may_not_see_an_object_is_told_nothing_of_it(fair: Fair) -> None:
    voted(fair, "9/20", "relabel", falls="date")
    book = liking.CaseBook.of(fair, only=lambda story: story.listed.stand == "7")
    assert book.like(find(fair.state, "7/14")).cases == ()


def test_one_command_answers_what_was_done_on_the_other_stand(fair: Fair) -> None:
    voted(fair, "9/20", "relabel", falls="date")
    voted(fair, "7/14", "accept")
    folder = fair.folder
    fair.close()
    done = CliRunner().invoke(like.command, ["--fair", str(folder), "7/14"])
    assert "9/20  relabel  Brass chamberstick" in done.output
    assert "! 7/14: accept, but 9/20: relabel" in done.output
    everything = CliRunner().invoke(like.command, ["--fair", str(folder)])
    assert everything.output.count("!") == 1
