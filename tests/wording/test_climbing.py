"""One rung up: the look named is really the smallest on file that lifts the rung."""

from pathlib import Path

import pytest

from planish.errands.intake.finding import find
from planish.errands.opening import wiring
from planish.errands.panel import examining
from planish.errands.words import labelling
from planish.errands.words.climbing import looks_on_file, rungs, smallest
from planish.records import Observation, Years
from tests.wording.fairs import fair_with, vote

TEAPOT = "Brass teapot, English, c. 1720. Height 16 cm."


@pytest.fixture
def fair(tmp_path: Path) -> wiring.Fair:
    made = fair_with(tmp_path, TEAPOT)
    vote(made, {"side": "date"}, years=((1820, 1870), (1825, 1875), (1820, 1880)))
    return made


def test_the_look_named_lifts_its_rung_and_no_shorter_one_does(fair: wiring.Fair) -> None:
    settled = examining.count(fair, find(fair.state, "7/1"))
    agreed = labelling.reword(fair, settled)
    climb = next(c for c in agreed.climbs if c.words)
    claim = next(c for c in settled.evident.reading.claims if c.side == "date")
    step = next(s for s in agreed.steps if s.claim == claim.id)
    looks = looks_on_file(settled)
    lift = smallest(claim, step, settled, looks)
    assert lift is not None
    assert (climb.minutes, climb.look, climb.found_by) == (round(lift.minutes), lift.look, "weighing")
    shorter = tuple(look for look in looks if look.minutes < lift.minutes)
    assert smallest(claim, step, settled, shorter) is None
    assert lift.minutes in {look.minutes for look in looks}


def test_a_look_already_taken_is_not_named_again(fair: wiring.Fair) -> None:
    settled = examining.count(fair, find(fair.state, "7/1"))
    before = {look.id for look in looks_on_file(settled)}
    examining.observe(
        fair, [Observation(id="", object_id="7-001", kind="tube", by="ada", words="a seam inside")]
    )
    after = {look.id for look in looks_on_file(examining.count(fair, find(fair.state, "7/1")))}
    assert before - after == {"look.tube"}


def test_where_no_look_lifts_a_rung_none_is_promised(fair: wiring.Fair) -> None:
    settled = examining.count(fair, find(fair.state, "7/1"))
    agreed = labelling.reword(fair, settled)
    claim = next(c for c in settled.evident.reading.claims if c.side == "date")
    step = next(s for s in agreed.steps if s.claim == claim.id)
    assert smallest(claim, step, settled, ()) is None


def test_rungs_lie_inside_the_agreed_years() -> None:
    agreed = Years(1820, 1880)
    assert rungs(agreed, Years(1840, 1860)) == (Years(1840, 1860), Years(1820, 1850), Years(1850, 1880))
    assert rungs(agreed, Years(1710, 1730)) == (Years(1820, 1850), Years(1850, 1880))
    assert rungs(Years(1750, 1755), Years(1740, 1760)) == ()
