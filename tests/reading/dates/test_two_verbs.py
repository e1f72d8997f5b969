"""The two verbs of the date reader, called as the rest of the label reader calls them."""

import pytest

from planish.facts.words import english
from planish.reasoning.reading.dates import problems_of, read_date_text, read_dates
from planish.records import Conventions, DateValue, Years

HOUSE = Conventions()


def test_a_field_known_to_be_a_date_is_summed_up_as_years_of_the_making() -> None:
    assert read_date_text("designed 1862, made 1875", words=english(), conventions=HOUSE).years == Years(
        1875, 1875
    )


def test_dates_in_running_text_carry_the_label_s_own_characters() -> None:
    text = "A brass candlestick, c. 1760-5, 1760 g, stock no. 1743"
    claims = read_dates(text, words=english(), conventions=HOUSE)
    assert [(c.words, text[c.span.start : c.span.end]) for c in claims] == [("c. 1760-5", "c. 1760-5")]


def test_a_style_is_no_claim_of_date() -> None:
    claims = read_dates("Coffee pot in the George II style", words=english(), conventions=HOUSE)
    assert [c.side for c in claims] == ["style"]


def test_a_numbered_ruler_is_one_row_of_the_table_with_nothing_else_to_mean() -> None:
    (claim,) = read_dates("George III snuffbox", words=english(), conventions=HOUSE)
    assert isinstance(claim.value, DateValue)
    assert (claim.value.fact, claim.value.country, claim.other) == ("period-britain.george_iii", "GB", ())


def test_a_ruler_without_a_number_is_offered_as_each_who_bore_the_name() -> None:
    claims = read_date_text("George", words=english(), conventions=HOUSE).claims
    assert [(len(c.other), c.told_apart_by) for c in claims] == [(4, "the number of the ruler")]


def test_a_range_written_backwards_is_turned_and_said_to_be_so() -> None:
    claims = read_dates("Brass mortar, 1720-1690", words=english(), conventions=HOUSE)
    (claim,) = claims
    assert isinstance(claim.value, DateValue)
    assert claim.value.years == Years(1690, 1720)
    assert [(p.code, p.where, p.found, p.remedy) for p in problems_of(claims)] == [
        ("date.backwards", "the date “1720-1690”", "1720-1690", "Put the earlier year first.")
    ]


@pytest.mark.parametrize(
    "text", ["1690-1720", "1760-5", "18th-19th century", "c. 1798-02", "George II or III"]
)
def test_a_range_that_runs_forwards_is_no_problem(text: str) -> None:
    assert problems_of(read_dates(text, words=english(), conventions=HOUSE)) == ()


@pytest.mark.parametrize(
    ("text", "words", "event"),
    [
        ("wriggle-work decoration, English, c.1720", "c.1720", "body_made"),
        ("Tankard, later engraved, Dutch, c.1760", "c.1760", "body_made"),
        ("Bowl with engraved decoration, c. 1720", "c. 1720", "body_made"),
        ("Tankard, later engraved 1760", "later engraved 1760", "decorated"),
        ("Tankard, regilt, 1850", "regilt, 1850", "decorated"),
        ("Mug, hallmarked, London, 1790", "1790", "body_made"),
    ],
)
def test_a_comma_and_a_place_part_the_date_from_the_decoration(text: str, words: str, event: str) -> None:
    (claim,) = read_dates(text, words=english(), conventions=HOUSE)
    assert isinstance(claim.value, DateValue)
    assert (claim.words, claim.value.event) == (words, event)


@pytest.mark.parametrize(
    "text",
    [
        "William Bright (1720-1785)",
        "Mr. T. Brown, London (1720-1785)",
        "by John Osburn, (1720–1785), pewter",
        "George Brown (1720-1785)",
        "Zebedee Thwaite (1720-1785)",
    ],
)
def test_years_in_brackets_after_a_person_s_name_are_a_life(text: str) -> None:
    assert read_dates(text, words=english(), conventions=HOUSE) == ()


@pytest.mark.parametrize("text", ["Brass Candlestick (1720-1785)", "Brass Kettle, London (1720-1760)"])
def test_years_in_brackets_after_a_thing_are_its_date(text: str) -> None:
    assert len(read_dates(text, words=english(), conventions=HOUSE)) == 1


@pytest.mark.parametrize(
    "text", ["A pair of Adam candlesticks", "Adam Candlesticks", "Federal andirons", "Adam brass sconces"]
)
def test_a_name_that_is_also_a_surname_dates_a_thing(text: str) -> None:
    assert [c.side for c in read_dates(text, words=english(), conventions=HOUSE)] == ["date"]


@pytest.mark.parametrize(
    "text", ["Adam Smith, brazier", "George Brown, brazier", "Federal Street", "an ottoman"]
)
def test_a_surname_dates_nothing(text: str) -> None:
    assert read_dates(text, words=english(), conventions=HOUSE) == ()


def test_jacobean_alone_has_two_readings_with_what_would_decide() -> None:
    (claim,) = read_dates("Jacobean candlestick", words=english(), conventions=HOUSE)
    assert isinstance(claim.value, DateValue)
    assert claim.value.years == Years(1603, 1714)
    assert [value.years for value in claim.other if isinstance(value, DateValue)] == [Years(1603, 1625)]
    assert "James I" in claim.told_apart_by


def test_two_figures_after_an_apostrophe_follow_the_year_named_before() -> None:
    _, later = read_dates("a brass pot of 1776, re-tinned '82", words=english(), conventions=HOUSE)
    assert isinstance(later.value, DateValue)
    assert (later.value.years, later.strength) == (Years(1782, 1782), "possible")
    assert [value.years for value in later.other if isinstance(value, DateValue)] == [Years(1882, 1882)]
    assert read_dates("a pot of '82", words=english(), conventions=HOUSE) == ()


def test_the_century_is_the_one_last_spoken_of_or_nothing() -> None:
    text = "A pot of 1760; such pots went on in the second half of the century"
    claims = read_dates(text, words=english(), conventions=HOUSE)
    assert [c.value.years for c in claims if isinstance(c.value, DateValue)][-1] == Years(1751, 1800)
    assert read_dates("second half of the century", words=english(), conventions=HOUSE) == ()
