"""ISO 8601-2 (EDTF) as far as years go: levels 0, 1 and 2 read to the earliest and latest year they allow.

Source: ISO 8601-2:2019 and the Library of Congress page "Extended Date/Time Format (EDTF) Specification" (2019).
Qualifiers (`?`, `~`, `%`) change no year: the standard gives them no width.
"""

import re

from planish.records import Years

_DATE = re.compile(
    r"""(?P<year>Y-?[0-9]+(?:E[0-9]+)?|-?[0-9X]{4})(?:S(?P<digits>[0-9]+))?
        (?:-(?P<month>[0-9X]{2})(?:-(?P<day>[0-9X]{2}))?)?(?:T(?P<time>[0-9:.Z+\-]+))?\Z""",
    re.VERBOSE,
)
_QUALIFIERS = str.maketrans("", "", "?~%")
_LONGEST = 60
_POWER_AT_MOST = 18
_MEMBERS_AT_MOST = 1000


def read_edtf(text: str) -> Years | None:
    """Earliest and latest year of an EDTF string; an open or unknown end is None. None when it is not EDTF.

    Sets (`[..]` one of, `{..}` all of) give the years from their first to their last member.
    """
    text = text.strip()
    if not text or len(text) > _LONGEST * _MEMBERS_AT_MOST:
        return None
    if (text[0], text[-1]) in (("[", "]"), ("{", "}")):
        return _set(text[1:-1])
    if "/" in text:
        first, _, last = text.partition("/")
        return _interval(first, last)
    return _date(text)


def _interval(first: str, last: str) -> Years | None:
    if first in ("", "..") and last in ("", ".."):
        return None
    start = Years() if first in ("", "..") else _date(first)
    end = Years() if last in ("", "..") else _date(last)
    return _joined(start, end)


def _joined(start: Years | None, end: Years | None) -> Years | None:
    if start is None or end is None:
        return None
    if start.earliest is not None and end.latest is not None and start.earliest > end.latest:
        return None
    return Years(start.earliest, end.latest)


def _set(inside: str) -> Years | None:
    members = inside.split(",")
    if len(members) > _MEMBERS_AT_MOST:
        return None
    spans = [_member(member.strip()) for member in members]
    known = [span for span in spans if span is not None]
    if len(known) != len(spans):
        return None
    earliest = [span.earliest for span in known]
    latest = [span.latest for span in known]
    return Years(
        None if None in earliest else min(year for year in earliest if year is not None),
        None if None in latest else max(year for year in latest if year is not None),
    )


def _member(member: str) -> Years | None:
    """One member of a set: a date, or a run of dates (1667..1672, ..1983, 1984..)."""
    first, dots, last = member.partition("..")
    return _interval(first, last) if dots else _date(member)


def _date(text: str) -> Years | None:
    if len(text) > _LONGEST:
        return None
    found = _DATE.match(text.translate(_QUALIFIERS))
    if found is None or not _calendar(found["month"], found["day"]):
        return None
    years = _year(found["year"])
    if years is None or found["digits"] is None:
        return years
    return _significant(years, int(found["digits"][:3]), found["year"])


def _calendar(month: str | None, day: str | None) -> bool:
    """True when month (or season, 21 to 41) and day can be; X stands for any figure."""
    if month is None:
        return True
    if "X" not in month and not (1 <= int(month) <= 12 or (21 <= int(month) <= 41 and day is None)):
        return False
    return day is None or "X" in day or 1 <= int(day) <= 31


def _year(text: str) -> Years | None:
    if text[0] == "Y":
        digits, _, power = text[1:].partition("E")
        if power and int(power) > _POWER_AT_MOST:
            return None
        year = int(digits) * 10 ** int(power or 0)
        return Years(year, year)
    low, high = int(text.replace("X", "0")), int(text.replace("X", "9"))
    if text[0] == "-":
        if low == 0 and high == 0:
            return None
        low, high = high, low
    return Years(low, high)


def _significant(years: Years, digits: int, written: str) -> Years | None:
    """1950S2: the first two figures count, so some year from 1900 to 1999."""
    if years.earliest is None or not digits:
        return None
    year = abs(years.earliest)
    size = max(4, len(str(year))) if written[0] != "Y" else len(str(year))
    step = 10 ** max(0, size - digits)
    low, high = year - year % step, year - year % step + step - 1
    return Years(low, high) if years.earliest >= 0 else Years(-high, -low)
