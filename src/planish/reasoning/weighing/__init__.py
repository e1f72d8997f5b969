"""Which years follow from the evidence: posterior over years of every event and part, and how far a claim stands.

Holds: the year grid, mixture likelihoods, the chain of events, parts and marriages, the copy hypothesis, influence of each
item, the stress test, the next look; and, kept apart, densities and pools of the panel's own dates.
May import: `planish.records`, `planish.reasoning.contradicting`, numpy. Start with `weigh.py`; docs/weighing.md explains.
"""

from planish.reasoning.contradicting.order import DEFAULT_CHAIN
from planish.reasoning.weighing.case import (
    Case,
    CasePart,
    ClaimWeight,
    CopyWeight,
    DatedClaim,
    EventYears,
    Explanation,
    ItemWeight,
    PartWeight,
    StressLine,
    Weighing,
    case_from,
)
from planish.reasoning.weighing.looking import Found, Look, LookValue, next_looks
from planish.reasoning.weighing.ranges import band
from planish.reasoning.weighing.settings import DOUBTS, Settings, doubt_for_strength
from planish.reasoning.weighing.weigh import weigh

__all__ = [
    "DEFAULT_CHAIN",
    "DOUBTS",
    "Case",
    "CasePart",
    "ClaimWeight",
    "CopyWeight",
    "DatedClaim",
    "EventYears",
    "Explanation",
    "Found",
    "ItemWeight",
    "Look",
    "LookValue",
    "PartWeight",
    "Settings",
    "StressLine",
    "Weighing",
    "band",
    "case_from",
    "doubt_for_strength",
    "next_looks",
    "weigh",
]
