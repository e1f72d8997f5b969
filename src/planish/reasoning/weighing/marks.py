"""Open-ended use of a mark: recorded first and last dates understate the real window."""

from collections.abc import Sequence

from planish.records import Years


def largest_unbiased(values: Sequence[int]) -> float:
    """Estimate of the true largest serial number from k seen: m + m/k - 1 (unbiased, drawing without replacement)."""
    largest = max(values)
    return largest + largest / len(values) - 1


def largest_expected(values: Sequence[int]) -> float:
    """Mean of the largest serial number given k > 2 seen, flat prior: (m - 1)(k - 1)/(k - 2)."""
    k = len(values)
    if k <= 2:
        raise ValueError("three or more values are needed")
    return (max(values) - 1) * (k - 1) / (k - 2)


def used_window(examples: Sequence[int]) -> Years:
    """Years of a mark's use from k >= 2 dated examples: each open end moved out by range/(k - 1), rounded outwards.

    Raises ValueError for fewer than two examples.
    """
    if len(examples) < 2:
        raise ValueError("two or more dated examples are needed")
    low, high = min(examples), max(examples)
    out = -(-(high - low) // (len(examples) - 1))
    return Years(low - out, high + out)


def used_curve(examples: Sequence[int]) -> tuple[tuple[int, float], ...]:
    """The same as a curve for an evidence item: full height between the examples, fading to nothing at the widened ends."""
    window = used_window(examples)
    low, high = min(examples), max(examples)
    assert window.earliest is not None
    assert window.latest is not None
    fades = [(window.earliest - 1, 0.0), (low, 1.0), (high, 1.0), (window.latest + 1, 0.0)]
    return tuple(dict(fades).items())
