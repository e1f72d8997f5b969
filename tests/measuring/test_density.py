"""Density: round trip, uncertainty, and the alloys for which adding volumes fails."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planish.facts.book import FactBook
from planish.facts.loading import load
from planish.reasoning.measuring import mixing
from planish.reasoning.measuring.density import Weighing, density_of, reading_in_water
from planish.reasoning.measuring.reading_facts import number, ranges
from planish.records import Quantity

from .conftest import Look


@given(mass=st.floats(5, 20000), rho=st.floats(1.5, 22), celsius=st.floats(0, 40))
def test_weighing_a_known_density_gives_it_back(mass: float, rho: float, celsius: float) -> None:
    water = reading_in_water(mass, rho, celsius)
    found = density_of(
        Weighing(air=Quantity(mass, "g"), water=Quantity(water, "g"), temperature=Quantity(celsius, "degC"))
    )
    assert found.amount == pytest.approx(rho, rel=1e-9)


@pytest.mark.parametrize(("scale", "share"), [(1.0, 0.030), (0.1, 0.0030)])
def test_the_error_of_a_small_brass_piece_is_that_of_the_scale(scale: float, share: float) -> None:
    # A 400 g brass piece loses 47 g: 1 g on both weighings is sqrt(2)/47 = 3 % (propagation of the formula).
    weighing = Weighing(
        air=Quantity(400, "g", scale),
        water=Quantity(353.2, "g", scale),
        temperature=Quantity(20, "degC", 0.1),
    )
    found = density_of(weighing)
    assert found.uncertainty / found.amount == pytest.approx(share * 353.2 / 400, rel=0.15)


def test_the_uncertainty_agrees_with_moving_each_figure() -> None:
    def rho(air: float, water: float, t: float) -> float:
        return density_of(
            Weighing(air=Quantity(air, "g"), water=Quantity(water, "g"), temperature=Quantity(t, "degC"))
        ).amount

    base = rho(812.4, 716.9, 19.5)
    moved = math.sqrt(
        (rho(812.5, 716.9, 19.5) - base) ** 2
        + (rho(812.4, 717.0, 19.5) - base) ** 2
        + (rho(812.4, 716.9, 20.0) - base) ** 2
    )
    found = density_of(
        Weighing(
            air=Quantity(812.4, "g", 0.1),
            water=Quantity(716.9, "g", 0.1),
            temperature=Quantity(19.5, "degC", 0.5),
        )
    )
    assert found.uncertainty == pytest.approx(moved, rel=0.02)


def test_a_handbook_row_left_out_is_foretold_from_the_rest(book: FactBook) -> None:
    """Every plain metal row on file, predicted without itself: within 1.5 %, and half of them within 0.5 %."""
    from planish.facts.book import FactBook as Book

    misses = []
    for row in mixing.handbook(book):
        rest = Book(f for f in book if f.id != row.id)
        composition = {m: Quantity(low, "wt%") for m, (low, _) in ranges(row, "composition_wt").items()}
        predicted = mixing.predict(composition, rest)
        assert predicted is not None
        misses.append(abs(predicted.density.amount / (number(row, "density_g_cm3") or 1) - 1))
    assert sorted(misses)[len(misses) // 2] < 0.005
    assert sum(m > 0.015 for m in misses) <= 3  # bell metal and nickel silver stand alone in the tables


@pytest.mark.parametrize(
    ("alloy", "handbook"),
    [
        ({"Cu": 61.5, "Zn": 35.5, "Pb": 3}, 8.50),  # C36000, Diversified Bronze data sheet
        ({"Cu": 57, "Zn": 40, "Pb": 3}, 8.47),  # C38500, Patel Alloys data sheet
        ({"Cu": 81, "Sn": 19}, 8.80),  # C91300 bell metal, Green Alloys data sheet
        ({"Cu": 55, "Ni": 18, "Zn": 27}, 8.70),  # C77000 nickel silver, Olin Brass data sheet
        ({"Sn": 60, "Pb": 40}, 8.50),  # solder 60/40, Alasir table
        ({"Cu": 69.5, "Ni": 30, "Fe": 0.5}, 8.94),  # C71500, Hussey Copper
    ],
)
def test_handbook_alloys_come_out_within_what_is_promised(
    book: FactBook, alloy: dict[str, float], handbook: float
) -> None:
    predicted = mixing.predict({m: Quantity(w, "wt%") for m, w in alloy.items()}, book)
    assert predicted is not None
    assert abs(predicted.density.amount - handbook) <= 2 * predicted.density.uncertainty
    assert predicted.density.uncertainty < 0.05


def test_the_failure_of_adding_volumes_is_said_for_brass_and_not_for_solder(look: Look) -> None:
    brass = look("density", {"air": 812.4, "water": 716.9, "temperature": 20, "Cu": 65, "Zn": 35})
    solder = look("density", {"air": 850.0, "water": 750.0, "temperature": 20, "Sn": 60, "Pb": 40})
    assert any("Adding volumes would give" in s for s in brass.sentences)
    assert not any("Adding volumes would give" in s for s in solder.sentences)
    assert brass.details["additive_off_percent"] < -2


def test_lead_in_pewter_carries_the_doubt_about_tin(book: FactBook) -> None:
    # French law: 7.764 for 16.5 to 18 % lead (American Cyclopaedia, Pewter).
    lead = mixing.lead_in_tin(Quantity(7.764, "g/cm3", 0.005), book)
    assert 16.5 <= lead.amount <= 18
    assert 0.6 < lead.uncertainty < 1.3


def test_a_hollow_piece_is_said_to_be_lighter_than_its_alloy(look: Look) -> None:
    found = look("density", {"air": 800.0, "water": 690.0, "temperature": 20, "Cu": 70, "Zn": 30})
    assert any("lighter than that" in s for s in found.sentences)


def test_a_density_dates_nothing(look: Look) -> None:
    found = look("density", {"air": 812.4, "water": 716.9})
    assert found.items == ()
    assert "A density dates nothing by itself." in found.sentences


@given(lead=st.floats(1, 60))
def test_lead_read_back_from_a_tin_lead_density_is_the_lead_put_in(lead: float) -> None:
    book = load("metalware")[0]
    rho = mixing.additive({"Sn": 100 - lead, "Pb": lead}, mixing.element_densities(book))
    assert mixing.lead_in_tin(Quantity(rho, "g/cm3"), book).amount == pytest.approx(lead, abs=1e-6)


@pytest.mark.parametrize(("zinc", "density"), [(25, 8.60), (32.5, 8.50), (12.5, 8.775), (37.5, 8.43)])
def test_brass_between_two_handbook_rows_lies_on_the_line_between_them(
    book: FactBook, zinc: float, density: float
) -> None:
    predicted = mixing.predict({"Cu": Quantity(100 - zinc, "wt%"), "Zn": Quantity(zinc, "wt%")}, book)
    assert predicted is not None
    assert predicted.method == "brass rows"
    assert predicted.density.amount == pytest.approx(density, abs=1e-9)
