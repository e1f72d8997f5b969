"""EDTF read and written by planish, held against the `edtf` package (5.0, MIT) as reference for ISO 8601-2 levels 0 to 2."""

import edtf
from hypothesis import given, settings
from hypothesis import strategies as st

from planish.facts.words import english
from planish.reasoning.reading.dates import read_dates, read_edtf
from planish.records import Conventions, DateValue, Years

WORDS = english()
HOUSE = Conventions()
YEAR = st.integers(1000, 2099)
MARK = st.sampled_from(["", "?", "~", "%"])
MONTH = st.integers(1, 12)


@st.composite
def one_date(draw: st.DrawFn) -> str:
    """A year, a month, or a year with unknown last figures, as levels 0 and 1 write them."""
    year = draw(YEAR)
    form = draw(st.sampled_from(["{y}{m}", "{y}-{mo:02d}{m}", "{d}X{m}", "{c}XX{m}"]))
    return form.format(y=year, d=year // 10, c=year // 100, mo=draw(MONTH), m=draw(MARK))


def by_reference(text: str) -> Years:
    """First and last year that the reference library allows, qualifiers without a width."""
    parsed = edtf.parse_edtf(text)
    return Years(parsed.lower_strict().tm_year, parsed.upper_strict().tm_year)


@settings(deadline=None, max_examples=60)
@given(one_date())
def test_a_date_has_the_years_that_the_reference_gives_it(text: str) -> None:
    assert read_edtf(text) == by_reference(text)


@settings(deadline=None, max_examples=60)
@given(YEAR, st.integers(0, 99), MARK, MARK)
def test_an_interval_has_the_years_that_the_reference_gives_it(
    year: int, width: int, mark: str, other: str
) -> None:
    text = f"{year}{mark}/{min(year + width, 2099)}{other}"
    assert read_edtf(text) == by_reference(text)


@settings(deadline=None, max_examples=60)
@given(st.lists(YEAR, min_size=2, max_size=5, unique=True))
def test_a_set_of_alternatives_has_the_years_that_the_reference_gives_it(years: list[int]) -> None:
    text = "[" + ", ".join(str(year) for year in sorted(years)) + "]"
    parsed = edtf.parse_edtf(text)
    bounds = [(one.lower_strict().tm_year, one.upper_strict().tm_year) for one in parsed.objects]
    assert read_edtf(text) == Years(min(b[0] for b in bounds), max(b[1] for b in bounds))


FORMS = ["{y}", "c. {y}", "{y}?", "c. {y}?", "{y}-{z}", "c. {y}-{z}", "c. {y}-c. {z}", "{y} or {z}", "{d}s", "c. {d}s", "early {d}s",
         "{c}th century", "late {c}th century", "before {y}", "after {y}", "before the {c}th century", "after the {d}s", "by the {d}s",
         "{y} or later", "{d}s and earlier", "June {y}", "12 June {y}", "{y} ± 5", "1{e}?{f}", "{c}th century, second half", "1/4 C{c}",
         "turn of the {c}th century", "from {y} to the present", "dated {y}", "George III", "Edwardian, {y}"]  # fmt: skip


@settings(deadline=None, max_examples=60)
@given(st.sampled_from(FORMS), st.integers(1500, 1899), st.integers(1, 60))
def test_what_planish_writes_the_reference_can_parse(form: str, year: int, width: int) -> None:
    text = form.format(
        y=year,
        z=year + width,
        d=year - year % 10,
        c=year // 100 + 1,
        e=year // 100 % 10,
        f=f"{year % 100:02d}"[:2],
    )
    for claim in read_dates(text, words=WORDS, conventions=HOUSE):
        assert isinstance(claim.value, DateValue)
        edtf.parse_edtf(
            claim.value.edtf.removeprefix("../")
        )  # the library fails on an interval whose start is open
        read = read_edtf(claim.value.edtf)
        assert read is not None, claim.value.edtf
        assert read.meets(claim.value.years)
