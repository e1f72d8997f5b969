"""A look at the metal, the scale or the measuring glass against a word or a figure of the label."""

import pytest

from planish.errands.opening import rulebooks, wiring
from planish.reasoning.contradicting import against_looks
from planish.reasoning.measuring.alloys import class_ranges
from planish.reasoning.reading import read
from planish.records import Observation, Quantity

KIT = wiring.Kit(rulebooks.read("saltmere")[0])


def clashes(label: str, kind: str, values: dict[str, tuple[float, str, float]], **more):
    seen = Observation(
        id="look-1", object_id="1-001", kind=kind, by="p1",
        values={name: Quantity(*value) for name, value in values.items()}, **more,
    )  # fmt: skip
    reading = read(label, words=KIT.words, conventions=KIT.rules.conventions)
    return against_looks(reading, [seen], KIT.book)


def metal(label: str, surface: str = "cleaned spot", part: str = "", **wt: float):
    values = {name: (amount, "wt%", max(0.1, amount * 0.01)) for name, amount in wt.items()}
    return clashes(label, "composition", values, surface=surface, part=part)


def middles(alloy_id: str) -> dict[str, float]:
    """A published class at the middle of its ranges."""
    fact = KIT.book.look(alloy_id).fact
    assert fact is not None
    return {name: (low + high) / 2 for name, (low, high) in class_ranges(fact).items()}


@pytest.mark.parametrize(
    "grade",
    ["alloy.brass.c26000", "alloy.brass.c27000", "alloy.brass.c36000", "alloy.brass.muntz"],
)
def test_a_published_brass_is_held_against_the_word_bronze(grade: str) -> None:
    """UNS grades, limits per ASTM B36 and B16 (sources stand with each fact of the alloy table)."""
    (clash,) = metal("Bronze mortar, English, c.1840", **middles(grade))
    assert clash.fault == "material.bronze_for_brass"
    assert clash.severity == 3
    assert "brass" in clash.sentence


@pytest.mark.parametrize(
    "grade",
    ["alloy.bronze.tin", "alloy.bronze.c90300", "alloy.bronze.c83600", "alloy.bronze.statuary_darcet",
     "alloy.bronze.gunmetal", "alloy.bronze.bell_c91300", "alloy.brass.c22000"],
)  # fmt: skip
def test_a_published_bronze_may_be_called_bronze(grade: str) -> None:
    """Also gilt-bronze metal of D'Arcet (1818) with 18 % zinc, and the trade's commercial bronze of 10 % zinc."""
    assert not metal("Gilt bronze figure, French, c.1840", **middles(grade))


def test_nickel_silver_is_not_silver_and_sterling_is() -> None:
    """UNS C77000 (55 Cu, 27 Zn, 18 Ni); sterling, 925 parts in 1,000 (Hallmarking Act 1973, from memory)."""
    (clash,) = metal("Silver jug, English, c.1900", **middles("alloy.nickel.c77000"))
    assert clash.fault == "material.plate_as_silver"
    assert clash.severity == 2
    assert not metal("Silver jug, English, c.1900", Ag=92.5, Cu=7.5)


def test_a_reading_through_a_coat_says_nothing_of_the_metal() -> None:
    assert not metal("Bronze mortar, English", surface="patina", Cu=65, Zn=34.5, Sn=0.3)


def test_a_reading_of_the_lid_says_nothing_of_the_body() -> None:
    assert not metal("Bronze mortar, English", part="cover", Cu=65, Zn=34.5, Sn=0.3)


def test_a_denied_metal_is_not_questioned() -> None:
    assert not metal("Jug, not silver, c.1900", Cu=55, Zn=27, Ni=18)


def test_a_second_reading_that_says_otherwise_is_told() -> None:
    first = Observation(
        id="a", object_id="1", kind="composition", by="p", surface="cleaned",
        values={"Cu": Quantity(65, "wt%", 0.5), "Zn": Quantity(34.6, "wt%", 0.5), "Sn": Quantity(0.4, "wt%", 0.1)},
    )  # fmt: skip
    second = Observation(
        id="b", object_id="1", kind="composition", by="p", surface="cleaned",
        values={"Cu": Quantity(90, "wt%", 0.5), "Zn": Quantity(2, "wt%", 0.2), "Sn": Quantity(8, "wt%", 0.2)},
    )  # fmt: skip
    reading = read("Bronze bell, c.1700", words=KIT.words, conventions=KIT.rules.conventions)
    (clash,) = against_looks(reading, [first, second], KIT.book)
    assert "does not say so" in clash.sentence


def test_twenty_two_ounces_are_met_by_either_ounce_and_by_nothing_else() -> None:
    """1 oz troy = 31.1034768 g, 1 oz avoirdupois = 28.349523125 g (Weights and Measures Act 1985, exact)."""
    for grams in (22 * 31.1034768, 22 * 28.349523125):
        assert not clashes("Silver jug, weight 22 oz", "weight", {"weight": (grams, "g", 0.5)})
    (clash,) = clashes("Silver jug, weight 22 oz", "weight", {"weight": (560.0, "g", 0.5)})
    assert clash.fault == "measure.weight_differs"
    assert "560 g" in clash.sentence


def test_a_capacity_that_differs_is_questioned_and_one_within_the_filling_is_not() -> None:
    assert not clashes("Pewter mug, capacity 570 ml", "capacity", {"capacity": (568.0, "ml", 3.0)})
    (clash,) = clashes("Pewter mug, capacity 570 ml", "capacity", {"capacity": (473.0, "ml", 3.0)})
    assert clash.fault == "measure.capacity_differs"


def test_a_height_is_held_against_the_label_and_rounding_is_let_pass() -> None:
    """1 in = 25.4 mm exactly (International yard and pound agreement, 1959)."""
    for said in ("Height 16 cm", "height 6 1/4 in"):
        assert not clashes(f"Brass candlestick, {said}", "size", {"height": (158.8, "mm", 1.0)})
    (clash,) = clashes("Brass candlestick, height 16 cm", "size", {"height": (7.0, "in", 0.1)})
    assert clash.fault == "measure.height_differs"
    assert "17.8 cm" in clash.sentence
    assert not clashes("Brass candlestick, height 16 cm", "size", {"diameter": (90.0, "mm", 1.0)})


def test_wrong_figures_say_nothing_and_raise_nothing() -> None:
    assert not clashes("Silver jug, weight 640 g", "weight", {"weight": (float("nan"), "g", 0.5)})
    assert not clashes("Silver jug, weight 640 g", "weight", {"weight": (-3.0, "g", 0.5)})
    assert not metal("Bronze jug", Xx=50.0)
