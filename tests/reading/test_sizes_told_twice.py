"""One size told with two figures: reported where one thing cannot have both, and never where it can (invented labels)."""

import pytest

import planish


@pytest.mark.parametrize(
    "text",
    [
        "Brass candlestick, c. 1720, 24 cm high. Height 27 cm.",
        "Pewter charger, 46 cm diameter, c. 1700; diam. 20in",
    ],
)
def test_two_figures_of_one_size_contradict_each_other(text: str) -> None:
    (problem,) = planish.read_label(text).problems
    assert problem.code == "measure.contradicts"
    assert " / " in problem.found


@pytest.mark.parametrize(
    "text",
    [
        "Copper kettle, height 30 cm, 11.8 in high",
        "Pair of brass candlesticks, 24 cm high and 27 cm high",
        "Copper kettle, 30 cm high, height to spout 22 cm",
        "Brass toasting fork, length 40 cm closed, length 75 cm extended",
        "Brass lamp, height 30 cm; the shade height 12 cm",
    ],
)
def test_sizes_of_two_things_or_taken_two_ways_agree(text: str) -> None:
    assert planish.read_label(text).problems == ()
