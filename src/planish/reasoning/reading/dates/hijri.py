"""Years of the Hijra: AH 1250 is 1834 to 1835, because the lunar year begins on another day of the sun's year each time.

Source: the arithmetic (tabular) Islamic calendar of thirty years with eleven leap years, epoch 16 July 622 Julian, as in
Reingold and Dershowitz, "Calendrical Calculations" (from memory). Julian years before 1583, Gregorian after, as printed tables have it.
"""

from datetime import date

from planish.reasoning.reading.dates import kinds as k
from planish.reasoning.reading.dates.dated import Dated, span_code
from planish.reasoning.reading.dates.sheet import Sheet

_EPOCH = 227_015
"""Days from 1 January of the year 1 (Gregorian, counted as day 1) to 1 Muharram of AH 1."""
_REFORM = 577_736
"""15 October 1582, counted in the same way."""
_LAST_YEAR = 1500
SETTING = "AH years by the tabular calendar"


def years_of_hijra(year: int) -> tuple[int, int]:
    """First and last year of our calendar that AH `year` touches, for 1 to 1500."""
    return _year_of_day(_first_day(year)), _year_of_day(_first_day(year + 1) - 1)


def _first_day(year: int) -> int:
    return _EPOCH + 354 * (year - 1) + (3 + 11 * year) // 30


def _year_of_day(day: int) -> int:
    if day < _REFORM:
        return (4 * (day + 1) + 1464) // 1461
    return date.fromordinal(day).year


def hijra_first(s: Sheet, i: int, ref: Dated | None, loose: bool) -> Dated | None:
    """AH 1250, A.H. 1250-55."""
    del ref, loose
    t = s.t
    if t.kind[i + 1] != k.NUM or not 0 < t.value[i + 1] <= _LAST_YEAR:
        return None
    first = last = t.value[i + 1]
    after = i + 2
    if t.kind[after] in (k.DASH, k.SLASH) and t.kind[after + 1] == k.NUM:
        base = 10 ** t.digits[after + 1]
        end = first - first % base + t.value[after + 1]
        if first < end <= first + 100:
            last, after = end, after + 2
    return _dated(first, last, i, after)


def hijra_behind(found: Dated) -> None:
    """1250 AH, 10th century AH: the number read as a year or century was one of the Hijra."""
    if found.grain == "period" or not 0 < found.hi <= _LAST_YEAR or SETTING in found.settings:
        return
    turned = _dated(max(found.lo, 1), found.hi, found.start, found.next)
    found.lo, found.hi, found.wlo, found.whi = turned.lo, turned.hi, turned.wlo, turned.whi
    found.codes, found.settings = turned.codes, turned.settings


def _dated(first: int, last: int, start: int, after: int) -> Dated:
    lo, hi = years_of_hijra(first)[0], years_of_hijra(last)[1]
    found = Dated("year", lo, hi, span_code(lo, hi), start, after)
    found.settings = (SETTING,)
    return found
