"""Measured and weighed together: one pot with an alloy, a capacity, a thread and a mark."""

import dataclasses

from planish.facts.book import FactBook
from planish.reasoning.measuring import measure
from planish.reasoning.weighing import Case, CasePart, DatedClaim, weigh
from planish.records import EvidenceItem, Observation, Years

from .conftest import observation

ALLOY = observation(
    "composition",
    {"Cu": 64.5, "Zn": (34.6, 0.4)},
    surface="polished",
    more={"spots": 3},
    instrument="handheld XRF",
)
CAPACITY = observation("capacity", {"capacity": (473, 3, "ml")}, more={"unit": "pint", "place": "England"})
SCREW = observation("thread", {"tpi": 20, "diameter": 6.3, "angle": 55}, part="knop screw")
DIAMOND = observation(
    "mark", more={"diamond": {"circle": "I", "top": "P", "right": "5", "bottom": "1", "left": "C"}}
)


def _items(book: FactBook, *looks: Observation) -> tuple[EvidenceItem, ...]:
    return tuple(
        i for n, look in enumerate(looks) for i in measure(dataclasses.replace(look, id=f"o{n}"), book).items
    )


def _chance(book: FactBook, first: int, last: int, *looks: Observation) -> float:
    items = _items(book, *looks)
    case = Case(
        claims=(DatedClaim(id="c", words=f"{first}-{last}", years=Years(first, last)),),
        items=items,
        parts=tuple(CasePart(name=part) for part in sorted({i.part for i in items} - {"", "body"})),
    )
    weighed = weigh(case)
    assert not weighed.blocked, weighed.problems
    assert weighed.main is not None
    return weighed.main.if_period_piece


def test_high_zinc_speaks_against_an_early_date_and_not_against_a_late_one(book: FactBook) -> None:
    bare = observation("condition", terms=("cond.pitting",))
    assert _chance(book, 1730, 1750, ALLOY) < 0.2 * _chance(book, 1730, 1750, bare)
    assert _chance(book, 1850, 1870, ALLOY) > _chance(book, 1850, 1870, bare)


def test_a_screw_of_1841_bears_on_its_part_and_hardly_on_the_body(book: FactBook) -> None:
    """A replaced screw is always possible; the same floor on the body itself would all but end the claim."""
    without = _chance(book, 1730, 1750, CAPACITY)
    with_screw = _chance(book, 1730, 1750, CAPACITY, SCREW)
    on_the_body = _chance(book, 1730, 1750, CAPACITY, dataclasses.replace(DIAMOND, original=True))
    assert with_screw > 0.7 * without
    assert on_the_body < 0.3 * without


def test_a_diamond_bounds_the_body_only_when_it_is_original(book: FactBook) -> None:
    without = _chance(book, 1730, 1750, CAPACITY)
    assert _chance(book, 1730, 1750, CAPACITY, DIAMOND) > 0.7 * without
    assert _chance(book, 1730, 1750, CAPACITY, dataclasses.replace(DIAMOND, original=True)) < 0.3 * without


def test_an_undated_condition_leaves_the_date_of_the_body_exactly_where_it_was(book: FactBook) -> None:
    undated = observation("condition", terms=("cond.repatination", "cond.replaced_part", "cond.plugged"))
    assert abs(_chance(book, 1730, 1750, CAPACITY, undated) - _chance(book, 1730, 1750, CAPACITY)) < 1e-9
