"""Dates in trade English: circa, reigns, centuries and their parts, decades, ranges, bounds and what happened then.

Holds: one scanner, a grammar written by hand over token classes, and the arithmetic of years. Words and periods are data
in `packs/words/<language>/dates.toml` and `periods.toml`.
May import: `records` and the word book. Start with `reading.py`, then `finding.py`, `stretches.py`, `units.py`.
"""

from planish.reasoning.reading.dates.edtf import read_edtf
from planish.reasoning.reading.dates.reading import DateReading, problems_of, read_date_text, read_dates

__all__ = ["DateReading", "problems_of", "read_date_text", "read_dates", "read_edtf"]
