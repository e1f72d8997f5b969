"""Years agreed, in the form of the trade: rounded outwards, cut by hard evidence, and said so that they read back."""

from collections.abc import Iterator

from planish.records import Conventions, Years

PARTS = ((0, 99), (0, 49), (50, 99), (0, 24), (25, 49), (50, 74), (75, 99))
"""A century, its halves, its quarters, as years counted from its first."""


def trade_years(proposed: Years, rounded: Years, conventions: Conventions) -> Years:
    """The widest span with words of its own that holds `proposed` and stays inside `rounded`; else `rounded`.

    1852–1899 rounded to 1850–1900 is the second half of the 19th century: nothing proposed is lost, nothing added.
    """
    fitting = [
        years
        for years in _worded(rounded, conventions)
        if _within(proposed, years) and _within(years, rounded)
    ]
    return max(fitting, key=_width) if fitting else rounded


def _worded(around: Years, conventions: Conventions) -> Iterator[Years]:
    first, last = around.earliest, around.latest
    if first is None or last is None:
        return
    start = conventions.century_starts_at
    for century in range((first - start) // 100 * 100 + start, last + 1, 100):
        for low, high in (*PARTS, conventions.early, conventions.mid, conventions.late):
            yield Years(century + low, century + high)
    for decade in range(first // 10 * 10, last + 1, 10):
        if decade % 100:
            yield Years(decade, decade + 9)
    circa = conventions.circa_years
    for middle in range(-(-first // 5) * 5, last + 1, 5):
        yield Years(middle - circa, middle + circa)


def _within(narrow: Years, wide: Years) -> bool:
    if narrow.earliest is None or narrow.latest is None:
        return False
    return wide.holds(narrow.earliest) and wide.holds(narrow.latest)


def _width(years: Years) -> int:
    return (years.latest or 0) - (years.earliest or 0)


def cut(years: Years, allowed: Years | None) -> Years | None:
    """`years` inside `allowed`; None when nothing is left."""
    if allowed is None:
        return years
    if not years.meets(allowed):
        return None
    starts = [year for year in (years.earliest, allowed.earliest) if year is not None]
    ends = [year for year in (years.latest, allowed.latest) if year is not None]
    return Years(max(starts, default=None), min(ends, default=None))
