"""What hangs on an object: whether the votes' suggestion is fragile, and whether a mistake would be among the costliest.

Both together are the seventh reason to talk. The chance behind it rests on house figures (`HOUSE`), so it only asks for talk
and never decides an outcome. How much a mistake would cost is known by one thing alone, the exhibitor's price: the costliest
share is the rule book's (`talk_costliest`), taken among prices in one currency, and only of ten priced objects or more. The
panel never reads a price; no sentence here names one.
"""

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from planish.ledger.replay import FairState
from planish.ledger.story import Story
from planish.reasoning.reading.terms.prices import amount_of
from planish.reasoning.trending import odds
from planish.records import Ballot

PASSED = ("accept",)
ACTED = ("relabel", "remove")
FEWEST_PRICED = 10
"""Priced objects below which nothing is called among the costliest (house default)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumed:
    """What a suggestion rests on, printed with it: base rate of wrong labels, accuracy, shared errors, costs, pace."""

    base: float = 0.1
    accuracy: float = 0.8
    shared: float = 0.3
    costs: odds.Costs = field(default_factory=odds.Costs)
    most_per_hour: int = 150


HOUSE = Assumed()


def votes_of(
    object_id: str, ballots: Sequence[Ballot], floor: int, assumed: Assumed = HOUSE
) -> odds.Votes | None:
    """The votes of one round that name an outcome; None below `floor` of them, so that no single ballot shows."""
    decided = [b for b in ballots if not b.recused and b.outcome in (*PASSED, *ACTED)]
    if len(decided) < floor:
        return None
    against = sum(b.outcome in ACTED for b in decided)
    return odds.Votes(
        object_id=object_id, against=against, decided=len(decided), base=assumed.base, costs=assumed.costs
    )


def weighed(votes: odds.Votes, assumed: Assumed = HOUSE) -> odds.SecondLook:
    """What a second look at one object is worth under the assumptions, and whether they turn the suggestion."""
    return odds.weigh_votes(votes, accuracy=assumed.accuracy, rho=assumed.shared)


def fragile(object_id: str, ballots: Sequence[Ballot], floor: int) -> bool:
    """True when pass, look or act turns within the house figures' band, on the votes of the ballots' last round."""
    away = {b.person for b in ballots if b.recused}
    held = max((b.round for b in ballots), default=1)
    votes = votes_of(object_id, [b for b in ballots if b.round == held and b.person not in away], floor)
    return votes is not None and weighed(votes).fragile


def price_of(story: Story) -> str:
    """The price as written: the newest label's, else the list's."""
    return (story.label.price if story.label else "") or story.listed.price


class Dearest:
    """From which price on an object is among the fair's costliest share, by currency. Made once for a state."""

    def __init__(self, state: FairState, share: float) -> None:
        amounts: dict[str, list[float]] = defaultdict(list)
        for story in state.objects.values():
            found = amount_of(price_of(story))
            if found is not None:
                amounts[found[0]].append(found[1])
        self._from: Mapping[str, float] = {
            currency: sorted(held, reverse=True)[max(1, math.floor(share * len(held))) - 1]
            for currency, held in amounts.items()
            if len(held) >= FEWEST_PRICED and share > 0
        }

    def holds(self, story: Story) -> bool:
        """True when the object is among the costliest share, False without a price or with too few to compare."""
        found = amount_of(price_of(story))
        return found is not None and found[1] >= self._from.get(found[0], math.inf)
