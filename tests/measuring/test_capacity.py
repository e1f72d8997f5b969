"""Capacity: gallons against the statutes, what fits, what cannot be told apart."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planish.facts.book import FactBook
from planish.facts.loading import load
from planish.reasoning.measuring.capacity import candidates, fitting, millilitres
from planish.reasoning.measuring.measured import Settings
from planish.records import Quantity, Years

from .conftest import Look


@pytest.mark.parametrize(
    ("row", "ml"),
    [
        (
            "capacity.imperial_modern_gallon",
            4546.09,
        ),  # Weights and Measures Act 1985, schedule 1: 4.54609 dm3
        ("capacity.us_liquid_gallon", 3785.411784),  # NIST Handbook 44, appendix C: 231 cubic inches
        ("capacity.wine_gallon", 3785.411784),  # 5 Anne c. 27 (1706): 231 cubic inches
        ("capacity.ale_gallon", 4621.152),  # 282 cubic inches of 16.387064 ml
        ("capacity.imperial_1824_gallon", 4543.707),  # 5 Geo. IV c. 74 (1824): 277.274 cubic inches
        ("capacity.irish_gallon", 3565.825),  # 9 Geo. II c. 9: 217.6 cubic inches
        ("capacity.winchester_gallon", 4404.884),  # US bushel 2150.42 cubic inches / 8 (NIST Handbook 44)
    ],
)
def test_a_gallon_on_file_is_that_of_its_statute(book: FactBook, row: str, ml: float) -> None:
    fact = book.look(row).fact
    assert fact is not None
    assert millilitres(fact) == pytest.approx(ml, rel=3e-5)


def test_gallons_agree_with_pint(book: FactBook) -> None:
    import pint

    u = pint.UnitRegistry()
    pairs = {
        "imperial_modern_gallon": u.imperial_gallon,
        "us_liquid_gallon": u.gallon,
        "imperial_modern_pint": u.imperial_pint,
        "us_liquid_quart": u.quart,
    }
    for row, unit in pairs.items():
        fact = book.look(f"capacity.{row}").fact
        assert fact is not None
        assert millilitres(fact) == pytest.approx((1 * unit).to("ml").magnitude, rel=3e-5)


def test_parts_of_every_standard_are_even_parts_of_its_pint(book: FactBook) -> None:
    share = {
        "gallon": 8,
        "half gallon (pottle)": 4,
        "quart": 2,
        "half pint": 0.5,
        "gill (quarter pint)": 0.25,
        "half gill": 0.125,
    }
    sizes = {
        (f.more["standard"], f.more["unit"]): millilitres(f) or 0.0 for f in book.family("capacity_measure")
    }
    for (standard, unit), ml in sizes.items():
        if unit in share:
            assert ml == pytest.approx(sizes[standard, "pint"] * share[unit], rel=2e-4), (standard, unit)


def test_an_imperial_pint_cannot_be_told_from_an_ale_pint_and_dates_nothing(look: Look) -> None:
    found = look("capacity", {"capacity": (568, 4, "ml")}, more={"unit": "pint"})
    assert found.items == ()
    assert any("cannot be told apart: imperial measure, old ale measure" in s for s in found.sentences)
    assert any("no year follows" in s for s in found.sentences)


def test_a_wine_pint_of_england_is_of_its_window_and_imitable(look: Look) -> None:
    (item,) = look("capacity", {"capacity": (473, 2, "ml")}, more={"unit": "pint", "place": "England"}).items
    assert item.windows == (Years(1707, 1825),)
    assert (item.event, item.binding, item.hard) == ("body_made", False, False)
    assert item.doubt == pytest.approx(0.05)
    assert {"capacity.wine_pint", "cap-wine-231"} <= set(item.facts)


def test_without_a_unit_luck_counts_against_the_match(look: Look) -> None:
    (marked,) = look("capacity", {"capacity": (473, 2, "ml")}, more={"unit": "pint"}).items
    (plain,) = look("capacity", {"capacity": (473, 2, "ml")}).items
    assert plain.doubt > 3 * marked.doubt


def test_pints_without_saying_which_is_a_question_and_lists_them(look: Look, book: FactBook) -> None:
    found = look("capacity", {"capacity": (1, 0.0, "pints")})
    assert found.items == ()
    assert found.sentences == ()
    (problem,) = found.problems
    assert problem.code == "capacity.which"
    for words in candidates("pint", book):
        assert words in problem.what
    assert len(candidates("pint", book)) >= 7


@pytest.mark.parametrize(
    ("unit", "ml"),
    [
        ("imperial pint", 568.0),
        ("wine pint", 473.2),
        ("Scots pint", 1707.5),
        ("US quart", 946.4),
        ("ale quart", 1155.3),
    ],
)
def test_a_named_measure_is_turned_into_millilitres(look: Look, unit: str, ml: float) -> None:
    assert look("capacity", {"capacity": (1, 0.0, unit)}).details["ml"] == pytest.approx(ml, abs=0.5)


def test_a_verification_stamp_is_said_to_date_itself_alone(look: Look) -> None:
    assert any(
        "dates its own stamping" in s for s in look("capacity", {"capacity": (568, 4, "ml")}).sentences
    )


@given(ml=st.floats(20, 15000), spread=st.floats(0.1, 50), more=st.floats(0, 200))
def test_a_bigger_uncertainty_never_removes_a_fitting_measure(ml: float, spread: float, more: float) -> None:
    book = load("metalware")[0]

    def names(u: float) -> set[str]:
        return {fit.row.id for fit in fitting(Quantity(ml, "ml", u), book, Settings())}

    # One answer stands for reckonings that no vessel can tell apart, so compare standards, not rows.
    def standards(u: float) -> set[tuple[str, str]]:
        fits = fitting(Quantity(ml, "ml", u), book, Settings())
        return {(f.standard.split("_")[0], str(f.row.more["unit"])) for f in fits}

    assert standards(spread) <= standards(spread + more)
    assert len(names(spread)) <= len(names(spread + more))
