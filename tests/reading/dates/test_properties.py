"""What holds for any text and any year."""

from hypothesis import given, settings
from hypothesis import strategies as st

from planish.facts.words import english
from planish.reasoning.reading.dates import read_date_text, read_dates, read_edtf
from planish.reasoning.reading.dates.pieces import cut_again, cut_up, lowered
from planish.reasoning.reading.tokens import tokenise
from planish.records import Conventions, DateValue, Years

HOUSE = Conventions()
WORDS = english()
YEAR = st.integers(1501, 1899)
FORMS = [
    "{y}",
    "c. {y}",
    "{y}-{z}",
    "before {y}",
    "after {y}",
    "{y} or later",
    "between {y} and {z}",
    "?{y}",
    "dated {y}",
    "{y} or {z}",
]
PIECES = ["c.", "1760", "-", "18th", "century", "(", "?", ")", "or", "later", "George", "II", "early", "17", "..", ",", "of the", "June",
          "half", "to", "and", "style", "no.", "made", "BC", "s", "/", "'", "turn of the", "copy of a", "after a", "1/4", "¼", "±", "present", "second half", "MDCCLIV", "mark", "E", "converted",
          "portrait of", "later", "with the date", "\"", "X", "interwar", "\u0130", "first"]  # fmt: skip


@given(st.text(max_size=300))
def test_any_text_is_read_without_raising(text: str) -> None:
    for claim in read_dates(text, words=WORDS, conventions=HOUSE):
        assert text[claim.span.start : claim.span.end] == claim.words
    read_date_text(text, words=WORDS, conventions=HOUSE)
    read_edtf(text)


@given(st.lists(st.sampled_from(PIECES), max_size=40), st.sampled_from([" ", ""]))
@settings(max_examples=400)
def test_any_jumble_of_date_words_is_read_without_raising(pieces: list[str], joint: str) -> None:
    text = joint.join(pieces)
    for claim in read_dates(text, words=WORDS, conventions=HOUSE):
        assert text[claim.span.start : claim.span.end] == claim.words
    read_date_text(text, words=WORDS, conventions=HOUSE)


@given(st.text(st.characters(max_codepoint=127), max_size=80) | st.text("aB1 -'._\n", max_size=40))
@settings(max_examples=300)
def test_tokens_of_the_trade_are_cut_again_into_the_pieces_of_dates(text: str) -> None:
    assert cut_again(tokenise(text)) == cut_up(lowered(text))


@given(st.sampled_from(FORMS), YEAR, st.integers(1, 60))
def test_a_hundred_years_later_the_answer_is_a_hundred_years_later(form: str, year: int, width: int) -> None:
    def read(shift: int) -> Years:
        text = form.format(y=year + shift, z=year + shift + width)
        return read_date_text(text, words=WORDS, conventions=HOUSE).years

    now, then = read(0), read(100)
    assert (now.earliest is None, now.latest is None) == (then.earliest is None, then.latest is None)
    assert then == Years(
        None if now.earliest is None else now.earliest + 100, None if now.latest is None else now.latest + 100
    )


@given(st.sampled_from(FORMS), YEAR, st.integers(1, 60))
def test_the_edtf_of_a_claim_reads_back_to_the_years_written(form: str, year: int, width: int) -> None:
    exact = Conventions(circa_years=0, circa_range_years=0)
    text = form.format(y=year, z=year + width)
    (claim,) = read_date_text(text, words=WORDS, conventions=exact).claims
    assert isinstance(claim.value, DateValue)
    assert read_edtf(claim.value.edtf) == claim.value.years


@given(st.sampled_from(FORMS), YEAR, st.integers(1, 60))
def test_a_sentence_added_after_changes_no_earlier_claim(form: str, year: int, width: int) -> None:
    text = "Brass bell, " + form.format(y=year, z=year + width) + "."
    alone = read_dates(text, words=WORDS, conventions=HOUSE)
    longer = read_dates(text + " The clapper is of iron.", words=WORDS, conventions=HOUSE)
    assert alone == longer
    assert alone
