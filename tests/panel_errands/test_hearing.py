"""An appeal is voted on as the first outcome was: views sealed first, the same count, an outcome with its reasons."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from planish.doors.cli import appeal as door
from planish.errands.intake.finding import find
from planish.errands.opening.refusing import Refused
from planish.errands.opening.wiring import Fair
from planish.errands.panel import accounting, appealing, examining, hearing
from planish.errands.panel.evidence import claim_key, evident
from planish.errands.record.archiving import LEFT_OUT
from planish.ledger.veiling import COVERED
from planish.records import Answer, Ballot
from tests.panel_errands.fairs import FIRST, SECOND, begun, settle, voted

BY = {"fay": "relabel", "gus": "relabel", "hal": "relabel"}


@pytest.fixture
def fair(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Fair:
    monkeypatch.setenv("PLANISH_NOW", "2026-10-15T09:00:00")
    made = begun(tmp_path / "fair")
    voted(made, "7/14", "remove", falls="date")
    story = find(made.state, "7/14")
    appealing.lodge(
        made, story, words="The stem was repaired.", evidence=(("", "a bill of 1891"),), who="stand:7"
    )
    return made


def view(fair: Fair, person: str, outcome: str, reason: str = "") -> None:
    story = find(fair.state, "7/14")
    date = next(c for c in evident(story, fair.kit).reading.claims if c.side == "date")
    falls = (
        Answer(claim=claim_key(date), verdict="does_not_hold", reason=reason or "the bill names the lid"),
    )
    ballot = Ballot(
        object_id=story.listed.id,
        person=person,
        round=1,
        outcome=outcome,  # type: ignore[arg-type]
        answers=falls if outcome != "accept" else (),
        reasons=(reason or f"said for {outcome}",),
    )
    hearing.seal(fair, story, ballot)


def views(fair: Fair, votes: dict[str, str]) -> None:
    for person, outcome in votes.items():
        view(fair, person, outcome)


def count(fair: Fair) -> hearing.Heard:
    return hearing.count(fair, find(fair.state, "7/14"), who="cy")


def test_the_same_count_replaces_the_outcome_with_reasons_and_the_first_stays_on_record(fair: Fair) -> None:
    views(fair, BY)
    heard = count(fair)
    assert heard.then == "decided"
    assert heard.rule[-1] == "Outcome: relabel. (clause 8.2)"
    assert heard.replaced is not None
    assert (heard.replaced.before, heard.replaced.after) == ("remove", "relabel")
    assert heard.replaced.reasons == ("said for relabel", "the bill names the lid")
    story = find(fair.state, "7/14")
    assert (story.state.examination, story.state.outcome) == ("final", "relabel")
    assert [e.body["outcome"] for e in story.outcomes] == ["remove", "remove", "relabel"]
    assert story.outcomes[-1].body["members"] == [*BY]


def test_the_first_panel_seals_nothing_and_nobody_seals_twice(fair: Fair) -> None:
    for person, why in (
        ("ada", "sat on the first panel"),
        ("jo", "does not sit for this stand"),
        ("x", "takes no part"),
    ):
        with pytest.raises(Refused, match=why):
            view(fair, person, "accept")
    view(fair, "fay", "accept")
    with pytest.raises(Refused, match="has sealed a view in this round"):
        view(fair, "fay", "remove")


def test_nothing_is_counted_before_enough_views_are_in_and_nobody_decides_over_sealed_ones(
    fair: Fair,
) -> None:
    view(fair, "fay", "relabel")
    view(fair, "gus", "relabel")
    with pytest.raises(Refused, match="2 have sealed a view in this round, 3 are needed"):
        count(fair)
    assert find(fair.state, "7/14").state.examination == "under_appeal"
    with pytest.raises(Refused, match="they are counted and nobody decides over them"):
        appealing.decide(
            fair, find(fair.state, "7/14"), outcome="accept", reasons=("x",), members=SECOND, who="cy"
        )


def test_a_split_talks_once_and_the_second_round_is_the_last(fair: Fair) -> None:
    views(fair, {"fay": "accept", "gus": "relabel", "hal": "remove"})
    heard = count(fair)
    assert (heard.then, heard.replaced) == ("talk", None)
    assert "The outcomes proposed do not decide it." in heard.talk
    now = hearing.hearing(fair, find(fair.state, "7/14"))
    assert now is not None
    assert (now.round, now.sealed) == (2, 0)
    with pytest.raises(Refused, match="0 have sealed"):
        count(fair)
    views(fair, {"fay": "refer", "gus": "refer", "hal": "remove"})
    again = count(fair)
    assert again.replaced is not None
    assert (again.replaced.after, again.replaced.reasons) == ("remove", (hearing.STANDS,))
    assert find(fair.state, "7/14").state.examination == "final"


def test_whoever_declares_a_tie_after_sealing_is_not_counted(fair: Fair) -> None:
    views(fair, BY)
    story = find(fair.state, "7/14")
    examining.lock(fair, [Ballot(object_id=story.listed.id, person="hal", round=1, recused=True)])
    with pytest.raises(Refused, match="2 have sealed"):
        count(fair)


def test_views_of_an_appeal_count_nowhere_else(fair: Fair) -> None:
    before = examining.count(fair, find(fair.state, "7/14")).settlement
    views(fair, BY)
    count(fair)
    after = examining.count(fair, find(fair.state, "7/14"))
    assert after.settlement == before
    assert accounting.account(fair, after).next == "Decided on appeal: relabel."
    assert settle(fair, "7/14", confirm=False) == "relabel"


def test_no_word_and_no_number_of_a_view_lies_readable_or_is_told_before_the_count(fair: Fair) -> None:
    view(fair, "fay", "accept", reason="QZMARK-fay")
    view(fair, "gus", "relabel", reason="QZMARK-gus")
    raw = b"\n".join(entry.raw for entry in fair.journal.entries())
    assert b"QZMARK" not in raw
    assert "ballot.appeal" in COVERED
    assert LEFT_OUT["ballot.appeal"] == {"ballot"}
    folder = str(fair.folder)
    fair.close()
    done = CliRunner().invoke(door.command, ["--fair", folder, "7/14", "--json"])
    told = json.loads(done.output)
    assert told["hearing"] == {"round": 1, "sealed": 2, "needed": 3, "sealed_by": ["fay", "gus"]}
    assert "QZMARK" not in done.output


def test_the_commands_seal_count_and_replace(fair: Fair) -> None:
    folder = str(fair.folder)
    fair.close()

    def run(*words: str) -> str:
        done = CliRunner().invoke(door.command, ["--fair", folder, "7/14", *words])
        assert done.exit_code == 0, (done.output, done.exception)
        return done.output

    for person in SECOND:
        said = run(
            "--vote", "relabel", "--falls", "date", "--reason", "the bill names the lid", "--by", person
        )
    assert "Round 1: 3 of 3 views that are needed are sealed. Count them with --count." in said
    said = run("--count", "--by", "cy")
    assert "remove is replaced by relabel." in said
    assert "Decided: relabel" in said
    assert not any(name in said for name in FIRST)
