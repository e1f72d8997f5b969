"""The density an alloy should have: volumes added, and handbook rows where adding volumes fails.

Adding volumes is right to 0.1 % for tin-lead and cupronickel and wrong by 2.4 to 3.7 % for brass, bell metal and
nickel silver. So the additive value is corrected by the error found at the nearest handbook rows; in brass the
copper-zinc pair is read off the handbook rows and other metals are added by volume.
"""

import itertools
import math
from collections.abc import Mapping
from dataclasses import dataclass

from planish.facts.book import FactBook
from planish.reasoning.measuring.reading_facts import number, ranges, text
from planish.records import Fact, Quantity

NEAR = 12.0
"""wt%: a handbook row further off than this says nothing of the alloy."""
CLOSE = 2.0
"""wt%: rows within this of the alloy count about equally."""
SEEN_SPREAD = 0.004
"""Relative error left after correction where handbook rows are near (bench/measuring.py prints it)."""
UNSEEN_SPREAD = 0.04
"""Relative error of bare additivity where no row is near: the worst pair on file is 3.7 % off."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Predicted:
    """A density from a composition, g/cm3, with how it was come by.

    `additive` is the value by adding volumes, `additivity_off` its known error at this composition (relative), `rows`
    the handbook rows leaned on. `method` is brass rows, corrected, or additive.
    """

    density: Quantity
    additive: float
    additivity_off: float
    method: str
    rows: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()


def element_densities(book: FactBook) -> dict[str, float]:
    """g/cm3 by symbol, from the fact book."""
    pairs = ((text(f, "symbol"), number(f, "density_g_cm3")) for f in book.family("element"))
    return {symbol: density for symbol, density in pairs if symbol and density}


def additive(shares: Mapping[str, float], densities: Mapping[str, float]) -> float:
    """Density, g/cm3, by adding volumes: 1/rho = sum(w/rho). `shares` are weights in any unit, made to sum to one."""
    total = math.fsum(shares.values())
    return total / math.fsum(share / densities[metal] for metal, share in shares.items() if share)


def predict(composition: Mapping[str, Quantity], book: FactBook) -> Predicted | None:
    """The density of sound metal of this composition (wt%); None when no metal of it has a density on file."""
    densities = element_densities(book)
    unknown = tuple(sorted(metal for metal in composition if metal not in densities))
    shares = {m: q.amount for m, q in composition.items() if m in densities and q.amount > 0}
    if not shares or math.fsum(shares.values()) < 50:
        return None
    rows = handbook(book)
    centre, plain, off, method, near = _corrected(shares, densities, rows)
    slopes = 0.0
    for metal, quantity in composition.items():
        if metal in shares and quantity.uncertainty:
            moved = {**shares, metal: shares[metal] + quantity.uncertainty}
            slopes += (_corrected(moved, densities, rows)[0] - centre) ** 2
    model = centre * (SEEN_SPREAD if near else UNSEEN_SPREAD)
    return Predicted(
        density=Quantity(centre, "g/cm3", math.sqrt(slopes + model**2)),
        additive=plain,
        additivity_off=off,
        method=method,
        rows=near,
        unknown=unknown,
    )


def handbook(book: FactBook) -> tuple[Fact, ...]:
    """Handbook rows of measured alloys; rows that are themselves a calculation are left out."""
    return tuple(f for f in book.family("alloy_density") if not any("calculated" in c for c in f.caveats))


def _corrected(
    shares: Mapping[str, float], densities: Mapping[str, float], rows: tuple[Fact, ...]
) -> tuple[float, float, float, str, tuple[str, ...]]:
    plain = additive(shares, densities)
    if is_brass(shares):
        value, used = _brass(shares, densities, rows)
        return value, plain, plain / value - 1, "brass rows", used
    off, used = _error_near(shares, densities, rows)
    return plain / (1 + off), plain, off, "corrected" if used else "additive", used


def is_brass(shares: Mapping[str, float]) -> bool:
    """Copper and zinc together at least 90 %, zinc 3 to 45 % of the pair."""
    total = math.fsum(shares.values())
    pair = shares.get("Cu", 0.0) + shares.get("Zn", 0.0)
    return pair >= 0.9 * total and 0.03 <= shares.get("Zn", 0.0) / pair <= 0.45


def brass_line(rows: tuple[Fact, ...], copper: float) -> tuple[tuple[float, float, str], ...]:
    """(zinc wt%, density, fact id) of the plain brasses on file, from pure copper up; one point a zinc content."""
    points: dict[float, tuple[float, str]] = {0.0: (copper, "phys.element.Cu")}
    for row in rows:
        parts = {m: low for m, (low, _) in ranges(row, "composition_wt").items()}
        density = number(row, "density_g_cm3")
        if set(parts) == {"Cu", "Zn"} and density and parts["Zn"] not in points:
            points[parts["Zn"]] = (density, row.id)
    return tuple((zinc, *points[zinc]) for zinc in sorted(points))


def _brass(
    shares: Mapping[str, float], densities: Mapping[str, float], rows: tuple[Fact, ...]
) -> tuple[float, tuple[str, ...]]:
    line = brass_line(rows, densities["Cu"])
    pair = shares["Cu"] + shares["Zn"]
    value, used = along(line, 100.0 * shares["Zn"] / pair)
    rest = {metal: share for metal, share in shares.items() if metal not in ("Cu", "Zn")}
    return additive({"pair": pair, **rest}, {**densities, "pair": value}), used


def along(line: tuple[tuple[float, float, str], ...], zinc: float) -> tuple[float, tuple[str, ...]]:
    """Density of a plain brass of `zinc` wt% on straight lines between rows; the last line is carried on beyond."""
    if len(line) == 1:
        return line[0][1], (line[0][2],)
    high = next((i for i in range(1, len(line)) if line[i][0] >= zinc), len(line) - 1)
    (z0, d0, id0), (z1, d1, id1) = line[high - 1], line[high]
    return d0 + (d1 - d0) * (zinc - z0) / (z1 - z0), (id0, id1)


def _error_near(
    shares: Mapping[str, float], densities: Mapping[str, float], rows: tuple[Fact, ...]
) -> tuple[float, tuple[str, ...]]:
    total = math.fsum(shares.values())
    mine = {metal: 100.0 * share / total for metal, share in shares.items()}
    weights, errors, used = [], [], []
    for row in rows:
        theirs = {m: low for m, (low, _) in ranges(row, "composition_wt").items() if m in densities}
        density = number(row, "density_g_cm3")
        if not theirs or not density:
            continue
        apart = math.sqrt(
            math.fsum((mine.get(m, 0.0) - theirs.get(m, 0.0)) ** 2 for m in mine.keys() | theirs.keys())
        )
        if apart <= NEAR:
            weights.append(1.0 / (apart**2 + CLOSE**2))
            errors.append(additive(theirs, densities) / density - 1)
            used.append(row.id)
    if not used:
        return 0.0, ()
    return math.fsum(w * e for w, e in zip(weights, errors, strict=True)) / math.fsum(weights), tuple(used)


def lead_in_tin(density: Quantity, book: FactBook, tin_spread: float = 0.02) -> Quantity:
    """wt% lead of a tin-lead alloy from its density: w = (1/rho_Sn - 1/rho)/(1/rho_Sn - 1/rho_Pb).

    Printed densities of tin run from 7.287 to 7.31: `tin_spread` (g/cm3) carries that, about 0.9 points of lead.
    """
    densities = element_densities(book)
    tin, lead = densities["Sn"], densities["Pb"]

    def share(rho: float, rho_tin: float) -> float:
        return 100.0 * (1 / rho_tin - 1 / rho) / (1 / rho_tin - 1 / lead)

    centre = share(density.amount, tin)
    weighing = share(density.amount + density.uncertainty, tin) - centre
    baseline = share(density.amount, tin + tin_spread) - centre
    return Quantity(centre, "wt%", math.hypot(weighing, baseline))


def zinc_in_brass(density: Quantity, book: FactBook) -> Quantity | None:
    """wt% zinc of a plain brass from its density, by the handbook rows; None outside them (8.39 to 8.96)."""
    line = brass_line(handbook(book), element_densities(book)["Cu"])
    for (z0, d0, _), (z1, d1, _) in itertools.pairwise(line):
        if d1 <= density.amount <= d0:
            zinc = z0 + (z1 - z0) * (density.amount - d0) / (d1 - d0)
            slope = abs((z1 - z0) / (d1 - d0))
            return Quantity(
                zinc, "wt%", slope * math.hypot(density.uncertainty, SEEN_SPREAD * density.amount)
            )
    return None
