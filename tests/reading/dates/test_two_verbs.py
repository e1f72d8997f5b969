"""The two verbs of the date reader, called as the rest of the label reader calls them."""

from planish.facts.words import english
from planish.reasoning.reading.dates import read_date_text, read_dates
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
