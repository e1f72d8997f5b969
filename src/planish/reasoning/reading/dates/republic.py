"""Years of the French Republic: "An VIII" runs over 1799 and 1800, because its years began in September.

Source: the decree of 5 October 1793 counts from 22 September 1792; the calendar ended on 1 January 1806 (from memory).
"""

from planish.reasoning.reading.dates.dated import Dated, span_code
from planish.reasoning.reading.dates.sheet import Sheet

_BEFORE_THE_FIRST = 1791
_LAST = 1805
SETTING = "years of the French Republic"


def years_of_republic(year: int) -> tuple[int, int]:
    """First and last year of our calendar that year `year` of the Republic touches, for 1 to 14."""
    first = _BEFORE_THE_FIRST + year
    return first, min(first + 1, _LAST)


def republic_year(s: Sheet, i: int, ref: Dated | None, loose: bool) -> Dated:
    """The year that the scan found at token `i`."""
    del ref, loose
    lo, hi = years_of_republic(s.t.value[i])
    found = Dated("year", lo, hi, span_code(lo, hi), i, i + 1)
    found.settings = (SETTING,)
    return found
