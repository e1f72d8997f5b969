"""Figures as they come: is this a number at all, in a unit we know, inside its range? And the bell curve."""

import math
import re
from collections.abc import Iterable, Mapping

from planish.records import Observation, Problem, Quantity

TEXT = re.compile(
    r"^\s*(?P<less><)?\s*(?P<amount>[-+−]?\d+(?:[.,]\d+)?)\s*(?:(?:±|\+/-|\+-)\s*(?P<pm>[-+−]?\d+(?:[.,]\d+)?))?\s*(?P<unit>(?!e\d)[^\W\d_].*|[%°].*)?$"
)
UNITS: Mapping[str, tuple[str, float]] = {
    "": ("", 1.0),
    "wt%": ("wt%", 1.0),
    "%": ("wt%", 1.0),
    "wt %": ("wt%", 1.0),
    "ppm": ("wt%", 1e-4),
    "g": ("g", 1.0),
    "kg": ("g", 1000.0),
    "mg": ("g", 0.001),
    "ml": ("ml", 1.0),
    "cc": ("ml", 1.0),
    "cm3": ("ml", 1.0),
    "cl": ("ml", 10.0),
    "l": ("ml", 1000.0),
    "litre": ("ml", 1000.0),
    "cu in": ("ml", 16.387064),
    "in3": ("ml", 16.387064),
    "mm": ("mm", 1.0),
    "cm": ("mm", 10.0),
    "in": ("mm", 25.4),
    "inch": ("mm", 25.4),
    "degc": ("degC", 1.0),
    "°c": ("degC", 1.0),
    "c": ("degC", 1.0),
    "deg": ("deg", 1.0),
    "°": ("deg", 1.0),
    "tpi": ("tpi", 1.0),
    "g/cm3": ("g/cm3", 1.0),
}


def problem(where: str, what: str, remedy: str, code: str, *, found: str = "", why: str = "") -> Problem:
    """A problem of an input figure."""
    return Problem(where=where, what=what, remedy=remedy, code=code, found=found, why=why, severity=3)


def quantity_from_text(text: str, unit: str, where: str) -> Quantity | Problem:
    """Read "34.1±0.5", "568 +/- 4 ml" or "<0.05" (below a detection limit: nothing, give or take half of it).

    `unit` is taken when the text names none. Decimal commas are read as points.
    """
    found = TEXT.match(text)
    if not found:
        return problem(
            where,
            f"{text!r} is not a figure.",
            "Write it like 34.1 or 34.1±0.5.",
            "figure.unread",
            found=text,
        )
    amount, uncertainty = _number(found["amount"]), _number(found["pm"]) if found["pm"] else 0.0
    if found["less"]:
        amount, uncertainty = 0.0, amount / 2.0
    return Quantity(amount, (found["unit"] or unit).strip(), uncertainty)


def _number(text: str) -> float:
    return float(text.replace(",", ".").replace("−", "-"))


def checked(
    name: str, given: Quantity, unit: str, where: str, *, least: float = -math.inf
) -> Quantity | Problem:
    """`given` in `unit`, or the Problem that says why it cannot be one: not finite, below `least`, unit unknown."""
    if not (math.isfinite(given.amount) and math.isfinite(given.uncertainty)):
        return problem(where, f"{name} is not a finite number.", "Measure it again.", "figure.not_finite")
    if given.uncertainty < 0:
        return problem(
            where,
            f"The uncertainty of {name} is negative ({given.uncertainty:g}).",
            "Give the uncertainty as a positive figure, or leave it out.",
            "figure.uncertainty_negative",
            found=f"{given.uncertainty:g}",
        )
    base, factor = UNITS.get(given.unit.strip().casefold(), ("?", 1.0))
    if base not in ("", unit):
        return problem(
            where,
            f"{name} is given in {given.unit!r}; {unit} is needed.",
            f"Give it in {unit}.",
            "figure.unit",
            found=given.unit,
        )
    amount = given.amount * factor
    if amount < least:
        return problem(
            where,
            f"{name} is {amount:g} {unit}; it cannot be below {least:g}.",
            "Measure it again, or correct the figure.",
            "figure.too_small",
            found=f"{given.amount:g}",
        )
    return Quantity(amount, unit, given.uncertainty * factor)


def needed(
    observation: Observation, name: str, unit: str, *, least: float = -math.inf, aliases: Iterable[str] = ()
) -> Quantity | Problem | None:
    """The checked value called `name` (or an alias) of an observation; None when it was not given."""
    for key in (name, *aliases):
        if key in observation.values:
            return checked(name, observation.values[key], unit, place(observation), least=least)
    return None


def place(observation: Observation) -> str:
    """Where a person finds this observation."""
    part = f", {observation.part}" if observation.part else ""
    return f"{observation.kind} of {observation.object_id or 'the object'}{part}"


def below(x: float, mean: float, sd: float) -> float:
    """Chance that a bell-shaped quantity lies below `x`; a step when `sd` is 0."""
    if sd <= 0:
        return 1.0 if x > mean else 0.0 if x < mean else 0.5
    return 0.5 * math.erfc((mean - x) / (sd * math.sqrt(2.0)))


def between(low: float, high: float, mean: float, sd: float) -> float:
    """Chance that a bell-shaped quantity lies from `low` to `high`."""
    if sd <= 0:
        return 1.0 if low <= mean <= high else 0.0
    return max(0.0, below(high, mean, sd) - below(low, mean, sd))


def in_words(quantity: Quantity, digits: int = 2) -> str:
    """ "34.1 ± 0.5 wt%", without trailing noughts."""
    amount = f"{quantity.amount:.{digits}f}".rstrip("0").rstrip(".")
    spread = f" ± {quantity.uncertainty:.2g}" if quantity.uncertainty else ""
    return f"{amount}{spread} {quantity.unit}".strip()
