"""The date reader against published guidance, dates and a reference library."""

import edtf
import pytest

from planish.facts.words import english
from planish.reasoning.reading.dates import read_date_text, read_edtf
from planish.records import Conventions, Years

HOUSE = Conventions()


def years(text: str, conventions: Conventions = HOUSE) -> Years:
    return read_date_text(text, words=english(), conventions=conventions).years


def test_circa_is_ten_years_either_side_as_object_id_suggests() -> None:
    """R. Thornes, Introduction to Object ID (Getty Information Institute, 1999), Date or Period."""
    assert years("ca. 1610") == Years(1600, 1620)


def test_circa_of_five_years_gives_the_example_of_cco() -> None:
    """Cataloging Cultural Objects (VRA, 2006), 4.2.3.2: ca. 1610 is indexed 1605 to 1615."""
    assert years("ca. 1610", Conventions(circa_years=5)) == Years(1605, 1615)


def test_quarters_follow_object_id_s_form() -> None:
    """Object ID (1999) prints "third quarter of the 18th century"; the years are arithmetic."""
    assert years("third quarter of the 18th century") == Years(1751, 1775)


@pytest.mark.parametrize(
    ("name", "first", "last"),
    [
        ("Charles II", 1660, 1685),
        ("Queen Anne period", 1700, 1730),
        ("George I", 1714, 1727),
        ("George II", 1727, 1760),
        ("George III", 1760, 1820),
        ("George IV", 1820, 1830),
        ("Edward VII", 1901, 1910),
        ("George V", 1910, 1936),
        ("Qianlong", 1736, 1795),
        ("Meiji", 1868, 1912),
    ],
)
def test_reigns_have_their_published_years(name: str, first: int, last: int) -> None:
    """Royal Household, "Kings and Queens of the United Kingdom"; Chinese and Japanese eras as in any almanac (from memory).
    Queen Anne is the style's widest span in trade charts, the reign (1702-1714) its core."""
    assert years(name) == Years(first, last)


SPECIFICATION = [
    ("1985-04-12", 1985, 1985), ("1985-04", 1985, 1985), ("1985", 1985, 1985), ("1985-04-12T23:20:30Z", 1985, 1985),
    ("1964/2008", 1964, 2008), ("2004-06/2006-08", 2004, 2006), ("2004-02-01/2005", 2004, 2005),
    ("2001-21", 2001, 2001), ("1984?", 1984, 1984), ("2004-06~", 2004, 2004), ("2004-06-11%", 2004, 2004),
    ("201X", 2010, 2019), ("20XX", 2000, 2099), ("2004-XX", 2004, 2004), ("1985-04-XX", 1985, 1985),
    ("1985-XX-XX", 1985, 1985), ("-1985", -1985, -1985), ("1984~/2004-06", 1984, 2004), ("1984-06-02?/2004-08-08~", 1984, 2004),
    ("156X-12-25", 1560, 1569), ("15XX-12-25", 1500, 1599), ("XXXX-12-XX", 0, 9999), ("1984-XX-31", 1984, 1984),
    ("2004-06-~01/2004-06-~20", 2004, 2004), ("2004?-06-11", 2004, 2004), ("?2004-06-~11", 2004, 2004),
    ("[1667,1668,1670..1672]", 1667, 1672), ("{1960,1961-12}", 1960, 1961),
]  # fmt: skip


@pytest.mark.parametrize(("text", "first", "last"), SPECIFICATION)
def test_the_specification_s_examples_read_as_it_says_and_the_reference_library_parses_them(
    text: str, first: int, last: int
) -> None:
    """Library of Congress, Extended Date/Time Format (EDTF) Specification, 4 February 2019, levels 0 to 2; `edtf` as reference."""
    edtf.parse_edtf(text)
    assert read_edtf(text) == Years(first, last)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1985-04-12/..", Years(1985, None)),
        ("../1985-04-12", Years(None, 1985)),
        ("1985/", Years(1985, None)),
        ("[..1760]", Years(None, 1760)),
        ("{1760..}", Years(1760, None)),
        ("Y-17E7", Years(-170000000, -170000000)),
        ("1950S2", Years(1900, 1999)),
        ("Y171010000S3", Years(171000000, 171999999)),
    ],
)
def test_open_ends_long_years_and_significant_figures_are_read(text: str, expected: Years) -> None:
    """Same specification: open intervals (level 1), exponential years and significant digits (level 2)."""
    assert read_edtf(text) == expected


@pytest.mark.parametrize("text", ["", "1760-13", "c. 1760", "1985-04-32", "1990/1980", "[1760", "17"])
def test_what_is_not_edtf_is_refused(text: str) -> None:
    assert read_edtf(text) is None
