"""House defaults of weighing. Every one is a choice to start from, not a finding, and is printed with the result."""

from collections.abc import Mapping
from dataclasses import dataclass

from planish.records import freeze

DOUBTS: Mapping[str, float] = freeze(
    {
        "material": 0.02,
        "technique": 0.02,
        "date letter crisp": 0.03,
        "date letter rubbed": 0.15,
        "mark": 0.05,
        "pseudo-mark": 0.5,
        "capacity": 0.05,
        "weight": 0.05,
        "alloy": 0.05,
        "alloy by instrument": 0.02,
        "form": 0.10,
        "style": 0.10,
        "engraved date": 0.25,
        "ownership story": 0.40,
    }
)
"""Chance that an item of this kind does not tell the truth about the event (house; replace by counts)."""

STRENGTHS: Mapping[str, float] = freeze({"weak": 3.0, "moderate": 30.0, "strong": 300.0})
"""How many times likelier inside the window than outside, by the specialist's word (house)."""

RATIO_CAP_WITHOUT_INSTRUMENT = 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Everything a fair may set differently. Years are calendar years, both ends included; shares are 0..1.

    `prior` holds (year, weight) points of a named alternative prior (`prior_name`); empty means flat. `copy_chance` is the base
    rate of later copies of the category, `imitation` how often a copyist gets an imitable feature right, `copy_from`
    the first year in which such copies were made (moved to the year after the claim when that is later). `smear` is
    the spread of stock parts in years, `marriage_chance` the usual chance that a part was not born with its object.
    `widen` years on both sides serve the "too exact" test; `vague_factor` times the range the "too vague" test.
    """

    first: int = 1400
    last: int = 2030
    prior: tuple[tuple[int, float], ...] = ()
    prior_name: str = "flat"
    copy_chance: float = 0.10
    copy_chances_beside: tuple[float, ...] = (0.02, 0.30)
    imitation: float = 0.8
    copy_from: int = 1840
    smear: int = 5
    marriage_chance: float = 0.05
    range_share: float = 0.8
    widen: int = 25
    exact_below: float = 0.5
    exact_widened: float = 0.8
    vague_factor: float = 3.0
    stress_doubt: float = 3.0
    copy_alarm: float = 0.20
    odd_one_out: float = -1.0
    pulls_apart: float = -0.5


def doubt_for_strength(word: str, window_mass: float, *, instrument: bool = False) -> float:
    """Doubt that makes a window of prior mass `window_mass` (0..1) as strong as the word says.

    (1 - e)/F + e = ratio * e, so e = 1 / (1 + F (ratio - 1)). Without an instrument the ratio is capped at 100.
    Raises KeyError for a word that is not weak, moderate or strong.
    """
    ratio = STRENGTHS[word]
    if not instrument:
        ratio = min(ratio, RATIO_CAP_WITHOUT_INSTRUMENT)
    return 1.0 / (1.0 + window_mass * (ratio - 1.0))
