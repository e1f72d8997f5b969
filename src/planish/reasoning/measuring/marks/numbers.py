"""Registered design numbers from 1884 and patent numbers, British and American, to the first year they allow."""

import math
import re
from collections.abc import Sequence

from planish.facts.book import FactBook
from planish.reasoning.measuring.figures import place, problem
from planish.reasoning.measuring.marks.striking import belonging, struck
from planish.reasoning.measuring.measured import Measured, Settings, refused, used
from planish.reasoning.measuring.reading_facts import number, text
from planish.records import Fact, Observation, Problem, Years, freeze

GB_LAST_RETRO = 14359
"""Last number of the old English patents, given to them in the mid-1850s."""
GB_NUMBERED_AFTERWARDS = 1853
GB_MOST_A_YEAR = 40000
"""From memory: no year before 1916 had more than about 31,000 applications."""
PATENT = re.compile(
    r"^\s*(?P<series>D(?:ES\.?)?\s*|X\s*)?(?P<number>[\d,. ]*\d)\s*(?:(?:/|OF)\s*(?P<year>\d{2,4}))?\s*$",
    re.I,
)


def measure_registered(
    observation: Observation, book: FactBook, settings: Settings | None = None
) -> Measured:
    """A registered number (Rd No.) from `more["registered"]`: the year it belongs to, or the two at a year's edge."""
    settings = settings or Settings()
    value = whole(observation.more.get("registered"))
    if value is None or value < 1:
        return refused(_no_number(observation, "registered", observation.more.get("registered")))
    rows = _series(book, "uk_design_number", "")
    if not rows:
        return refused(_no_table(observation))
    fact = row_of(value, rows)
    year = int(number(fact, "year") or 0)
    early = edge_year(value, rows, settings)
    last = fact is rows[-1]
    floor = min(year, early if early is not None else year)
    when = f"{year} or later (the table on file ends there)" if last else f"{year}"
    or_else = "" if early is None else f", or {early}: the number lies at the edge of the two"
    sentence = f"Registered number {value} belongs to {when}{or_else}."
    items = struck(
        fact, observation, settings, sentence=sentence, windows=(Years(floor, None),), object_floor=floor,
        more_facts=("ukd-rd-year-reading", "ukd-1884-restart"),
        registered=Years(floor, None if last else max(year, early or year)),
    )  # fmt: skip
    return Measured(
        items=items,
        sentences=(
            sentence,
            belonging(observation, floor),
            "Check the count of digits: one digit misread moves it by years. Registered marks stayed in use long after.",
        ),
        details=freeze(
            {
                "number": value,
                "year": year,
                "edge_year": early,
                "facts": (fact.id,),
                "settings": used(settings, "register_slack", "doubt_mark"),
            }
        ),
    )


def row_of(value: int, rows: Sequence[Fact]) -> Fact:
    """The row whose first number is the greatest not above `value`."""
    return max((r for r in rows if (number(r, "first") or 0) <= value), key=lambda r: number(r, "first") or 0)


def edge_year(value: int, rows: Sequence[Fact], settings: Settings) -> int | None:
    """The neighbouring year a number may belong to when it lies within the slack of a year's edge; None inside."""
    at = rows.index(row_of(value, rows))
    first = number(rows[at], "first") or 0.0
    after = (number(rows[at + 1], "first") or math.inf) if at + 1 < len(rows) else math.inf
    slack = min(settings.register_slack * value, (after - first) / 4 if math.isfinite(after) else math.inf)
    if at > 0 and value - first < slack:
        return int(number(rows[at - 1], "year") or 0)
    if after - value <= slack:
        return int(number(rows[at + 1], "year") or 0)
    return None


def measure_patent(observation: Observation, book: FactBook, settings: Settings | None = None) -> Measured:
    """A patent number from `more["patent"]` ("12345/1890", "D 31,207") and `more["country"]` ("gb" or "us")."""
    settings = settings or Settings()
    country = str(observation.more.get("country", "")).strip().casefold()
    written = str(observation.more.get("patent", ""))
    found = PATENT.match(written)
    if not found or (value := whole(found["number"])) is None or value < 1:
        return refused(_no_number(observation, "patent", written))
    if country in ("gb", "uk", "british", "england"):
        return _british(observation, value, found["year"], book, settings)
    if country in ("us", "usa", "american"):
        return _american(observation, value, (found["series"] or "").strip().upper(), book, settings)
    return refused(
        problem(
            place(observation),
            f"Which country's patent is {written!r}?",
            "Say gb or us: the numbers of the two mean different years.",
            "patent.country",
            found=country,
        )
    )


def _british(
    observation: Observation, value: int, year_text: str | None, book: FactBook, settings: Settings
) -> Measured:
    where = place(observation)
    if year_text is None:
        if value < 100001:
            return refused(
                problem(
                    where,
                    f"British patent {value} without its year means nothing: numbers began again each year until 1915.",
                    f"Give it as {value}/1897, or say what else is struck.",
                    "patent.needs_year",
                    found=str(value),
                )
            )
        return _said_patent(
            observation,
            "gbp-1916-continuous",
            1916,
            f"British patent {value} is of the series that began in 1916 at about 100,001.",
            ("patent-gb.1916",),
            book,
            settings,
        )
    year = full_year(year_text)
    if not settings.grid_first <= year <= settings.grid_last:
        return refused(
            problem(
                where,
                f"The year {year} is outside {settings.grid_first} to {settings.grid_last}.",
                "Read the year again.",
                "year.outside",
                found=year_text,
            )
        )
    if 1617 <= year <= 1852 and value <= GB_LAST_RETRO:
        return _said_patent(
            observation, "gbp-pre1852-numbers-retro", GB_NUMBERED_AFTERWARDS,
            f"Patents before October 1852 had no numbers when granted: an object that quotes {value} of {year} was marked "
            f"after about {GB_NUMBERED_AFTERWARDS}.", (), book, settings,
        )  # fmt: skip
    if not 1852 <= year <= 1915 or value > GB_MOST_A_YEAR:
        return refused(
            problem(
                where,
                f"No British patent {value} of {year} is possible: a number with its own year belongs to 1852 to 1915, below {GB_MOST_A_YEAR}.",
                "Read number and year again.",
                "patent.impossible",
                found=f"{value}/{year}",
            )
        )
    return _said_patent(
        observation,
        "gbp-1852-1915-annual",
        year,
        f"British patent {value} of {year}.",
        (),
        book,
        settings,
        only=year,
    )


def _american(
    observation: Observation, value: int, series: str, book: FactBook, settings: Settings
) -> Measured:
    if series.startswith("X"):
        return _said_patent(
            observation, "usp-x-series", 1836,
            f"X{value} is a number given long afterwards to a patent of before July 1836: the mark is later than 1836.", (), book, settings,
        )  # fmt: skip
    kind = "design" if series.startswith("D") else "utility"
    rows = _series(book, "patent_year_us", kind)
    if not rows:
        return refused(_no_table(observation))
    fact = row_of(value, rows)
    year = int(number(fact, "year") or 0)
    last = fact is rows[-1]
    when = f"{year} or later (the table on file ends there)" if last else str(year)
    remembered = " The first number of that year is from memory." if fact.verified == "memory" else ""
    floor = 1842 if kind == "design" and year == 1843 else year
    sentence = f"US {kind} patent {value} issued in {when}.{remembered}"
    return _said_patent(
        observation,
        fact.id,
        floor,
        sentence,
        ("usp-design-series" if kind == "design" else "usp-1836",),
        book,
        settings,
        only=None if last else year,
    )


def _said_patent(
    observation: Observation,
    fact_id: str,
    floor: int,
    sentence: str,
    more_facts: tuple[str, ...],
    book: FactBook,
    settings: Settings,
    only: int | None = None,
) -> Measured:
    fact = book.look(fact_id).fact
    if fact is None:
        return refused(_no_table(observation))
    items = struck(
        fact, observation, settings, sentence=sentence, windows=(Years(floor, None),), object_floor=floor,
        more_facts=more_facts, registered=None if only is None else Years(min(floor, only), only),
    )  # fmt: skip
    return Measured(
        items=items,
        sentences=(
            sentence,
            belonging(observation, floor),
            "A patent date is not a date of making: the mark stayed on goods after the patent had run out.",
        ),
        details=freeze(
            {"not_before": floor, "facts": (fact.id, *more_facts), "settings": used(settings, "doubt_mark")}
        ),
    )


def full_year(written: str) -> int:
    """ "1890" as it is, "90" as 1890 and "08" as 1908: two digits are of 1852 to 1915."""
    year = int(written)
    return year if len(written) > 2 else 1900 + year if year <= 15 else 1800 + year


def whole(value: object) -> int | None:
    """A whole number from 412211, "412,211" or "412 211"; None for anything else."""
    if isinstance(value, bool):
        return None
    if isinstance(value, int):
        return value
    text_value = re.sub(r"[ ,.]", "", value) if isinstance(value, str) else ""
    return int(text_value) if text_value.isascii() and text_value.isdigit() else None


def _series(book: FactBook, family: str, series: str) -> tuple[Fact, ...]:
    rows = (f for f in book.family(family) if not series or text(f, "series") == series)
    return tuple(sorted(rows, key=lambda f: number(f, "first") or 0.0))


def _no_number(observation: Observation, kind: str, found: object) -> Problem:
    return problem(
        place(observation), f"{found!r} is no {kind} number.", "Write the figures as struck, such as 412211.",
        f"{kind}.number", found=str(found),
    )  # fmt: skip


def _no_table(observation: Observation) -> Problem:
    return problem(
        place(observation),
        "The table for this number is not on file.",
        "Add it to the fact pack.",
        "mark.no_table",
    )
