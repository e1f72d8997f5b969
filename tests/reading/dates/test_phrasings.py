"""Several hundred phrasings of date fields from `phrasings.toml`; a specialist adds one there in a line."""

import tomllib
from dataclasses import replace
from pathlib import Path

import pytest

from planish.facts.words import english
from planish.reasoning.reading.dates import read_date_text, read_dates
from planish.reasoning.reading.dates.hijri import years_of_hijra
from planish.records import Conventions, Reading, Years

SECTIONS = tomllib.loads((Path(__file__).parent / "phrasings.toml").read_text(encoding="utf-8"))
LABELS = SECTIONS.pop("labels")["says"]
CASES = [(text, says) for section in SECTIONS.values() for text, says in section["says"].items()]
ROUND = Conventions(
    circa_years=0,
    circa_range_years=0,
    circa_decade_years=0,
    circa_century_years=0,
    century_starts_at=0,
    early=(0, 25),
    mid=(25, 75),
    late=(75, 99),
    early_decade=(0, 5),
    mid_decade=(4, 7),
    late_decade=(5, 9),
    dates_of="work",
)


def _years(says: str) -> Years:
    first, _, last = says.partition("/")
    ends = [None if end in ("", "..") else int(end) for end in (first, last or first)]
    return Years(*ends)


@pytest.mark.parametrize(("text", "says"), CASES, ids=[text for text, _ in CASES])
def test_a_date_field_says_its_years(text: str, says: str) -> None:
    assert read_date_text(text, words=english(), conventions=ROUND).years == _years(says)


@pytest.mark.parametrize(("text", "says"), LABELS.items(), ids=LABELS)
def test_a_label_says_its_years(text: str, says: str) -> None:
    house = replace(ROUND, dates_of="object")
    claims = read_dates(text, words=english(), conventions=house)
    assert Reading(text=text, claims=claims, conventions=house).years == _years(says)


def test_every_section_names_its_basis() -> None:
    assert all(section["basis"] for section in SECTIONS.values())


@pytest.mark.parametrize(
    ("hijra", "ours"),
    [(1, (622, 623)), (1000, (1591, 1592)), (1250, (1834, 1835)), (1300, (1882, 1883)), (1400, (1979, 1980))],
)
def test_years_of_the_hijra_against_printed_tables(hijra: int, ours: tuple[int, int]) -> None:
    """First days in the tables: 16 July 622, 19 October 1591, 10 May 1834, 12 November 1882, 21 November 1979 (from memory)."""
    assert years_of_hijra(hijra) == ours
