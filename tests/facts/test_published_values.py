"""Facts of the packs against published values. The source stands beside each row; "from memory" where it was recalled."""

import periodictable
import pytest

from planish.facts.loading import load
from planish.records import Fact

BOOK, _ = load("metalware")


def fact(name: str) -> Fact:
    found = BOOK.look(name)
    assert found.fact is not None, name
    return found.fact


@pytest.mark.parametrize(
    ("year", "first"),
    [  # collectors' tables descending from the BT 50-53 ranges of The National Archives; 1884, 1900, 1910, 1920: from memory
        (1884, 1), (1885, 19756), (1890, 141273), (1900, 351202), (1901, 368154), (1910, 552000), (1920, 673750), (1930, 751160),
    ],
)  # fmt: skip
def test_first_registered_numbers(year: int, first: int) -> None:
    assert fact(f"ukd-number.{year}").more["first"] == first


@pytest.mark.parametrize("family", ["uk_design_number", "patent_year_us"])
def test_numbers_given_out_in_order_rise_with_the_years(family: str) -> None:
    series: dict[object, list[tuple[int, int]]] = {}
    for one in BOOK.family(family):
        series.setdefault(one.more.get("series"), []).append((one.more["year"], one.more["first"]))  # type: ignore[arg-type]
    for rows in series.values():
        assert rows == sorted(rows)
        assert [first for _, first in rows] == sorted({first for _, first in rows})


@pytest.mark.parametrize(
    ("form", "letter", "year"),
    [  # The National Archives, research guide Diamond marks and trade marks; the same letters in every handbook of marks
        (1, "x", 1842), (1, "h", 1843), (1, "c", 1844), (1, "a", 1845), (1, "t", 1867), (2, "x", 1868), (2, "h", 1869), (2, "k", 1883),
    ],
)  # fmt: skip
def test_year_letters_of_the_diamond(form: int, letter: str, year: int) -> None:
    assert fact(f"ukd-year-{form}.{letter}").more["year"] == year


@pytest.mark.parametrize(
    ("name", "start", "end"),
    [  # The royal household's published list of accessions; years as in any almanac
        ("william_iii", 1689, 1702), ("anne", 1702, 1714), ("george_i", 1714, 1727), ("george_ii", 1727, 1760), ("george_iii", 1760, 1820),
        ("george_iv", 1820, 1830), ("william_iv", 1830, 1837), ("victoria", 1837, 1901), ("edward_vii", 1901, 1910), ("george_v", 1910, 1936),
    ],
)  # fmt: skip
def test_british_reigns(name: str, start: int, end: int) -> None:
    rows = [
        f.years
        for f in BOOK.family("period")
        if f.id.startswith(f"period-britain.{name}_") or f.id == f"period-britain.{name}"
    ]
    starts = [years.earliest for years in rows if years.earliest is not None]
    ends = [years.latest for years in rows if years.latest is not None]
    assert (min(starts), max(ends)) == (start, end)  # William III ruled with Mary II, then alone: two rows


@pytest.mark.parametrize(
    ("standard", "cubic_inches", "litres"),
    [  # Act 5 Anne c. 27 (231); Act 11 & 12 Will. III c. 15 tradition (282); Weights and Measures Act 1985 sch. 1 (4.54609 l)
        ("wine", 231.0, 3.785411784), ("ale", 282.0, 4.621152), ("imperial_modern", 277.42, 4.54609),
    ],
)  # fmt: skip
def test_gallons(standard: str, cubic_inches: float, litres: float) -> None:
    gallon = next(f for f in BOOK.family("capacity_measure") if f.more["name"] == f"{standard} gallon")
    assert gallon.more["cubic_inches"] == pytest.approx(cubic_inches, abs=0.005)
    assert gallon.more["ml"] == pytest.approx(litres * 1000, abs=0.1)


@pytest.mark.parametrize("row", BOOK.family("element"), ids=lambda row: str(row.id))
def test_densities_of_the_elements_agree_with_a_reference_table(row: Fact) -> None:
    """The periodictable package (values of the CRC Handbook and ILL neutron data booklet): within 1.5 %
    (manganese is printed from 7.2 to 7.44)."""
    published = periodictable.elements.symbol(str(row.more["symbol"])).density
    assert row.more["density_g_cm3"] == pytest.approx(published, rel=0.015)


@pytest.mark.parametrize(
    ("name", "year"),
    [  # published patents and announcements, each named in the fact's own source
        ("date.britannia.1769", 1769), ("date.electroplate.1840", 1840), ("date.chromium_plate.1924", 1924), ("date.stainless.1912", 1912),
        ("date.sheffield_plate.start", 1742), ("date.bakelite.1907", 1907), ("hm-britannia", 1697), ("us-mckinley-1891", 1891),
    ],
)  # fmt: skip
def test_first_years_of_materials_and_marks(name: str, year: int) -> None:
    assert fact(name).years.earliest == year


def test_customs_of_the_trade_are_marked_as_practice_with_no_source() -> None:
    """Common practice, no source."""
    customs = BOOK.family("custom")
    assert {c.verified for c in customs} == {"practice"}
    span = next(c for c in customs if c.more["name"] == "span of a fair")
    assert (span.more["first_year"], span.more["last_year"]) == (1500, 1950)
