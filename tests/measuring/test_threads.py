"""Threads: size tables against the standards, what fits, and what never goes away."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planish.facts.book import FactBook
from planish.facts.loading import load
from planish.reasoning.measuring.measured import Settings
from planish.reasoning.measuring.reading_facts import number, text
from planish.reasoning.measuring.threads import Screw, chance, fitting
from planish.records import Quantity, Years

from .conftest import Look

# BS 84:1956, table of British Standard Whitworth: size in inches -> threads per inch.
WHITWORTH = {
    "1/8": 40, "3/16": 24, "1/4": 20, "5/16": 18, "3/8": 16, "7/16": 14, "1/2": 12, "9/16": 12, "5/8": 11, "3/4": 10,
    "7/8": 9, "1": 8, "1-1/8": 7, "1-1/4": 7, "1-1/2": 6,
}  # fmt: skip
# BS 84:1956, British Standard Fine.
FINE = {
    "3/16": 32,
    "7/32": 28,
    "1/4": 26,
    "5/16": 22,
    "3/8": 20,
    "7/16": 18,
    "1/2": 16,
    "9/16": 16,
    "5/8": 14,
    "3/4": 12,
    "7/8": 11,
}
# BS 93:2008, British Association: number -> pitch and major diameter in mm.
BA = {
    0: (1.0, 6.0), 1: (0.9, 5.3), 2: (0.81, 4.7), 3: (0.73, 4.1), 4: (0.66, 3.6), 5: (0.59, 3.2), 6: (0.53, 2.8),
    7: (0.48, 2.5), 8: (0.43, 2.2), 9: (0.39, 1.9), 10: (0.35, 1.7), 11: (0.31, 1.5), 12: (0.28, 1.3),
    13: (0.25, 1.2), 14: (0.23, 1.0), 15: (0.21, 0.9), 16: (0.19, 0.79),
}  # fmt: skip
# ISO 261:1998, coarse pitches.
METRIC = {
    "1": 0.25, "1.2": 0.25, "1.4": 0.3, "1.6": 0.35, "2": 0.4, "2.5": 0.45, "3": 0.5, "3.5": 0.6, "4": 0.7, "4.5": 0.75,
    "5": 0.8, "6": 1.0, "7": 1.0, "8": 1.25, "10": 1.5, "12": 1.75, "14": 2.0, "16": 2.0, "18": 2.5, "20": 2.5, "22": 2.5,
    "24": 3.0, "27": 3.0, "30": 3.5,
}  # fmt: skip
# ASME B1.1-2003, Unified coarse: number or inches -> threads per inch; a numbered size is 0.060 + 0.013 n inches.
COARSE = {
    "No. 4": 40,
    "No. 5": 40,
    "No. 6": 32,
    "No. 8": 32,
    "No. 10": 24,
    "No. 12": 24,
    "1/4": 20,
    "5/16": 18,
    "3/8": 16,
    "7/16": 14,
    "1/2": 13,
    "9/16": 12,
    "5/8": 11,
    "3/4": 10,
    "7/8": 9,
    "1": 8,
}


def _rows(book: FactBook, system: str) -> dict[str, tuple[float, float]]:
    return {
        text(f, "designation").removesuffix(" in").removeprefix("M"): (
            number(f, "pitch_mm") or 0,
            number(f, "major_mm") or 0,
        )
        for f in book.family("thread_size")
        if text(f, "system") == system
    }


def _inches(size: str) -> float:
    if size.startswith("No."):
        return 0.060 + 0.013 * int(size.removeprefix("No. "))
    return float(sum(Fraction(part) for part in size.split("-")))


@pytest.mark.parametrize(("system", "standard"), [("BSW", WHITWORTH), ("BSF", FINE), ("UNC", COARSE)])
def test_inch_sizes_on_file_are_those_of_their_standard(
    book: FactBook, system: str, standard: dict[str, int]
) -> None:
    rows = _rows(book, system)
    for size, tpi in standard.items():
        assert rows[size] == pytest.approx((25.4 / tpi, 25.4 * _inches(size)), abs=1e-3), size


def test_ba_sizes_on_file_are_those_of_the_standard_and_of_its_formula(book: FactBook) -> None:
    rows = _rows(book, "BA")
    for k, (pitch, major) in BA.items():
        assert rows[str(k)] == pytest.approx((pitch, major), abs=1e-9)
        assert pitch == pytest.approx(0.9**k, abs=0.006)
        assert major == pytest.approx(6 * (0.9**k) ** 1.2, abs=0.051)


def test_metric_sizes_on_file_are_the_coarse_pitches_of_iso_261(book: FactBook) -> None:
    assert {size: pitch for size, (pitch, _) in _rows(book, "M").items()} == METRIC


def test_every_size_on_file_fits_itself(book: FactBook) -> None:
    for size in book.family("thread_size"):
        screw = Screw(
            pitch=Quantity(number(size, "pitch_mm") or 0, "mm"),
            major=Quantity(number(size, "major_mm") or 0, "mm"),
        )
        assert size.id in {fit.size.id for fit in fitting(screw, book, Settings()) if fit.size}


def test_a_quarter_whitworth_bounds_the_part_from_1841_and_nothing_else(look: Look) -> None:
    found = look("thread", {"tpi": 20, "diameter": 6.3, "angle": 55}, part="finial screw")
    (item,) = found.items
    assert (item.event, item.windows, item.part) == ("part_made", (Years(1841, None),), "finial screw")
    assert item.binding
    assert "thread.BSW" in item.facts
    assert item.doubt >= 0.015


def test_dimensions_older_than_a_system_take_the_older_year(look: Look) -> None:
    # Sellers' thread of 1864 has the pitches of most Unified inch sizes: half an inch of 13 is no proof of 1948.
    found = look("thread", {"tpi": 13, "diameter": 12.7})
    (item,) = found.items
    assert item.windows == (Years(1864, None),)
    assert any(
        "is of 1948, but an older thread had these dimensions from about 1864" in s for s in found.sentences
    )


def test_a_system_without_a_first_year_lets_no_year_follow(look: Look) -> None:
    found = look("thread", {"tpi": 26, "diameter": 9.0})
    assert found.items == ()
    assert any("no firm first year" in sentence for sentence in found.sentences)


def test_a_thread_of_no_standard_says_so_and_gives_no_year(look: Look) -> None:
    found = look("thread", {"tpi": 24, "diameter": 3.2})
    assert found.items == ()
    assert found.problems == ()
    assert "fits no standard" in found.sentences[0]


def test_look_alikes_are_named(look: Look) -> None:
    found = look("thread", {"pitch": 1.0, "diameter": 6.0})
    assert {row["name"] for row in found.details["fits"]} == {"0 BA", "M6"}
    assert any("47.5 against 60" in sentence for sentence in found.sentences)


def test_luck_grows_with_the_uncertainty_and_stays_a_share(book: FactBook) -> None:
    tight = Screw(pitch=Quantity(1.27, "mm", 0.001), major=Quantity(6.35, "mm", 0.01))
    loose = Screw(pitch=Quantity(1.27, "mm", 0.05), major=Quantity(6.35, "mm", 0.3))
    assert 0 < chance(tight, book, Settings()) < chance(loose, book, Settings()) <= 1


@given(pitch=st.floats(0.1, 6), ratio=st.floats(2.5, 10), spread=st.floats(0, 0.05), more=st.floats(0, 0.2))
def test_a_bigger_uncertainty_never_removes_a_fitting_standard(
    pitch: float, ratio: float, spread: float, more: float
) -> None:
    book = load("metalware")[0]

    def names(u: float) -> set[str]:
        screw = Screw(pitch=Quantity(pitch, "mm", u), major=Quantity(pitch * ratio, "mm", u))
        return {fit.name for fit in fitting(screw, book, Settings())}

    assert names(spread) <= names(spread + more)


def test_a_screw_never_falls_on_the_whole_for_want_of_a_name(look: Look) -> None:
    for part in ("", "body"):
        (item,) = look("thread", {"tpi": 20, "diameter": 6.3}, part=part).items
        assert (item.event, item.part) == ("part_made", "screw")
