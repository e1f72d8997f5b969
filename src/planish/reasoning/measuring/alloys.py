"""Which alloy classes a reading fits, ranked by likelihood.

A class is a range for each metal it names. Inside a range every content is taken as equally likely, so a narrow class
that fits says more than a wide one; the reading scatters about the truth as a bell curve. A metal the class does not
name may be there up to the impurity setting; one the instrument did not report is not counted against the class.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from planish.facts.book import FactBook
from planish.reasoning.measuring.elements import LIGHT, called
from planish.reasoning.measuring.figures import between
from planish.reasoning.measuring.measured import Settings
from planish.reasoning.measuring.reading_facts import name_of, ranges, text
from planish.records import Fact, Quantity

FAR = 2.5
"""Standard uncertainties outside a range at which a class no longer fits."""
FAINTEST = 1e-12
MAJOR = 5.0
"""wt% from which a metal a class needs must have been reported by the instrument."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassFit:
    """One class against one reading. `log_likelihood` ranks; `furthest` is the worst metal, in standard uncertainties
    outside the range, `wide_of` which one and by how much (wt%, signed), `compared` how many metals were compared."""

    alloy: Fact
    fits: bool
    log_likelihood: float
    furthest: float
    wide_of: str
    wide_by: float
    compared: int

    @property
    def name(self) -> str:
        """What the trade calls the class."""
        return name_of(self.alloy)

    @property
    def misfit_in_words(self) -> str:
        """ "zinc 3.1 points above the range"; "" when it fits exactly."""
        if not self.wide_of or self.furthest <= 0:
            return ""
        return f"{called(self.wide_of)} {abs(self.wide_by):.1f} points {'above' if self.wide_by > 0 else 'below'} the range"


def rank(reading: Mapping[str, Quantity], book: FactBook, settings: Settings) -> tuple[ClassFit, ...]:
    """Every class on file, best first: classes that fit by likelihood, then the rest by how far they miss."""
    fits = [fit for alloy in book.family("alloy") if (fit := against(reading, alloy, settings)) is not None]
    return tuple(
        sorted(fits, key=lambda f: (not f.fits, -f.log_likelihood if f.fits else f.furthest, f.alloy.id))
    )


def class_ranges(alloy: Fact) -> dict[str, tuple[float, float]]:
    """Ranges of a class, wt%, with the balance metal worked out from the others."""
    limits = ranges(alloy, "composition")
    balance = text(alloy, "balance") or ("Fe" if alloy.id.startswith("alloy.iron.") else "")
    if balance and balance not in limits:
        low = 100.0 - math.fsum(high for _, high in limits.values())
        high = 100.0 - math.fsum(low_ for low_, _ in limits.values())
        limits[balance] = (max(0.0, low), min(100.0, high))
    return limits


def against(reading: Mapping[str, Quantity], alloy: Fact, settings: Settings) -> ClassFit | None:
    """One class against one reading; None when nothing can be compared or a main metal of the class was not reported."""
    limits = class_ranges(alloy)
    if any(
        low >= MAJOR and metal not in reading and metal not in LIGHT for metal, (low, _) in limits.items()
    ):
        return None
    pairs = [(metal, reading[metal], *_limits(metal, limits, alloy, settings)) for metal in sorted(reading)]
    if not any(metal in limits for metal, *_ in pairs):
        return None
    total, furthest, wide_of, wide_by = 0.0, 0.0, "", 0.0
    for metal, quantity, low, high, extra in pairs:
        spread = max(math.hypot(quantity.uncertainty, extra), 1e-6)
        total += _log_chance(quantity.amount, low, high, spread)
        outside = max(low - quantity.amount, quantity.amount - high, 0.0)
        if outside / spread > furthest:
            furthest, wide_of = outside / spread, metal
            wide_by = quantity.amount - high if quantity.amount > high else quantity.amount - low
    return ClassFit(
        alloy=alloy,
        fits=furthest <= FAR,
        log_likelihood=total,
        furthest=furthest,
        wide_of=wide_of,
        wide_by=wide_by,
        compared=len(pairs),
    )


def _limits(
    metal: str, limits: Mapping[str, tuple[float, float]], alloy: Fact, settings: Settings
) -> tuple[float, float, float]:
    """Low, high and the extra spread (wt%) of one metal: recipes as cast miss their figures, classes do not."""
    if metal in limits:
        low, high = limits[metal]
        recipe = text(alloy, "kind") in ("historic_recipe", "historic_analysis", "trade_term")
        return low, high, settings.recipe_spread * min(1.0, high / 5.0) if recipe else 0.0
    clean = text(alloy, "kind") == "standard_grade"
    return 0.0, settings.impurity * (0.3 if clean else 1.0), 0.0


def _log_chance(amount: float, low: float, high: float, spread: float) -> float:
    """Log density of a reading when the truth is anywhere in low..high and the reading scatters by `spread`."""
    if high - low < 1e-9:
        away = (amount - low) / spread
        density = math.exp(-0.5 * away * away) / (spread * math.sqrt(2 * math.pi))
    else:
        density = between(low, high, amount, spread) / (high - low)
    return math.log(max(density, FAINTEST))
