"""What may have been missed: two searches compared, a blind sample, and guards for rare faults."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log, sqrt

import numpy as np

from planish.reasoning.trending.rates import none_seen_upper, wilson


@dataclass(frozen=True, slots=True, kw_only=True)
class Missed:
    """Faults estimated from two independent searches, with a 95 % interval of the total.

    `found` by either; `total` Chapman's estimate; `unfound` total less found, with its interval.
    """

    found: int
    total: float
    error: float
    low: float
    high: float
    unfound: float
    unfound_low: float
    unfound_high: float
    sentence: str


def chapman(first: int, second: int, both: int) -> tuple[float, float]:
    """Chapman's estimate (1951) of a total from two searches, and its standard error (Seber 1970).

    `first`, `second` found by each, `both` by both. Raises ValueError when `both` exceeds either.
    """
    if not 0 <= both <= min(first, second):
        raise ValueError("what both found cannot exceed what either found")
    total = (first + 1) * (second + 1) / (both + 1) - 1
    variance = (first + 1) * (second + 1) * (first - both) * (second - both) / ((both + 1) ** 2 * (both + 2))
    return total, sqrt(variance)


def missed(first: int, second: int, both: int, looked: int) -> Missed:
    """Faults that neither of two searches over the same `looked` objects found, with interval and a plain statement.

    Interval: log-normal on the number unfound, so it never falls below what was found (Chao 1987). The searches must
    be blind to each other; faults that are hard for both make the estimate too low, and the sentence says so.
    """
    total, error = chapman(first, second, both)
    found = first + second - both
    unfound = max(0.0, total - found)
    low, high = _log_normal(unfound, error)
    if unfound == 0:
        high = none_seen_upper(looked) * looked
    sentence = (
        f"{found} found; about {unfound:.1f} more may be there ({low:.0f} to {high:.0f}). "
        "If some faults are hard for everyone, more."
    )
    return Missed(
        found=found,
        total=total,
        error=error,
        low=found + low,
        high=found + high,
        unfound=unfound,
        unfound_low=low,
        unfound_high=high,
        sentence=sentence,
    )


def _log_normal(unfound: float, error: float) -> tuple[float, float]:
    if unfound <= 0:
        return 0.0, 0.0
    factor = exp(1.96 * sqrt(log(1 + (error / unfound) ** 2)))
    return unfound / factor, unfound * factor


def clean_audit(sample: int, of: int, found: int = 0) -> str:
    """What a blind second look at `sample` of `of` passed objects allows, in plain words."""
    if sample == 0:
        return "No second look was taken, so nothing can be said about what was missed."
    if found:
        low, high = wilson(found, sample)
        return (
            f"{found} of {sample} looked at again had a fault that was passed: "
            f"between {low * of:.0f} and {high * of:.0f} among all {of}."
        )
    most = none_seen_upper(sample)
    return (
        f"Nothing was found in {sample} looked at again. That still allows up to {100 * most:.1f} % "
        f"with a missed fault: as many as {most * of:.0f} among all {of}."
    )


def blind_sample(objects: Sequence[str], size: int, seed: int) -> tuple[str, ...]:
    """Objects for a blind second look, drawn evenly without replacement; the same seed draws the same, in any order."""
    ordered = sorted(set(objects))
    picks = np.random.default_rng(seed).permutation(len(ordered))[: max(0, size)]
    return tuple(ordered[i] for i in sorted(picks))


@dataclass(frozen=True, slots=True, kw_only=True)
class Hour:
    """One panel's hour: objects looked at and faults found."""

    hour: int
    looked: int
    found: int


def rare_fault_guard(
    hours: Sequence[Hour], *, most_per_hour: int = 150, expected_rate: float
) -> tuple[str, ...]:
    """Hours in which faults may have slipped through: pace above `most_per_hour`, or far fewer finds than expected.

    `expected_rate` 0..1 is the fair's own rate. An hour is named when its finds would be that few less than one time
    in twenty. House default: 150 objects an hour (24 seconds each). Speaks of hours and pace, never of people.
    """
    from scipy.stats import binom

    said = []
    for h in hours:
        if h.looked > most_per_hour:
            said.append(
                f"Hour {h.hour}: {h.looked} objects, faster than {most_per_hour} an hour; look again at some."
            )
        elif h.looked and binom.cdf(h.found, h.looked, expected_rate) < 0.05:
            expected = expected_rate * h.looked
            said.append(
                f"Hour {h.hour}: {h.found} found faulty where about {expected:.1f} were expected; look again at some."
            )
    return tuple(said)
