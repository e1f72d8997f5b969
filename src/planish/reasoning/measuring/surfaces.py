"""What a spot and its surface do to the strength of a reading, and which further spot would help most.

The strengths of the fact book hold for sound bulk metal. One surface spot takes one step off, and a reading through
patina, lacquer, plating, paint or solder two (fact book: head of the analysis rules). Nothing said of the surface
counts as one surface spot.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from planish.records import Observation, Quantity

BULK = ("drilling", "drillings", "shavings", "section", "sample", "bulk", "cut", "fracture")
COVERED = (
    "patina", "patinated", "corroded", "corrosion", "oxide", "oxidised", "lacquer", "lacquered", "plate", "plated",
    "plating", "solder", "soldered", "seam", "gilt", "gilding", "gilded", "silvered", "paint", "painted", "japanned",
    "tinned", "dirt", "dirty", "rust", "rusty", "wax", "waxed", "varnish", "varnished", "enamel", "bronzed", "tarnish",
    "tarnished",
)  # fmt: skip
OWN: dict[str, tuple[str, ...]] = {
    "finish_applied": (
        "lacquer", "lacquered", "plate", "plated", "plating", "gilt", "gilding", "gilded", "silvered", "paint", "painted",
        "japanned", "tinned", "varnish", "varnished", "enamel", "bronzed",
    ),
    "repair": ("solder", "soldered", "seam"),
}  # fmt: skip
"""Covers that are themselves what a rule about that event reads: no loss beyond that of one spot."""
CLEAN = ("polished", "clean", "cleaned", "bright", "bare", "abraded", "worn", "scraped", "sound", "metal")


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """How far a surface weakens what is read from it: `steps` down the ladder of strengths, and why in words."""

    steps: int
    why: str
    covered: bool = False
    spots: int = 1
    cover: str = ""


def steps_for(surface: Surface, bounds: str) -> int:
    """Steps for a rule that bounds the event `bounds`: reading a plating is no loss for a rule about platings."""
    if surface.cover in OWN.get(bounds, ()):
        return 1 if surface.spots < 2 else 0
    return surface.steps


def surface_of(observation: Observation) -> Surface:
    """The surface of a reading, from the observation's `surface` and `spot` words and `more["spots"]`."""
    words = f"{observation.surface} {observation.spot}".casefold().replace(",", " ").replace("-", " ").split()
    given = observation.more.get("spots", 1)
    spots = given if isinstance(given, int) and not isinstance(given, bool) and given >= 1 else 1
    if cover := next((w for w in words if w in COVERED), ""):
        return Surface(
            steps=2, why=f"read through {cover}: two steps weaker", covered=True, spots=spots, cover=cover
        )
    if any(w in BULK for w in words):
        return Surface(steps=0, why="read on bulk metal", spots=spots)
    if spots >= 2 and any(w in CLEAN for w in words):
        return Surface(steps=0, why=f"{spots} spots of clean metal agree", spots=spots)
    if any(w in CLEAN for w in words):
        return Surface(steps=1, why="one surface spot: one step weaker", spots=spots)
    return Surface(
        steps=1, why="nothing said of the surface, taken as one surface spot: one step weaker", spots=spots
    )


def next_spot(reading: Mapping[str, Quantity], surface: Surface) -> str:
    """The further spot that would tell most, in one sentence."""

    def share(metal: str) -> float:
        return reading[metal].amount if metal in reading else 0.0

    if surface.covered:
        return "A spot of bare worn metal, inside a foot rim or under a loose part, would lift this by two steps."
    if share("Au") > 0.5 and "Hg" not in reading:
        return "A spot of gilding in a sheltered hollow, with mercury asked for, would tell how it was gilt."
    if share("Ni") >= 3 and share("Cu") > 40:
        return "A worn edge beside a sheltered spot would tell nickel in the metal from nickel plate."
    if share("Sn") > 50 and share("Pb") > 1:
        return "A freshly cleaned spot away from seams would tell whether lead has come to the surface."
    if share("Zn") > 25 and surface.spots < 2:
        return "A second spot of clean metal away from solder would lift this by a step: zinc is lost and gained at the skin."
    if surface.steps:
        return (
            "A second clean spot on the same part, away from solder and plating, would lift this by a step."
        )
    return "The same reading on another part (cover, handle, foot) would tell whether they are of one melt."
