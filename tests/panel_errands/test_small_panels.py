"""Below the rule book's floor no reason is printed word for word, on no paper and in no agreed words."""

from dataclasses import replace
from pathlib import Path

import pytest

from planish.errands.intake.finding import find
from planish.errands.opening.wiring import Fair
from planish.errands.panel import examining
from planish.errands.telling import reporting
from planish.errands.words import labelling
from tests.panel_errands.fairs import FIRST, begun, lock, settle

MARK = "QZSMALL"


@pytest.fixture
def fair(tmp_path: Path) -> Fair:
    """A rule book whose quorum is two and whose floor is three: an outcome may rest on two ballots."""
    made = begun(tmp_path / "fair")
    made.rules = replace(made.rules, voting=replace(made.rules.voting, quorum=2, split_floor=3))
    return made


def printed(fair: Fair, item: str) -> str:
    """Every paper and every word that speaks of reasons, and what the log says of the outcome."""
    story = find(fair.state, item)
    settled = examining.count(fair, story)
    agreed = labelling.reword(fair, settled)
    labelling.ask(fair, settled, agreed, who="ada")
    story = find(fair.state, item)
    papers = (reporting.slips(fair, ""), reporting.wording_lines(fair), [e.body for e in story.outcomes])
    return repr((agreed, settled.settlement, papers))


@pytest.mark.parametrize(("ballots", "shown"), [(2, False), (4, True)])
def test_reasons_are_told_word_for_word_only_from_the_floor_up(fair: Fair, ballots: int, shown: bool) -> None:
    lock(fair, "9/20", dict.fromkeys(FIRST[:ballots], "relabel"), falls="date", mark=MARK)
    assert settle(fair, "9/20") == "relabel"
    said = printed(fair, "9/20")
    assert (MARK in said) is shown
    assert "Not carried: date" in said or shown
