"""A label against dated facts and against itself, on readings made by hand."""

import pytest

from planish.facts.loading import load
from planish.reasoning.contradicting.label_facts import against_facts, within_label
from planish.records import Contradiction, Reading
from tests.admitting.hand_reading import reading, years

BOOK, _ = load("metalware")


def only(found: tuple[Contradiction, ...]) -> Contradiction:
    assert len(found) == 1, [one.sentence for one in found]
    return found[0]


@pytest.mark.parametrize(
    ("text", "word", "side", "span", "fact", "hard"),
    [
        ("Britannia metal, c.1720", "Britannia metal", "material", (1710, 1730), "date.britannia.1769", True),
        ("chromium-plated, Edwardian", "chromium-plated", "surface", (1901, 1914), "date.chromium_plate.1924", True),
        ("stainless steel, c.1890", "stainless steel", "material", (1880, 1900), "date.stainless.1912", True),
        ("aluminium, c.1820", "aluminium", "material", (1810, 1830), "date.aluminium.1855", True),
        ("Sheffield plate, c.1900", "Sheffield plate", "material", (1890, 1910), "osp-decline", False),
        ("Sheffield plate, c.1720", "Sheffield plate", "material", (1710, 1730), "date.sheffield_plate.start", True),
        ("galvanised, c.1800", "galvanised", "surface", (1790, 1810), "date.galvanise.1836", True),
        ("registration diamond, c.1820", "registration diamond", "mark", (1810, 1830), "ukd-diamond-window", True),
        ("registration diamond, c.1910", "registration diamond", "mark", (1900, 1920), "ukd-diamond-window", False),
        ("Made in England, c.1850", "Made in England", "mark", (1840, 1860), "made-in-rule", False),
        ("West Germany, c.1930", "West Germany", "mark", (1920, 1940), "west-germany", True),
    ],
)  # fmt: skip
def test_a_label_that_breaks_a_dated_fact_is_caught_with_the_fact_and_its_source(
    text: str, word: str, side: str, span: tuple[int, int], fact: str, hard: bool
) -> None:
    date = text.split(", ")[1]
    found = only(against_facts(reading(text, (word, side, word.lower()), (date, "date", years(*span))), BOOK))  # type: ignore[arg-type]
    known = BOOK.look(fact).fact
    assert known is not None
    assert (found.facts[0], found.hard) == (fact, hard)
    assert str(known.source) in found.sentence
    assert known.verified in found.sentence
    assert found.sentence.startswith(
        "These two cannot both be true" if hard else "These two seldom stand together"
    )
    assert "Either " in found.sentence
    assert found.claims == ("c0", "c1")


@pytest.mark.parametrize(
    ("text", "word", "span"),
    [
        ("Britannia metal, c.1780", "Britannia metal", (1770, 1790)),
        ("Britannia metal, c.1765", "Britannia metal", (1755, 1775)),
        ("Sheffield plate, c.1790", "Sheffield plate", (1780, 1800)),
        ("Britannia metal, 1720 or later", "Britannia metal", (1720, None)),
    ],
)
def test_a_label_that_a_fact_allows_raises_nothing(
    text: str, word: str, span: tuple[int, int | None]
) -> None:
    date = text.split(", ")[1]
    assert (
        against_facts(reading(text, (word, "material", word.lower()), (date, "date", years(*span))), BOOK)
        == ()
    )


def test_a_registered_number_gives_its_year_by_the_table() -> None:
    text = "Inkstand, registered number 412 211, c.1870"
    found = only(against_facts(reading(text, ("c.1870", "date", years(1860, 1880))), BOOK))
    assert (found.facts, found.hard, found.fault) == (
        ("ukd-1884-restart", "ukd-number.1903"),
        True,
        "date.mark_too_early",
    )


def test_a_number_that_the_older_series_can_hold_is_no_contradiction() -> None:
    text = "Inkstand, registered number 201,340, c.1870"
    assert against_facts(reading(text, ("c.1870", "date", years(1860, 1880))), BOOK) == ()


def test_rd_no_is_of_the_series_begun_in_1884() -> None:
    text = "Inkstand, Rd. No. 201340, c.1870"
    assert only(against_facts(reading(text, ("c.1870", "date", years(1860, 1880))), BOOK)).hard


def test_a_year_after_registered_is_no_number() -> None:
    text = "Brass kettle, design registered 1868, c.1870"
    assert against_facts(reading(text, ("c.1870", "date", years(1860, 1880))), BOOK) == ()


def test_a_british_and_an_american_reading_of_a_patent_number_must_both_fail() -> None:
    text = "Corkscrew, Patent No. 412,211, c.1892"
    assert against_facts(reading(text, ("c.1892", "date", years(1885, 1900))), BOOK) == ()
    american = "Corkscrew, US Patent No. 1,412,211, c.1892"
    assert only(against_facts(reading(american, ("c.1892", "date", years(1882, 1902))), BOOK)).facts == (
        "usp-1836",
        "patent-us-utility.1922",
    )


def test_two_dates_that_share_no_year_cannot_both_be_true() -> None:
    text = "Georgian, 1890"
    found = only(
        within_label(
            reading(
                text,
                ("Georgian", "date", years(1714, 1837, period="Georgian", country="GB")),
                ("1890", "date", years(1890, 1890)),
            ),
            BOOK,
        )
    )
    assert (found.fault, found.hard, found.severity) == ("date.dates_disagree", True, 3)
    assert "Georgian style" in found.sentence


def test_a_mark_of_1911_does_not_stand_on_a_george_i_pot() -> None:
    text = "George I coffee pot, hallmarked 1911"
    found = only(
        within_label(
            reading(
                text,
                ("George I", "date", years(1714, 1727, period="George I", country="GB")),
                ("hallmarked 1911", "date", years(1911, 1911, event="mark_struck")),
            ),
            BOOK,
        )
    )
    assert (found.facts, found.severity) == (("order.mark_struck",), 2)


def test_an_inscription_with_a_year_dates_the_inscription_and_not_the_body() -> None:
    """Common practice, no source."""
    later = reading("c.1720, inscribed 1843", ("c.1720", "date", years(1710, 1730)), ("inscribed 1843", "date", years(1843, 1843, event="inscribed")))  # fmt: skip
    assert against_facts(later, BOOK) == ()
    earlier = reading("c.1890, inscribed 1743", ("c.1890", "date", years(1880, 1900)), ("inscribed 1743", "date", years(1743, 1743, event="inscribed")))  # fmt: skip
    assert not only(against_facts(earlier, BOOK)).hard


def test_what_is_rare_is_never_reported_as_impossible() -> None:
    """Common practice, no source: Georgian miniature hearth tools are rare but real; wriggle-work suits English plates of 1720."""
    tools = reading("Miniature fire irons, c.1790", ("Miniature fire irons", "object", "fire irons"), ("c.1790", "date", years(1780, 1800)))  # fmt: skip
    plate = reading("wriggle-work pewter, c.1720", ("wriggle-work", "decoration", "wriggle-work"), ("pewter", "material", "pewter"), ("c.1720", "date", years(1710, 1730)))  # fmt: skip
    assert (against_facts(tools, BOOK), against_facts(plate, BOOK)) == ((), ())


def test_a_disclosed_later_finish_is_no_contradiction() -> None:
    text = "c.1790, later electroplated"
    found = reading(text, ("c.1790", "date", years(1780, 1800)), ("electroplated", "surface", "electroplated"), ("later", "state", "later"))  # fmt: skip
    assert against_facts(found, BOOK) == ()


def test_plate_is_not_called_silver() -> None:
    text = "Silver teapot, EPNS"
    found = only(within_label(reading(text, ("Silver", "material", "silver"), ("EPNS", "material", "electroplated nickel silver")), BOOK))  # fmt: skip
    assert (found.fault, found.facts) == ("material.disagrees", ("ep-1840",))


def test_a_fact_from_memory_asks_and_does_not_bind() -> None:
    text = "maker's mark with PLC, c.1950"
    found = only(against_facts(reading(text, ("maker's mark with PLC", "mark", "mark"), ("c.1950", "date", years(1940, 1960))), BOOK))  # fmt: skip
    assert (found.facts, found.hard) == (("uk-plc",), False)
    assert "memory" in found.sentence


def test_an_empty_label_raises_nothing() -> None:
    assert against_facts(Reading(text=""), BOOK) == ()
