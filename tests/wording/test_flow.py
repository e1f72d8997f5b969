"""Words asked, agreed by two parties, printed."""

from pathlib import Path

import pytest

from planish.errands.intake.finding import find
from planish.errands.opening.refusing import Refused
from planish.errands.panel import examining
from planish.errands.telling import reporting
from planish.errands.words import labelling
from tests.wording.fairs import fair_with, vote

BASIN = "Pewter basin, c. 1750. Diameter 31 cm."


def test_what_a_label_leaves_out_is_asked_signed_by_two_and_printed(tmp_path: Path) -> None:
    fair = fair_with(tmp_path, BASIN)
    vote(fair, {"side": "place"}, instead="English", reason="the label names no country")
    settled = examining.count(fair, find(fair.state, "7/1"))
    agreed = labelling.reword(fair, settled)
    assert agreed.text == "Pewter basin, English, c. 1750. Diameter 31 cm."
    assert agreed.house == "Basin, English, c.1750, pewter. Diameter 31 cm (12¼ in)."

    version = labelling.ask(fair, settled, agreed, who="ada")
    asked = find(fair.state, "7/1")
    assert (asked.label.stage, asked.label.version, asked.label.text) == ("asked", version, agreed.text)
    reason = [str(e.body["reason"]) for e in asked.events if e.kind == "label.asked"]
    assert reason == ["The label names no country."]

    labelling.sign(fair, asked.listed.id, for_panel="ada", for_exhibitor="stand 7")
    signed = [e.body for e in find(fair.state, "7/1").events if e.kind == "label.agreed"]
    assert [(one["for_panel"], one["for_exhibitor"], one["text"]) for one in signed] == [
        ("ada", "stand 7", agreed.text)
    ]
    assert labelling.printed(fair, [asked.listed.id]) == 1
    done = find(fair.state, "7/1").label
    assert (done.stage, done.text) == ("printed", agreed.text)
    assert labelling.printed(fair, [asked.listed.id]) == 0, "a printed label is not printed as agreed again"


def test_nothing_is_signed_or_printed_that_was_not_asked(tmp_path: Path) -> None:
    fair = fair_with(tmp_path, BASIN)
    vote(fair, {"side": "place"}, instead="English")
    with pytest.raises(Refused):
        labelling.sign(fair, find(fair.state, "7/1").listed.id, for_panel="ada", for_exhibitor="stand 7")
    assert labelling.printed(fair, [find(fair.state, "7/1").listed.id]) == 0


def test_words_that_stand_are_not_asked(tmp_path: Path) -> None:
    fair = fair_with(tmp_path, BASIN)
    vote(fair, {"side": "object"})
    settled = examining.count(fair, find(fair.state, "7/1"))
    agreed = labelling.reword(fair, settled)
    assert [p.code for p in agreed.problems] == ["wording.name_asked"]
    with pytest.raises(Refused):
        labelling.ask(fair, settled, agreed, who="ada")


def test_the_house_form_can_be_asked_for(tmp_path: Path) -> None:
    fair = fair_with(tmp_path, BASIN, rules="fennhithe")
    vote(fair, {"side": "place"}, instead="English")
    settled = examining.count(fair, find(fair.state, "7/1"))
    housed = labelling.housed(labelling.reword(fair, settled), settled)
    labelling.ask(fair, settled, housed, who="ada")
    assert reporting.asked_words(find(fair.state, "7/1")) == (
        "Pewter basin, circa 1750, English. Diameter 31 cm."
    )


def test_an_answer_on_what_the_label_does_not_say_must_say_what_it_should_say(tmp_path: Path) -> None:
    fair = fair_with(tmp_path, BASIN)
    with pytest.raises(Refused):
        vote(fair, {"side": "place"})
