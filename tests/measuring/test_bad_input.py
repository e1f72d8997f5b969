"""Every wrong figure is a Problem with a way out, never a number and never a traceback."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planish.facts.loading import load
from planish.reasoning.measuring import measure
from planish.reasoning.measuring.figures import quantity_from_text
from planish.records import Problem, Quantity

from .conftest import Look, observation


@pytest.mark.parametrize(
    ("kind", "values", "code"),
    [
        ("composition", {"Cu": 70, "Zn": 60}, "composition.sum"),
        ("composition", {"Xx": 3}, "composition.unknown_element"),
        ("composition", {"Cu": -3, "Zn": 30}, "figure.too_small"),
        ("composition", {"Cu": math.nan, "Zn": 30}, "figure.not_finite"),
        ("composition", {"Cu": math.inf}, "figure.not_finite"),
        ("composition", {"Cu": (60, -1.0), "Zn": 30}, "figure.uncertainty_negative"),
        ("composition", {"Cu": (60, math.nan), "Zn": 30}, "figure.not_finite"),
        ("composition", {"Cu": (60, 1.0, "mm")}, "figure.unit"),
        ("composition", {"Cu": 60, "copper": 60}, "composition.twice"),
        ("composition", {}, "composition.empty"),
        ("density", {"air": -5, "water": 3}, "density.mass"),
        ("density", {"air": 700, "water": 812}, "density.heavier_in_water"),
        ("density", {"air": 700, "water": 700}, "density.heavier_in_water"),
        ("density", {"air": 700, "water": -2}, "density.floats"),
        ("density", {"air": 700, "water": 600, "temperature": 80}, "density.temperature"),
        ("density", {"air": 700}, "density.incomplete"),
        ("density", {"air": math.nan, "water": 3}, "figure.not_finite"),
        ("density", {"air": (700, -0.1), "water": 600}, "figure.uncertainty_negative"),
        ("capacity", {}, "capacity.missing"),
        ("capacity", {"capacity": 0}, "figure.too_small"),
        ("capacity", {"capacity": -20}, "figure.too_small"),
        ("capacity", {"capacity": math.nan}, "figure.not_finite"),
        ("capacity", {"capacity": (1, 0.0, "pints")}, "capacity.which"),
        ("capacity", {"capacity": (1, 0.0, "firkinful")}, "figure.unit"),
        ("thread", {"tpi": 20}, "thread.incomplete"),
        ("thread", {"diameter": 5}, "thread.incomplete"),
        ("thread", {"tpi": 0, "diameter": 5}, "figure.too_small"),
        ("thread", {"pitch": -1, "diameter": 5}, "figure.too_small"),
        ("thread", {"pitch": 1, "diameter": 5, "angle": 200}, "thread.angle"),
        ("thread", {"pitch": math.inf, "diameter": 5}, "figure.not_finite"),
        ("members", {"1": 5}, "members.few"),
        ("members", {"1": 5, "2": -5}, "members.figure"),
        ("members", {"1": 5, "2": math.nan}, "members.figure"),
        ("members", {"1": (5, -1.0), "2": 5}, "figure.uncertainty_negative"),
        ("members", {"1": (5, 0.0, "g"), "2": (5, 0.0, "mm")}, "members.units"),
        ("weight", {}, "engraved.weight"),
        ("condition", {}, "condition.empty"),
        ("mark", {}, "mark.empty"),
    ],
)  # fmt: skip
def test_a_wrong_figure_is_a_problem(look: Look, kind: str, values: dict[str, object], code: str) -> None:
    found = look(kind, values, more={"engraved": "22-10"} if kind == "weight" else {})
    assert [p.code for p in found.problems] == [code]
    assert (found.items, found.sentences) == ((), ())
    (problem,) = found.problems
    assert problem.where
    assert problem.what
    assert problem.remedy


def test_a_condition_not_on_file_is_told_and_the_rest_is_answered(look: Look) -> None:
    found = look("condition", terms=("cond.repatination", "cond.shiny"))
    assert [p.code for p in found.problems] == ["condition.unknown"]
    assert found.items


@pytest.mark.parametrize(
    ("text", "quantity"),
    [
        ("34.1±0.5", Quantity(34.1, "wt%", 0.5)),
        ("34,1 +/- 0,5", Quantity(34.1, "wt%", 0.5)),
        ("<0.05", Quantity(0.0, "wt%", 0.025)),
        ("500 ppm", Quantity(500, "ppm", 0.0)),
        ("568 ± 4 ml", Quantity(568, "ml", 4.0)),
    ],
)
def test_figures_are_read_as_people_write_them(text: str, quantity: Quantity) -> None:
    assert quantity_from_text(text, "wt%", "here") == quantity


@pytest.mark.parametrize("text", ["", "nan", "inf", "1e5", "about 3", "3±", "±2", "3.4.5", "--2"])
def test_what_is_no_figure_is_a_problem(text: str) -> None:
    assert isinstance(quantity_from_text(text, "g", "here"), Problem)


figures = st.floats(allow_nan=True, allow_infinity=True)


@given(
    kind=st.sampled_from(["composition", "density", "capacity", "thread", "members", "weight", "mark", "condition"]),
    names=st.lists(st.sampled_from(["Cu", "Zn", "Sn", "air", "water", "temperature", "capacity", "pitch", "tpi", "diameter", "angle", "weight", "1", "2", "3", "4"]), max_size=6, unique=True),
    data=st.data(),
)  # fmt: skip
def test_nothing_anyone_can_type_raises(kind: str, names: list[str], data: st.DataObject) -> None:
    values = {
        n: (
            data.draw(figures),
            data.draw(figures),
            data.draw(st.sampled_from(["", "g", "ml", "mm", "wt%", "pint"])),
        )
        for n in names
    }
    more = {
        "engraved": data.draw(st.text(max_size=8)),
        "unit": data.draw(st.text(max_size=5)),
        "registered": data.draw(st.text(max_size=6)),
    }
    keep = data.draw(st.sets(st.sampled_from(sorted(more))))
    look = observation(
        kind, values, words=data.draw(st.text(max_size=12)), more={k: v for k, v in more.items() if k in keep}
    )
    found = measure(look, load("metalware")[0])
    assert found.sentences or found.problems


@given(
    corners=st.dictionaries(
        st.sampled_from(["circle", "top", "right", "bottom", "left", "odd"]), st.text(max_size=3)
    )
)
def test_no_diamond_anyone_can_write_raises(corners: dict[str, str]) -> None:
    found = measure(observation("mark", more={"diamond": corners}), load("metalware")[0])
    assert found.sentences or found.problems
