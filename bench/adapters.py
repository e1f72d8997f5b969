"""The date reader as benchmarks call it: one text to (earliest, latest), under the conventions of museum records."""

from dataclasses import replace

from planish.facts.words import english
from planish.reasoning.reading.dates import read_date_text
from planish.records import Conventions

WORDS = english()
MUSEUM = replace(
    Conventions(),
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
"""Museum records date the work, count centuries from the round year, and mostly leave circa unpadded."""


def museum_years(text: str, conventions: Conventions = MUSEUM) -> tuple[int | None, int | None] | None:
    """Earliest and latest year of the making, None when the text dates nothing."""
    years = read_date_text(text, words=WORDS, conventions=conventions).years
    return None if years.earliest is None and years.latest is None else (years.earliest, years.latest)
