"""Appeals at a fair: the window, new evidence, who may hear, what the bundle holds, and the outcome that replaces."""

from pathlib import Path

import pypdf
import pytest
from click.testing import CliRunner

from planish.doors.cli import appeal as door
from planish.errands.intake.finding import find
from planish.errands.opening.refusing import Refused
from planish.errands.opening.wiring import Fair
from planish.errands.panel import appealing
from tests.panel_errands.fairs import FIRST, SECOND, begun, observe, voted

NEW = (("", "a bill of 1891 that names the lid"),)


@pytest.fixture
def fair(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Fair:
    monkeypatch.setenv("PLANISH_NOW", "2026-10-15T09:00:00")
    made = begun(tmp_path / "fair")
    observe(made, "7/14", "the thread of the stem is cut")
    voted(made, "9/20", "relabel", falls="date")
    voted(made, "7/14", "remove", falls="date")
    return made


def lodge(fair: Fair, item: str = "7/14", **more: object) -> None:
    given = {"words": "The stem was repaired.", "evidence": NEW, "who": "stand:7", **more}
    appealing.lodge(fair, find(fair.state, item), **given)  # type: ignore[arg-type]


def decide(fair: Fair, **more: object) -> appealing.Replaced:
    given = {
        "outcome": "relabel",
        "reasons": ("The bill names the lid.",),
        "members": SECOND,
        "who": "cy",
        **more,
    }
    return appealing.decide(fair, find(fair.state, "7/14"), **given)  # type: ignore[arg-type]


def test_the_window_is_the_rule_books_and_runs_by_the_desks_clock(
    fair: Fair, monkeypatch: pytest.MonkeyPatch
) -> None:
    told = appealing.standing(fair, find(fair.state, "7/14"))
    assert (told.until_ms, told.clause, told.why_not) == (
        1_792_058_400_000,
        "9.2",
        (),
    )  # 10:00: sixty minutes
    monkeypatch.setenv("PLANISH_NOW", "2026-10-15T10:06:00")
    with pytest.raises(Refused, match=r"came 0.1 hours after the window of 1 hours \(9.2\)"):
        lodge(fair)
    lodge(fair, late="the office was shut")
    (event,) = [e for e in find(fair.state, "7/14").events if e.kind == "appeal.lodged"]
    assert event.body["late"] == "the office was shut"


def test_an_appeal_brings_evidence_that_the_panel_had_not_seen(fair: Fair) -> None:
    (seen,) = find(fair.state, "7/14").observations
    with pytest.raises(Refused, match="no evidence that the panel had not seen"):
        lodge(fair, evidence=((seen.id, "the look at the stem"),))
    with pytest.raises(Refused, match="no evidence"):
        lodge(fair, evidence=())
    with pytest.raises(Refused, match="gives no grounds"):
        lodge(fair, words=" ")
    lodge(fair, evidence=((seen.id, "the look at the stem"), *NEW))
    bundle = appealing.bundle(fair, find(fair.state, "7/14"))
    assert bundle.new_evidence == (NEW[0][1],)
    assert bundle.not_new == ("the look at the stem",)


def test_there_is_nothing_to_appeal_before_an_outcome_nor_twice(fair: Fair) -> None:
    with pytest.raises(Refused, match="no outcome to appeal against"):
        lodge(fair, "7/15")
    voted(fair, "7/16", "accept")
    with pytest.raises(Refused, match="no outcome to appeal against"):
        lodge(fair, "7/16")
    lodge(fair)
    with pytest.raises(Refused, match="open already"):
        lodge(fair)


def test_nobody_of_the_first_panel_hears_it_nor_anybody_with_a_tie_to_the_stand(fair: Fair) -> None:
    lodge(fair)
    seats = {s.person: s for s in appealing.seating(fair, find(fair.state, "7/14")).seats}
    assert {p for p, seat in seats.items() if seat.may_sit} == {*SECOND, "ivo", "cy"}
    assert all(seats[p].why_not == "sat on the first panel" for p in FIRST)
    assert seats["jo"].why_not == "does not sit for this stand"
    for members, why in (
        ((*SECOND, "ada"), "sat on the first panel"),
        ((*SECOND, "jo"), "does not sit for this stand"),
        (SECOND[:2], "2 heard it, 3 are needed"),
        ((*SECOND[:2], SECOND[0]), "2 heard it, 3 are needed"),
        ((*SECOND, "somebody"), "takes no part"),
    ):
        with pytest.raises(Refused, match=why):
            decide(fair, members=members)


def test_the_outcome_replaces_with_reasons_and_the_first_stays_on_record(fair: Fair) -> None:
    with pytest.raises(Refused, match="No appeal is open"):
        decide(fair)
    lodge(fair)
    with pytest.raises(Refused, match="No reason is given"):
        decide(fair, reasons=("  ",))
    assert decide(fair) == appealing.Replaced(
        object_id=find(fair.state, "7/14").listed.id,
        before="remove",
        after="relabel",
        reasons=("The bill names the lid.",),
        clause="9.2",
    )
    story = find(fair.state, "7/14")
    assert (story.state.examination, story.state.outcome) == ("final", "relabel")
    assert [e.body["outcome"] for e in story.outcomes] == ["remove", "remove", "relabel"]
    assert story.outcomes[-1].body["members"] == [*SECOND]
    with pytest.raises(Refused, match="was decided"):
        lodge(fair)


def test_the_bundle_lists_what_is_new_and_like_cases_and_holds_no_count_and_no_name(fair: Fair) -> None:
    lodge(fair)
    bundle = appealing.bundle(fair, find(fair.state, "7/14"))
    assert (bundle.outcome, bundle.reasons[0]) == ("remove", "the form is later")
    assert bundle.like_cases[0].startswith(
        "9/20, Brass chamberstick, English, Georgian, c.1890, height 9 cm.: relabel"
    )
    assert bundle.alarms[0].startswith("7/14: remove, but 9/20: relabel")
    assert bundle.seen == ("construction: the thread of the stem is cut",)
    words = str(bundle)
    assert not any(name in words for name in (*FIRST, "NAME-"))
    assert not any(f"{n} of 5" in words or f"{n} remove" in words for n in range(6))


def test_the_commands_lodge_print_and_decide(fair: Fair, tmp_path: Path) -> None:
    folder, target = str(fair.folder), tmp_path / "bundle.pdf"
    fair.close()

    def run(*words: str) -> str:
        done = CliRunner().invoke(door.command, ["--fair", folder, "7/14", *words])
        assert done.exit_code == 0, (done.output, done.exception)
        return done.output

    assert "until 15 October 2026 10:00 UTC (clause 9.2)" in run()
    run("--lodge", "The stem was repaired.", "--new", NEW[0][1], "--by", "stand:7")
    assert "Bundle in" in run("--bundle", str(target))
    text = pypdf.PdfReader(target).pages[0].extract_text()
    assert "a bill of 1891 that names the lid" in text
    assert not any(name in text for name in ("NAME-", *FIRST))
    heard = [word for person in SECOND for word in ("--heard-by", person)]
    said = run("--decide", "relabel", "--reason", "The bill names the lid.", *heard, "--by", "cy")
    assert said.startswith("remove is replaced by relabel.")
