"""Marks: diamonds by both layouts and every published exception, numbers, patents, words."""

import calendar

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planish.facts.book import FactBook
from planish.facts.loading import load
from planish.reasoning.measuring.marks.diamonds import Diamond, decode
from planish.reasoning.measuring.marks.wording import found_in, normal, windows_of
from planish.records import Years

from .conftest import Look

FIRST = "XHCAIFUSVPDYJELKBMZROGNWQT"
"""Year letters 1842-67 in order: The National Archives, diamond-mark leaflet, section 4."""
SECOND = "XHCAIFUSVPDYJELK"
"""Year letters 1868-83 in order: Antique Metalware Society, Registered Designs, key table."""
MONTHS = "CGWHEMIRDBKA"


def _diamond(book: FactBook, **corners: str) -> Diamond:
    read = decode({k: str(v) for k, v in corners.items()}, book, "test")
    assert isinstance(read, Diamond), read
    return read


@pytest.mark.parametrize("place", range(26))
def test_every_year_letter_of_the_first_layout(book: FactBook, place: int) -> None:
    read = _diamond(book, circle="I", top=FIRST[place], right="12", bottom="3", left="H")
    assert (read.form, read.year, read.months, read.day, read.parcel) == (1, 1842 + place, (4,), 12, 3)


@pytest.mark.parametrize("place", range(16))
def test_every_year_letter_of_the_second_layout(book: FactBook, place: int) -> None:
    read = _diamond(book, circle="I", top="12", right=SECOND[place], bottom="H", left="3")
    assert (read.form, read.year, read.months, read.day, read.parcel) == (2, 1868 + place, (4,), 12, 3)


@pytest.mark.parametrize("month", range(12))
def test_every_month_letter(book: FactBook, month: int) -> None:
    assert _diamond(book, top="P", right="5", bottom="1", left=MONTHS[month]).months == (month + 1,)


# Exceptions: Porcelain Marks & More, British Registration Marks; English pottery dating blog.
def test_in_1857_r_is_august_or_the_first_nineteen_days_of_september(book: FactBook) -> None:
    assert _diamond(book, top="K", right="19", bottom="1", left="R").months == (8, 9)
    assert _diamond(book, top="K", right="20", bottom="1", left="R").months == (8,)
    assert _diamond(book, top="B", right="19", bottom="1", left="R").months == (8,)


def test_in_1860_k_is_november_or_december(book: FactBook) -> None:
    assert _diamond(book, top="Z", right="4", bottom="1", left="K").months == (11, 12)
    assert _diamond(book, top="Z", right="31", bottom="1", left="K").months == (12,)
    assert _diamond(book, top="R", right="4", bottom="1", left="K").months == (11,)


def test_w_with_g_is_the_first_week_of_march_1878_and_nothing_else_is(book: FactBook) -> None:
    read = _diamond(book, top="4", right="W", bottom="G", left="2")
    assert (read.year, read.months, read.day) == (1878, (3,), 4)
    for corners in ({"top": "7", "bottom": "G"}, {"top": "4", "bottom": "W"}):
        assert not isinstance(decode({**corners, "right": "W", "left": "2"}, book, "test"), Diamond)


def test_o_for_january_is_taken_with_a_word_of_warning(book: FactBook) -> None:
    read = _diamond(book, top="P", right="5", bottom="1", left="O")
    assert read.months == (1,)
    assert any("one list only" in note for note in read.notes)


@pytest.mark.parametrize(
    ("corners", "code"),
    [
        ({"top": "5", "right": "B", "bottom": "C", "left": "1"}, "diamond.year_letter"),
        ({"top": "P", "right": "5", "bottom": "1", "left": "Q"}, "diamond.month_letter"),
        ({"top": "P", "right": "31", "bottom": "1", "left": "G"}, "diamond.day"),
        ({"top": "P", "right": "0", "bottom": "1", "left": "C"}, "diamond.day"),
        ({"top": "P", "right": "5", "bottom": "B", "left": "C"}, "diamond.parcel"),
        ({"top": "P", "right": "X", "bottom": "1", "left": "C"}, "diamond.layout"),
        ({"top": "3", "right": "5", "bottom": "1", "left": "C"}, "diamond.layout"),
        ({}, "diamond.layout"),
        ({"circle": "XIV", "top": "P", "right": "5", "bottom": "1", "left": "C"}, "diamond.class"),
    ],
)  # fmt: skip
def test_a_diamond_that_cannot_be_is_a_problem_and_no_number(
    look: Look, corners: dict[str, str], code: str
) -> None:
    found = look("mark", more={"diamond": corners})
    assert [p.code for p in found.problems] == [code]
    assert (found.items, found.sentences) == ((), ())


@given(
    year=st.integers(1842, 1883), month=st.integers(1, 12), day=st.integers(1, 31), parcel=st.integers(1, 20)
)
def test_a_diamond_written_for_a_date_reads_back_as_that_date(
    year: int, month: int, day: int, parcel: int
) -> None:
    book = load("metalware")[0]
    day = min(day, calendar.monthrange(year, month)[1])
    letter, month_letter = (FIRST[year - 1842] if year < 1868 else SECOND[year - 1868]), MONTHS[month - 1]
    corners = (
        {"top": letter, "right": str(day), "bottom": str(parcel), "left": month_letter}
        if year < 1868
        else {"top": str(day), "right": letter, "bottom": month_letter, "left": str(parcel)}
    )
    read = _diamond(book, circle="I", **corners)
    assert (read.year, read.day, read.parcel) == (year, day, parcel)
    assert month in read.months


def test_a_mark_bounds_the_object_only_when_it_is_said_to_be_original(look: Look) -> None:
    corners = {"circle": "I", "top": "P", "right": "5", "bottom": "1", "left": "C"}
    for original in (None, False):
        found = look("mark", more={"diamond": corners}, original=original)
        assert {i.event for i in found.items} == {"mark_struck"}
    found = look("mark", more={"diamond": corners}, original=True)
    (body,) = [i for i in found.items if i.event == "body_made"]
    assert (body.windows, body.binding) == ((Years(1851, None),), True)
    (part,) = [
        i
        for i in look("mark", more={"diamond": corners}, original=True, part="lid").items
        if i.event == "part_made"
    ]
    assert part.part == "lid"


@pytest.mark.parametrize(
    ("number", "year"),
    # A. Whitton, Registered numbers from 1884 to 1965, first number of each year.
    [("1", 1884), ("412211", 1903), ("141273", 1889), ("150,000", 1890), ("331 800", 1898), ("700000", 1923)],
)
def test_a_registered_number_gives_its_first_possible_year(look: Look, number: str, year: int) -> None:
    found = look("mark", more={"registered": number})
    struck = next(i for i in found.items if i.event == "mark_struck")
    assert struck.windows == (Years(year, None),)


def test_a_number_beyond_the_table_is_that_year_or_later(look: Look) -> None:
    found = look("mark", more={"registered": 950000}, original=True)
    registered = next(i for i in found.items if i.event == "registered")
    assert registered.windows == (Years(1965, None),)


@pytest.mark.parametrize(
    ("country", "number", "year"),
    [
        ("gb", "12345/1890", 1890),
        ("gb", "1234 of 1897", 1897),
        ("gb", "1234/08", 1908),
        ("gb", "245678", 1916),
        ("us", "1,000,000", 1911),  # USPTO, Milestones: 8 August 1911
        ("us", "2000000", 1935),  # USPTO, Milestones: 30 April 1935
        ("us", "821393", 1906),  # issued 22 May 1906
        ("us", "1", 1836),  # USPTO, Milestones: 13 July 1836
        ("us", "D 140,435", 1945),  # issued 27 February 1945
    ],
)
def test_a_patent_number_gives_its_year(look: Look, country: str, number: str, year: int) -> None:
    found = look("mark", more={"patent": number, "country": country})
    assert not found.problems
    struck = next(i for i in found.items if i.event == "mark_struck")
    assert struck.windows == (Years(year, None),)


def test_a_number_given_afterwards_to_an_old_patent_is_a_late_mark(look: Look) -> None:
    struck = next(
        i
        for i in look("mark", more={"patent": "913/1769", "country": "gb"}).items
        if i.event == "mark_struck"
    )
    assert struck.windows == (Years(1853, None),)


@pytest.mark.parametrize(
    ("more", "code"),
    [
        ({"patent": "12345", "country": "gb"}, "patent.needs_year"),
        ({"patent": "12345/1920", "country": "gb"}, "patent.impossible"),
        ({"patent": "99999/1890", "country": "gb"}, "patent.impossible"),
        ({"patent": "9000/2100", "country": "gb"}, "year.outside"),
        ({"patent": "12345/1890"}, "patent.country"),
        ({"patent": "pending", "country": "us"}, "patent.number"),
        ({"registered": "-5"}, "registered.number"),
        ({"registered": 0}, "registered.number"),
        ({"registered": float("nan")}, "registered.number"),
    ],
)
def test_a_number_that_cannot_be_is_a_problem(look: Look, more: dict[str, object], code: str) -> None:
    found = look("mark", more=more)
    assert [p.code for p in found.problems] == [code]
    assert found.items == ()


@pytest.mark.parametrize(
    ("words", "windows"),
    [
        ("WEST GERMANY", (Years(1949, 1990),)),
        ("Made in Occupied Japan", (Years(1947, 1952),)),
        ("E.P.N.S.", (Years(1840, None),)),
        ("VR 49", (Years(1878, 1901),)),
        ("crowned X", (Years(1680, None),)),
        ("GERMAN DEMOCRATIC REPUBLIC", (Years(1949, 1990),)),
        ("Regd Trade Mark; Registered Trade Mark", (Years(1876, None),)),
        ("IRISH FREE STATE", (Years(1922, 1937),)),
    ],
)
def test_words_of_a_mark_bound_its_striking(look: Look, words: str, windows: tuple[Years, ...]) -> None:
    found = look("mark", words=words)
    assert windows in [i.windows for i in found.items if i.event == "mark_struck"]
    assert {i.event for i in found.items} == {"mark_struck"}


def test_a_shorter_country_inside_a_longer_one_is_not_counted_again(book: FactBook) -> None:
    assert {hit.wording for hit in found_in("West Germany", book)} == {"WEST GERMANY"}
    assert "SCOTLAND" not in {hit.wording for hit in found_in("Scotlandville works", book)}


def test_words_of_pewter_alone_are_passed_over_on_brass(book: FactBook) -> None:
    assert "pew-made-in-england-1909" in {h.fact.id for h in found_in("MADE IN ENGLAND", book, "pewter")}
    assert "pew-made-in-england-1909" not in {h.fact.id for h in found_in("MADE IN ENGLAND", book, "brass")}


def test_a_verification_stamp_never_bounds_the_vessel(look: Look) -> None:
    found = look("mark", words="VR 49", original=True)
    assert {i.event for i in found.items} == {"mark_struck"}
    assert any("vessel may be older" in s for s in found.sentences)


def test_rows_of_small_shields_take_the_doubt_of_marks_without_meaning(look: Look) -> None:
    (item,) = look("mark", words="pseudo-hallmarks").items
    assert item.doubt == 0.5


def test_the_widest_published_reading_is_taken_for_a_floor(book: FactBook) -> None:
    fact = book.look("made-in-rule").fact
    assert fact is not None
    assert windows_of(fact) == (Years(1887, None),)


def test_stops_and_spaces_in_a_mark_do_not_hide_it() -> None:
    assert normal(" e.p.n.s ") == normal("EPNS") == "EPNS"
