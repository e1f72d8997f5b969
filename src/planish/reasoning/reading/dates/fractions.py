"""Parts of a century, of a decade, of a period: early, second quarter, last third, end."""

from collections.abc import Mapping
from functools import lru_cache

from planish.records import Conventions

Part = str | tuple[int, int]
"""A word ("early") or which of how many ((2, 4) is the second quarter; -1 counts from the end)."""

_WHOLE: Mapping[str, tuple[int, int]] = {
    "early": (0, 33),
    "mid": (33, 66),
    "late": (66, 99),
    "beginning": (0, 10),
    "end": (89, 99),
}
"""Hundredths of a span other than a century or a decade. House choice: thirds, and tenths for its ends."""


@lru_cache(maxsize=4096)
def cut(
    lo: int, hi: int, parts: tuple[Part, ...], grain: str, conventions: Conventions
) -> tuple[int, int, tuple[str, ...]]:
    """First and last year of the named parts of `lo` to `hi`, with the settings that were used."""
    bounds = [_one(hi - lo + 1, part, grain, conventions) for part in parts]
    settings = tuple(dict.fromkeys(name for _, _, name in bounds if name))
    return lo + min(first for first, _, _ in bounds), lo + max(last for _, last, _ in bounds), settings


def _one(size: int, part: Part, grain: str, conventions: Conventions) -> tuple[int, int, str]:
    if isinstance(part, tuple):
        which, of = part
        which = min(of, of + 1 + which if which < 0 else which)
        return (which - 1) * size // of, max((which - 1) * size // of, which * size // of - 1), ""
    if grain == "century":
        first, last = _of_century(part, conventions)
        return first, last, f"{part}={first}-{last}"
    if grain == "decade":
        first, last = _of_decade(part, conventions)
        return first, last, f"{part}_decade={first}-{last}"
    first, last = _WHOLE[part]
    return first * size // 100, max(0, (last + 1) * size // 100 - 1), f"{part}={first}-{last}%"


def _of_century(part: str, conventions: Conventions) -> tuple[int, int]:
    table = {
        "early": conventions.early,
        "mid": conventions.mid,
        "late": conventions.late,
        "beginning": conventions.beginning,
        "end": conventions.end,
    }
    return table[part]


def _of_decade(part: str, conventions: Conventions) -> tuple[int, int]:
    if part in ("early", "beginning"):
        return conventions.early_decade
    return conventions.mid_decade if part == "mid" else conventions.late_decade
