"""Days, months and seasons: the year is what counts, the rest goes into the EDTF."""

from planish.reasoning.reading.dates import kinds as k
from planish.reasoning.reading.dates.dated import Dated
from planish.reasoning.reading.dates.guards import FIRST_YEAR, LAST_YEAR
from planish.reasoning.reading.dates.sheet import Sheet


def ordinal_day(s: Sheet, i: int) -> Dated | None:
    """10th June 1892, the 6th of June, 1892."""
    j = i + 1
    while s.t.kind[j] in (k.FILL, k.DOT) and j < i + 3:
        j += 1
    return _month_year(s, i, j) if s.t.kind[j] == k.MONTH else None


def day_first(s: Sheet, i: int, after: int) -> Dated | None:
    """10 June 1892, 21-Apr-52, 11/1/1930, 8/1959."""
    t = s.t
    if after == k.MONTH:
        return _month_year(s, i, i + 1)
    if t.kind[i + 2] == k.MONTH and after in (k.DASH, k.DOT, k.SLASH):
        return _month_year(s, i, i + 2)
    if t.kind[i + 2] != k.NUM or after not in (k.SLASH, k.DOT, k.DASH) or not t.touching(i + 2):
        return None
    if t.kind[i + 3] == after and t.kind[i + 4] == k.NUM and t.digits[i + 2] <= 2:
        return _final_year(s, i, i + 4) if s.liberal or after == k.SLASH else None
    return _final_year(s, i, i + 2) if s.liberal and after == k.SLASH and 0 < t.value[i] <= 12 else None


def _final_year(s: Sheet, i: int, at: int) -> Dated | None:
    """The year that ends a day written in figures; two figures are read as of the 1900s, and marked uncertain."""
    t = s.t
    year: int = t.value[at]
    if t.digits[at] == 4 and (s.liberal or FIRST_YEAR <= year <= LAST_YEAR):
        return Dated("year", year, year, f"{year:04d}", i, at + 1)
    if t.digits[at] != 2 or not s.liberal:
        return None
    found = Dated("year", 1900 + year, 1900 + year, f"{1900 + year:04d}", i, at + 1)
    found.query = True
    found.settings = ("two-figure years are 1900s",)
    return found


def _month_year(s: Sheet, i: int, month: int) -> Dated | None:
    """A day whose month stands at `month`: the year follows, after a comma, a mark or nothing."""
    t = s.t
    j = month + 1
    while t.kind[j] in (k.COMMA, k.DOT, k.DASH, k.SLASH, k.FILL, k.QUOTE) and j < month + 4:
        j += 1
    if t.kind[j] != k.NUM:
        return None
    if t.digits[j] <= 2 and t.kind[j + 1] == k.MONTH and j < i + _DAYS_REACH:
        return _month_year(s, i, j + 1)
    found = _final_year(s, i, j)
    if found and t.digits[j] == 4:
        found.codes = ((f"{found.lo:04d}-{t.value[month]:02d}", False, False),)
    return found


_DAYS_REACH = 12
"""Tokens of "10 June - 14 July 1752" before the last month, at most."""


def month_first(s: Sheet, i: int, ref: Dated | None, loose: bool) -> Dated | None:
    """June 10, 1892; June 7-9, 1960; May - June 1944; June 1938."""
    del ref, loose
    t = s.t
    j = i + 1
    for _ in range(12):
        kind = t.kind[j] if j < len(t.kind) else k.END
        if kind == k.NUM and t.digits[j] == 4:
            return _month_year(s, i, j - 1) if j == i + 1 else _dated_month(s, i, j)
        if kind == k.NUM and t.digits[j] <= 2:
            if s.liberal and j > i + 1 and t.kind[j + 1] == k.END and t.kind[j - 1] in (k.COMMA, k.QUOTE):
                return _final_year(s, i, j)
        elif kind not in _IN_A_DAY:
            return None
        j += 1
    return None


_IN_A_DAY = frozenset(
    {k.COMMA, k.DOT, k.DASH, k.ORD, k.MONTH, k.AND, k.TO, k.OR, k.SLASH, k.FILL, k.QUERY, k.QUOTE}
)


def _dated_month(s: Sheet, i: int, at: int) -> Dated | None:
    found = _final_year(s, i, at)
    if found:
        found.codes = ((f"{found.lo:04d}-{s.t.value[i]:02d}", False, False),)
    return found


def season(s: Sheet, i: int, ref: Dated | None, loose: bool) -> Dated | None:
    """Spring 1969, Fall/Winter 1991, Winter 1978-79."""
    del ref, loose
    t = s.t
    for j in range(i + 1, i + 5):
        if t.kind[j] == k.NUM and t.digits[j] == 4:
            found = _final_year(s, i, j)
            if found:
                found.codes = ((f"{found.lo:04d}-{t.value[i]}", False, False),)
            return found
        if t.kind[j] not in (k.SEASON, k.SLASH, k.DASH, k.AND, k.COMMA, k.OR, k.FILL, k.MONTH):
            return None
    return None
