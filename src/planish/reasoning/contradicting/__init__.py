"""Which statements cannot all be true: the smallest clashes, and the fewest items to doubt so that the rest agree.

Holds: sets of years as bit masks, the order of events, conflicts and corrections, sentences that name sources.
May import: `planish.records`, `planish.facts` (look-ups only). Start with `clashes.py`.
"""

from planish.reasoning.contradicting.clashes import claim_as_item, smallest_clashes
from planish.reasoning.contradicting.doubting import Doubted, fewest_to_doubt
from planish.reasoning.contradicting.duality import conflicts_and_corrections, hitting_sets
from planish.reasoning.contradicting.looks_against_words import against_looks
from planish.reasoning.contradicting.order import DEFAULT_CHAIN
from planish.reasoning.contradicting.saying import in_full

__all__ = [
    "DEFAULT_CHAIN",
    "Doubted",
    "against_looks",
    "claim_as_item",
    "conflicts_and_corrections",
    "fewest_to_doubt",
    "hitting_sets",
    "in_full",
    "smallest_clashes",
]
