"""Sets of years as one whole number: bit i stands for year `first + i`. Exact, and quick enough for a whole fair."""

import itertools
from collections.abc import Iterable, Mapping

from planish.records import EvidenceItem, Years

FIRST_YEAR = 1400
LAST_YEAR = 2030


def mask_of(windows: Iterable[Years], first: int = FIRST_YEAR, last: int = LAST_YEAR) -> int:
    """Years of a union of windows that lie on the grid; 0 when none does."""
    mask = 0
    for window in windows:
        low = first if window.earliest is None else max(first, window.earliest)
        high = last if window.latest is None else min(last, window.latest)
        if low <= high:
            mask |= ((1 << (high - low + 1)) - 1) << (low - first)
    return mask


def spans_of(mask: int, first: int = FIRST_YEAR) -> tuple[Years, ...]:
    """The same set as windows, earliest first."""
    spans: list[Years] = []
    while mask:
        low = (mask & -mask).bit_length() - 1
        run = mask >> low
        length = (~run & (run + 1)).bit_length() - 1
        spans.append(Years(first + low, first + low + length - 1))
        mask &= ~(((1 << length) - 1) << low)
    return tuple(spans)


def years_allowed(item: EvidenceItem, first: int = FIRST_YEAR, last: int = LAST_YEAR) -> int:
    """Years an item leaves open if it tells the truth: its windows, or the years where its curve is above zero."""
    if item.windows:
        return mask_of(item.windows, first, last)
    points = sorted(item.curve)
    spans = [Years(a, b) for (a, fa), (b, fb) in itertools.pairwise(points) if fa > 0 or fb > 0]
    mask = mask_of(spans, first, last)
    for year, height in points:  # a corner at zero is not itself allowed
        if height <= 0 and first <= year <= last:
            mask &= ~(1 << (year - first))
        elif height > 0 and first <= year <= last:
            mask |= 1 << (year - first)
    return mask


def is_one_span(mask: int) -> bool:
    """True when the years form one unbroken, non-empty span."""
    if not mask:
        return False
    run = mask >> ((mask & -mask).bit_length() - 1)
    return run & (run + 1) == 0


def lowest(mask: int) -> int:
    """Index of the earliest year in a non-empty set."""
    return (mask & -mask).bit_length() - 1


def highest(mask: int) -> int:
    """Index of the latest year in a non-empty set."""
    return mask.bit_length() - 1


Place = tuple[str, str]
"""A part and an event of it; all words for making count as "made"."""

Masks = Mapping[Place, int]
