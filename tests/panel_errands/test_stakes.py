"""The seventh reason to talk: votes that house figures could turn, on an object among the costliest."""

from pathlib import Path

import pytest

from planish.doors.papers.lists import read_list
from planish.errands.intake import listing
from planish.errands.intake.finding import find
from planish.errands.intake.relisting import compare_lists
from planish.errands.opening.wiring import Fair
from planish.errands.panel import accounting, examining
from planish.reasoning.reading.terms.prices import amount_of
from planish.reasoning.settling import Viewer
from planish.records import Ballot, Years
from planish.records.opinions import DateOpinion
from tests.panel_errands.fairs import FIRST, LISTS, begun, lock

MOSTLY = {**dict.fromkeys(FIRST[:4], "relabel"), "eli": "accept"}


def with_prices(folder: Path, *prices: str) -> Fair:
    """Stand 9 with one more row for each price; the numbers are 30, 31, 32 ..."""
    fair = begun(folder)
    rows = "".join(
        f"{30 + i};Pewter flagon, Scottish, c.1790, height {20 + i} cm.;{price}\n"
        for i, price in enumerate(prices)
    )
    taken = read_list((LISTS["9"] + rows).encode(), name="stand-9.csv")
    listing.take(fair, "9", taken, compare_lists(listing.on_file(fair, "9"), taken))
    return fair


def triggers(fair: Fair, item: str) -> list[int]:
    return [t.number for t in examining.count(fair, find(fair.state, item)).settlement.triggers]


@pytest.fixture
def fair(tmp_path: Path) -> Fair:
    return with_prices(tmp_path / "fair", *(["10000"] + ["100"] * 17))


def test_doubt_over_one_of_the_costliest_is_talked_over_and_the_same_doubt_over_another_is_not(
    fair: Fair,
) -> None:
    lock(fair, "9/30", MOSTLY)
    lock(fair, "9/31", MOSTLY)
    dear, cheap = (examining.count(fair, find(fair.state, n)).settlement for n in ("9/30", "9/31"))
    assert ([t.number for t in dear.triggers], dear.then) == ([7], "talk")
    assert ([t.number for t in cheap.triggers], cheap.then, cheap.outcome) == ([], "settled", "relabel")
    assert dear.triggers[0].clause == "8.9"
    (text,) = [c.text for c in fair.rules.clauses if c.number == "8.9"]
    assert "costliest tenth" in text


def test_a_panel_of_one_mind_to_pass_is_not_held_up_by_the_price(fair: Fair) -> None:
    lock(fair, "9/30", dict.fromkeys(FIRST, "accept"))
    assert triggers(fair, "9/30") == []


def test_no_reader_learns_a_price_and_those_without_the_split_nothing_of_the_votes(fair: Fair) -> None:
    lock(fair, "9/30", MOSTLY)
    examining.propose(fair, [examining.count(fair, find(fair.state, "9/30"))])
    settled = examining.count(fair, find(fair.state, "9/30"))
    member = accounting.account(fair, settled, (Viewer(role="member", person="ben"),))
    office = accounting.account(fair, settled)
    assert "10000" not in repr(member)
    assert member.rounds[0].triggers == (
        "The suggestion turns on assumptions, and a mistake here would be among the costliest. (clause 8.9)",
    )
    assert office.rounds[0].triggers == ("The rule book asks for a second view of this object. (clause 8.9)",)


def test_below_the_floor_of_ballots_and_among_few_prices_nothing_is_called_costly(tmp_path: Path) -> None:
    few = with_prices(tmp_path / "few", "10000", "10")  # five priced objects
    lock(few, "9/30", MOSTLY)
    assert triggers(few, "9/30") == []
    many = with_prices(tmp_path / "many", *(["10000"] + ["100"] * 17))
    lock(many, "9/30", {"ada": "accept", "ben": "relabel"})
    assert 7 not in triggers(many, "9/30")


def test_years_proposed_far_apart_are_talked_over_too(fair: Fair) -> None:
    story = find(fair.state, "9/31")
    for person, first in zip(FIRST, (1640, 1642, 1900, 1640, 1902), strict=True):
        years = Years(first, first + 5)
        dated = DateOpinion(years=years)
        examining.lock(
            fair,
            [Ballot(object_id=story.listed.id, person=person, round=1, outcome="accept", date=dated)],
        )
    assert triggers(fair, "9/31") == [2]


@pytest.mark.parametrize(
    ("written", "amount"),
    [
        ("£1,200", ("GBP", 1200.0)),
        ("1.200,50 €", ("EUR", 1200.5)),
        ("CHF 1'450.-", ("CHF", 1450.0)),
        ("450", ("", 450.0)),
        ("45.5", ("", 45.5)),
        ("GBP 12 500", ("GBP", 12500.0)),
        ("P.O.A.", None),
        ("", None),
        ("$", None),
    ],
)
def test_a_price_as_written_becomes_an_amount(written: str, amount: tuple[str, float] | None) -> None:
    assert amount_of(written) == amount
