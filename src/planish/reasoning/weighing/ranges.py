"""Bands in words, shortest ranges with their humps, and rounding that promises no more than is known."""

import math

import numpy as np

from planish.reasoning.weighing.likelihood import Row
from planish.records import Years

BANDS: tuple[tuple[float, str], ...] = (
    (0.05, "hardly possible (under 5 %)"),
    (0.20, "unlikely (5–20 %)"),
    (0.40, "rather unlikely (20–40 %)"),
    (0.60, "open (40–60 %)"),
    (0.80, "rather likely (60–80 %)"),
    (0.95, "likely (80–95 %)"),
)
TOP_BAND = "very likely (over 95 %)"
_HUMP_GAP = 5  # years; a dip shorter than this inside a range is not called a hump


def step_of(probability: float) -> int:
    """Number of the band, 0 to 6. The lower edge belongs to the band, the upper does not; rounded last (9 places)."""
    p = round(probability, 9)
    return next((i for i, (edge, _) in enumerate(BANDS) if p < edge), len(BANDS))


def band(probability: float) -> str:
    """The band in words. Full numbers stay in the record."""
    step = step_of(probability)
    return BANDS[step][1] if step < len(BANDS) else TOP_BAND


def shortest_ranges(chances: Row, share: float, first: int) -> tuple[Years, ...]:
    """The fewest years that hold at least `share` of the chance, as spans; several spans are humps.

    Equal years are taken from the middle of the distribution outwards. Dips shorter than five years are bridged.
    """
    total = float(chances.sum())
    if total <= 0.0:
        return ()
    years = np.arange(len(chances))
    middle = float(np.searchsorted(np.cumsum(chances), total / 2.0))
    heights = np.round(chances / float(chances.max()), 9)
    order = np.lexsort((years, np.abs(years - middle), -heights))
    needed = int(np.searchsorted(np.cumsum(chances[order]), share * total - 1e-12)) + 1
    kept = np.sort(order[:needed])
    breaks = np.flatnonzero(np.diff(kept) > _HUMP_GAP)
    starts = np.concatenate(([0], breaks + 1))
    ends = np.concatenate((breaks, [len(kept) - 1]))
    return tuple(Years(first + int(kept[a]), first + int(kept[b])) for a, b in zip(starts, ends, strict=True))


def width_of(ranges: tuple[Years, ...]) -> int:
    """Years inside the ranges, ends included."""
    return sum((r.latest or 0) - (r.earliest or 0) + 1 for r in ranges)


def rounded_out(years: Years) -> Years:
    """Ends rounded outwards to 5 years when the span is wider than 20 years; untouched otherwise."""
    if years.earliest is None or years.latest is None or years.latest - years.earliest + 1 <= 20:
        return years
    return Years(math.floor(years.earliest / 5) * 5, math.ceil(years.latest / 5) * 5)


def rounded_for_label(years: Years) -> Years:
    """Ends rounded outwards to 5 years, to 10 when the span is wider than 40: for a date that goes on a label."""
    if years.earliest is None or years.latest is None:
        return years
    step = 10 if years.latest - years.earliest + 1 > 40 else 5
    return Years(math.floor(years.earliest / step) * step, math.ceil(years.latest / step) * step)


def words_for(ranges: tuple[Years, ...]) -> str:
    """Ranges for a sentence, rounded outwards: "1725–1760", or "1725–1760 or 1840–1900" when there are humps."""
    return " or ".join(_span(rounded_out(r)) for r in ranges) or "no year"


def _span(years: Years) -> str:
    return str(years.earliest) if years.earliest == years.latest else f"{years.earliest}–{years.latest}"
