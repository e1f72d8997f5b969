"""Every figure of published.toml against our functions. The source of each stands beside it in that file."""

import math
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from planish.facts.book import FactBook
from planish.reasoning.measuring import mixing
from planish.reasoning.measuring.density import Weighing, density_of, reading_in_water, water_density
from planish.reasoning.measuring.measured import Settings
from planish.reasoning.measuring.reading_facts import number
from planish.reasoning.measuring.threads import Screw, fitting
from planish.records import Quantity

CHECKS = tomllib.loads((Path(__file__).parent / "published.toml").read_text(encoding="utf-8"))["check"]


def _additive(inputs: dict[str, Any], book: FactBook) -> float:
    return mixing.additive(inputs["w"], {**mixing.element_densities(book), **inputs.get("rho", {})})


def _lookup(inputs: dict[str, Any], book: FactBook) -> float:
    row = next(f for f in book.family("alloy_density") if f.id == f"phys.density.{inputs['alloy'].lower()}")
    return number(row, "density_g_cm3") or 0.0


def _inverse(inputs: dict[str, Any], book: FactBook) -> float:
    densities = mixing.element_densities(book)
    tin, lead = inputs.get("rho_sn", densities["Sn"]), inputs.get("rho_pb", densities["Pb"])
    return (1 / tin - 1 / inputs["rho"]) / (1 / tin - 1 / lead)


def _hydro(inputs: dict[str, Any], _book: FactBook) -> float:
    return inputs["rho_l"] * inputs["Wa"] / (inputs["Wa"] - inputs["Wl"])


def _ba(inputs: dict[str, Any], book: FactBook) -> list[float]:
    row = next(f for f in book.family("thread_size") if f.id == f"thread.BA.{inputs['k']}")
    return [number(row, "pitch_mm") or 0.0, number(row, "major_mm") or 0.0]


def _threads(inputs: dict[str, Any], book: FactBook) -> set[str]:
    pitch = inputs.get("pitch_mm") or 25.4 / inputs["tpi"]
    angle = Quantity(inputs["angle"], "deg") if "angle" in inputs else None
    screw = Screw(pitch=Quantity(pitch, "mm"), major=Quantity(inputs["major_mm"], "mm"), angle=angle)
    return {fit.name for fit in fitting(screw, book, Settings())}


def _depth(inputs: dict[str, Any], book: FactBook) -> float:
    return (number(book.look("thread.BSW").fact, "depth_over_pitch") or 0.0) * inputs["pitch_in"]  # type: ignore[arg-type]


WAYS: dict[str, Callable[[dict[str, Any], FactBook], Any]] = {
    "check.density.c26000_lookup": _lookup,
    "check.density.c36000_lookup": _lookup,
    "check.density.c28000_lookup": _lookup,
    "check.density.c77000_lookup": _lookup,
    "check.inverse.solder1035": _inverse,
    "check.inverse.french": _inverse,
    "check.inverse.watson": _inverse,
    "check.hydro.simple": _hydro,
    "check.hydro.c26000": lambda i, _b: reading_in_water(i["m"], i["rho"], i["t"], air_density=0.0),
    "check.water.15": lambda i, _b: water_density(i["t"]),
    "check.water.20": lambda i, _b: water_density(i["t"]),
    "check.water.30": lambda i, _b: water_density(i["t"]),
    "check.ba.2": _ba,
    "check.ba.4": _ba,
    "check.ba.12": _ba,
    "check.thread.depth": _depth,
    "check.buoyancy.brass": lambda i, _b: i["m"] / i["rho"],
}
ELSEWHERE = {
    "check.thread.halfinch", "check.thread.quarter", "check.thread.six", "check.neg.brass_additive", "check.neg.brass_inverse",
    "check.neg.weighted_mean", "check.neg.kell_sign", "check.neg.ba_6p", "check.inverse.shortcut",
}  # fmt: skip
NO_FUNCTION = {
    "check.emerson", "check.ordinance1348", "check.plate_pewter_parts", "check.swg.ratio", "check.lead210", "check.lead210b",
}  # fmt: skip
"""Plain arithmetic on recipes, wire gauges and half-lives: nothing of ours computes it, so there is nothing to check."""


@pytest.mark.parametrize("check", CHECKS, ids=lambda c: c["id"])
def test_a_published_figure_comes_out(check: dict[str, Any], book: FactBook) -> None:
    if check["id"] in ELSEWHERE | NO_FUNCTION:
        assert check["id"] not in WAYS
        return
    way = WAYS.get(check["id"], _additive)
    assert way(check["inputs"], book) == pytest.approx(check["expected"], abs=check["tolerance"])


def test_the_list_of_what_is_checked_where_is_complete() -> None:
    ids = {check["id"] for check in CHECKS}
    assert (ELSEWHERE | NO_FUNCTION | set(WAYS)) - ids == set()
    assert len(ids) == 41


def test_half_inch_of_thirteen_threads_is_unc_and_not_whitworth(
    book: FactBook,
) -> None:  # check.thread.halfinch
    assert _threads({"major_mm": 12.7, "tpi": 13, "angle": 60}, book) == {"1/2 in UNC"}


def test_quarter_inch_of_twenty_threads_is_whitworth_or_unc(book: FactBook) -> None:  # check.thread.quarter
    assert _threads({"major_mm": 6.35, "tpi": 20}, book) == {"1/4 in BSW", "1/4 in UNC"}


def test_six_millimetres_at_the_ba_angle_is_no_metric_screw(book: FactBook) -> None:  # check.thread.six
    assert _threads({"major_mm": 6.0, "pitch_mm": 1.0, "angle": 47.5}, book) == {"0 BA"}


def test_brass_is_not_predicted_by_adding_volumes(
    book: FactBook,
) -> None:  # check.neg.brass_additive, weighted_mean
    predicted = mixing.predict({"Cu": Quantity(70, "wt%"), "Zn": Quantity(30, "wt%")}, book)
    assert predicted is not None
    assert predicted.density.amount == pytest.approx(8.53, abs=0.005)
    assert predicted.additive == pytest.approx(8.323, abs=0.005)
    assert abs(predicted.density.amount - 8.414) > 0.1


def test_brass_density_is_not_turned_into_zinc_by_adding_volumes(
    book: FactBook,
) -> None:  # check.neg.brass_inverse
    zinc = mixing.zinc_in_brass(Quantity(8.53, "g/cm3"), book)
    assert zinc is not None
    assert zinc.amount == pytest.approx(30.0, abs=0.1)


def test_water_is_not_heavier_than_a_kilogram_a_litre() -> None:  # check.neg.kell_sign
    assert abs(water_density(20) - 1002.98) > 4


def test_ba_diameter_is_not_six_pitches(book: FactBook) -> None:  # check.neg.ba_6p
    assert abs(_ba({"k": 2}, book)[1] - 4.86) > 0.1


def test_printers_shortcut_reads_tin_about_a_point_too_high(book: FactBook) -> None:  # check.inverse.shortcut
    shortcut = 2076.803 / 8.4 - 183.059
    assert shortcut == pytest.approx(64.18, abs=0.05)
    lead = mixing.lead_in_tin(Quantity(8.4, "g/cm3"), book)
    assert 100 - lead.amount == pytest.approx(63.0, abs=0.3)
    assert shortcut - (100 - lead.amount) == pytest.approx(1.2, abs=0.4)


@pytest.mark.parametrize(
    ("celsius", "density"),
    # M. Tanaka et al., Metrologia 38 (2001) 301-309, table of recommended values, kg/m3.
    [(0, 999.8428), (4, 999.9749), (10, 999.7027), (15, 999.1026), (20, 998.2067), (25, 997.0470), (30, 995.6488), (35, 994.0326), (40, 992.2152)],
)  # fmt: skip
def test_water_agrees_with_the_recommended_table(celsius: float, density: float) -> None:
    assert water_density(celsius) == pytest.approx(density, abs=0.0002)


def test_water_agrees_with_every_row_on_file(book: FactBook) -> None:
    rows = book.family("water_density")
    assert len(rows) >= 20
    for row in rows:
        assert water_density(number(row, "temp_c") or 0.0) == pytest.approx(
            number(row, "density_kg_m3"), abs=0.0002
        )


def test_element_densities_agree_with_periodictable(book: FactBook) -> None:
    """periodictable 2: element densities from the CRC and Alvarez's ILL Neutron Data Booklet, g/cm3. Manganese differs most: 7.30 to 7.47 are printed."""
    import periodictable

    for metal, ours in mixing.element_densities(book).items():
        theirs = getattr(periodictable, metal).density
        assert ours == pytest.approx(theirs, rel=0.015), metal


def test_symbols_are_those_of_periodictable() -> None:
    import periodictable

    from planish.reasoning.measuring.elements import SYMBOLS

    assert list(SYMBOLS) == [e.symbol for e in periodictable.elements if e.number > 0]


def test_units_agree_with_pint() -> None:
    import pint

    from planish.reasoning.measuring.engraved import OUNCE_TROY, POUND
    from planish.reasoning.measuring.figures import UNITS

    u = pint.UnitRegistry()
    assert UNITS["cu in"][1] == pytest.approx((1 * u.inch**3).to("ml").magnitude, rel=1e-9)
    assert UNITS["in"][1] == pytest.approx((1 * u.inch).to("mm").magnitude, rel=1e-12)
    assert UNITS["kg"][1] == (1 * u.kg).to("g").magnitude
    assert pytest.approx((1 * u.troy_ounce).to("g").magnitude, rel=1e-9) == OUNCE_TROY
    assert pytest.approx((1 * u.pound).to("g").magnitude, rel=1e-9) == POUND


def test_weighing_follows_the_formula_with_the_buoyancy_of_air() -> None:
    """Sartorius density kit YDK03MS instructions, p. 24: rho = Wa (rl - ra)/(Wa - Wl) + ra."""
    weighing = Weighing(air=Quantity(400, "g"), water=Quantity(353.19, "g"), temperature=Quantity(20, "degC"))
    expected = 400 * (0.9982067 - 0.0012) / (400 - 353.19) + 0.0012
    assert density_of(weighing).amount == pytest.approx(expected, rel=1e-7)
    assert math.isclose(density_of(weighing).amount, 8.52, abs_tol=0.01)
