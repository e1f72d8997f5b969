"""One evidence item as a likelihood over years, and how dependent items are tempered."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from planish.records import EvidenceItem, Years

Row = npt.NDArray[np.float64]
Rows = npt.NDArray[np.float64]

NOTHING = 1e-300
"""Stands for nothing before a logarithm is taken: far below any likelihood, yet finite, so that sums stay orderly."""


def grid(first: int, last: int) -> Row:
    """The years of the grid as numbers, both ends included."""
    return np.arange(first, last + 1, dtype=np.float64)


def shape(item: EvidenceItem, first: int, last: int) -> Row:
    """How often the feature would be seen on things of each year, up to a factor: windows give 0 or 1, a curve its height.

    Years outside every window, or beyond the ends of the curve, get 0.
    """
    if item.windows:
        return window_shape(item.windows, first, last)
    if not item.curve:
        return np.zeros(last - first + 1)
    points = sorted(item.curve)
    years, heights = zip(*points, strict=True)
    row: Row = np.interp(grid(first, last), years, heights, left=0.0, right=0.0)
    return row


def window_shape(windows: Sequence[Years], first: int, last: int) -> Row:
    """1 in the years of a union of windows, 0 elsewhere."""
    row = np.zeros(last - first + 1)
    for window in windows:
        low = 0 if window.earliest is None else max(0, window.earliest - first)
        high = last - first if window.latest is None else min(last, window.latest) - first
        if low <= high:
            row[low : high + 1] = 1.0
    return row


def mixture(heights: Row, doubt: float, prior: Row) -> Row:
    """L(y) = (1 - doubt) f(y)/F + doubt with F = sum prior f, so that one item alone has evidence 1.

    Raises ZeroDivisionError when f is zero wherever the prior is not: refuse such an item first.
    """
    mass = float(prior @ heights)
    if mass <= 0.0:
        raise ZeroDivisionError("the item is zero in every year of the grid")
    return (1.0 - doubt) * heights / mass + doubt


def tempers(items: Sequence[EvidenceItem], rho: float | None = None) -> Row:
    """Exponent of each item: 1/(1 + (m - 1) rho) for m items of one group; 1 for an item without a group.

    rho 1: the group counts once; 0: its items are independent. The largest `within_group` of the group is used unless
    `rho` is given.
    """
    sizes: dict[str, int] = {}
    together: dict[str, float] = {}
    for item in items:
        if item.group:
            sizes[item.group] = sizes.get(item.group, 0) + 1
            together[item.group] = max(together.get(item.group, 0.0), item.within_group)
    return np.array([_temper(item, sizes, together, rho) for item in items])


def _temper(
    item: EvidenceItem, sizes: dict[str, int], together: dict[str, float], rho: float | None
) -> float:
    if not item.group:
        return 1.0
    correlation = together[item.group] if rho is None else rho
    return 1.0 / (1.0 + (sizes[item.group] - 1) * correlation)


def tempers_without_each(items: Sequence[EvidenceItem], rho: float | None = None) -> Rows:
    """Row 0: exponents with all items. Row i + 1: the same without item i, whose own exponent is then 0."""
    full = tempers(items, rho)
    rows = np.tile(full, (len(items) + 1, 1))
    for i, item in enumerate(items):
        if item.group:
            rest = [other for j, other in enumerate(items) if j != i]
            rows[i + 1] = np.insert(tempers(rest, rho), i, 0.0)
        rows[i + 1, i] = 0.0
    return rows


def logarithms(rows: Rows) -> Rows:
    """Natural logarithms, with nothing as the logarithm of `NOTHING`."""
    floored = np.maximum(rows, NOTHING)
    out: Rows = np.log(floored, out=floored)
    return out
