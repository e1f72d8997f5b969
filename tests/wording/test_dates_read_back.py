"""Years in the form of the trade read back as exactly the same years, whatever the fair's conventions."""

from hypothesis import given, settings
from hypothesis import strategies as st

from planish.facts.words import english
from planish.reasoning.reading import read
from planish.reasoning.wording import phrase
from planish.reasoning.wording.dating import cut, trade_years
from planish.records import Conventions, DateValue, Years

WORDS = english()
CONVENTIONS = (
    Conventions(),
    Conventions(century_starts_at=0),
    Conventions(circa_years=5, early=(0, 24), mid=(40, 60), late=(75, 99)),
)
FORMS = ({}, {"dates": "c.1760"}, {"dates": "circa 1760"})
YEAR = st.integers(1401, 2020)


@settings(deadline=None)
@given(YEAR, YEAR, st.sampled_from(CONVENTIONS), st.sampled_from(FORMS))
def test_agreed_years_in_words_read_back_as_the_same_years(
    a: int, b: int, conventions: Conventions, form: dict[str, str]
) -> None:
    years = Years(min(a, b), max(a, b))
    said = phrase(DateValue(years=years), side="date", conventions=conventions, form=form)
    claims = read(f"Pewter dish, {said}.", words=WORDS, conventions=conventions).claims
    assert [c.value.years for c in claims if isinstance(c.value, DateValue)] == [years], said


@settings(deadline=None)
@given(YEAR, st.integers(0, 120), st.sampled_from(CONVENTIONS))
def test_trade_years_hold_all_that_was_proposed_and_nothing_beyond_the_rounded_span(
    first: int, width: int, conventions: Conventions
) -> None:
    proposed = Years(first, first + width)
    step = 10 if width > 40 else 5
    rounded = Years(first // step * step, -(-(first + width) // step) * step)
    years = trade_years(proposed, rounded, conventions)
    assert cut(proposed, years) == proposed
    assert cut(years, rounded) == years


def test_half_a_century_is_called_so() -> None:
    years = trade_years(Years(1852, 1899), Years(1850, 1900), Conventions())
    assert phrase(DateValue(years=years), side="date", conventions=Conventions(), form={}) == (
        "second half of the 19th century"
    )
