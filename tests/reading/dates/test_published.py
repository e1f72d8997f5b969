"""The date reader against published guidance, dates and a reference library."""

import edtf
import pytest

from planish.facts.words import english
from planish.reasoning.reading.dates import read_date_text, read_edtf
from planish.records import Conventions, DateValue, Years

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
        ("Elizabeth I", 1558, 1603),
        ("James II", 1685, 1688),
        ("reign of William IV", 1830, 1837),
        ("reign of Queen Anne", 1702, 1714),
        ("Victoria period", 1837, 1901),
        ("Kangxi", 1662, 1722),
        ("Yongzheng", 1723, 1735),
        ("Jiaqing", 1796, 1820),
        ("Taisho", 1912, 1926),
        ("First World War", 1914, 1918),
        ("inter-war", 1918, 1939),
        ("Qianlong", 1736, 1795),
        ("Meiji", 1868, 1912),
    ],
)
def test_reigns_have_their_published_years(name: str, first: int, last: int) -> None:
    """Royal Household, "Kings and Queens of the United Kingdom"; Chinese and Japanese eras as in any almanac (from memory).
    Queen Anne is the style's widest span in trade charts, the reign (1702-1714) its core."""
    assert years(name) == Years(first, last)


def test_a_circa_of_five_years_gives_the_trade_guide_s_example() -> None:
    """An Australian antiques price guide, glossary, "Circa": circa 1900 is probably 1895 to 1905. Info-Muse (Quebec), Begin Date
    rule 4, has the same width."""
    assert years("circa 1900", Conventions(circa_years=5)) == Years(1895, 1905)


def test_a_century_and_a_decade_follow_the_cataloguing_wiki() -> None:
    """University of Massachusetts Library, cataloguing wiki "Date" (2014-19, follows CCO): 13th century is 1201 to 1300,
    ca. 1880s is 1880 to 1889."""
    assert years("13th century") == Years(1201, 1300)
    assert years("ca. 1880s", Conventions(circa_decade_years=0)) == Years(1880, 1889)


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        ("first quarter of the 18th century", 1701, 1725),
        ("2nd quarter 18th century", 1726, 1750),
        ("18th century, third quarter", 1751, 1775),
        ("last quarter of the 18th century", 1776, 1800),
        ("first half of the 18th century", 1701, 1750),
        ("2nd half C18", 1751, 1800),
    ],
)
def test_quarters_and_halves_share_out_the_century(text: str, first: int, last: int) -> None:
    """Quarters 01-25, 26-50, 51-75, 76-00 and halves 01-50, 51-00; the form is Object ID's (1999), the years arithmetic."""
    assert years(text) == Years(first, last)


def test_making_and_altering_are_two_dates() -> None:
    """Object ID (1999), Date or Period: when a thing was made in one period and altered in another, give both dates."""
    claims = read_date_text("c. 1700, altered 1850", words=english(), conventions=HOUSE).claims
    assert [c.value.event for c in claims if isinstance(c.value, DateValue)] == ["body_made", "repair"]
    assert years("c. 1700, altered 1850") == Years(1690, 1710)


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        ("Gilt-brass cup in the style of the 16th century, 1880", 1880, 1880),
        ("George II revival candlestick, 1911", 1911, 1911),
        ("Candlestick of the George II period", 1727, 1760),
    ],
)
def test_a_style_claims_no_date_and_a_period_does(text: str, first: int, last: int) -> None:
    """Halford Restorations, "Periods and Styles" (undated), warns that the two are mixed up; the rest is trade custom (from memory)."""
    assert years(text) == Years(first, last)


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
