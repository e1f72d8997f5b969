"""What votes are worth: jurors, shared errors, costs, who gets a second look, when one more opinion pays.

These figures rank second looks and never decide anything. Votes against are "does not hold". All base rates, costs,
accuracies and correlations are house defaults to be set, and a suggestion is called fragile when they turn it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from math import ceil, comb, exp, lgamma, log

from planish.records import Outcome

RHOS = (0.0, 0.3, 0.5)
ACCURACIES = (0.7, 0.8, 0.9)


@dataclass(frozen=True, slots=True, kw_only=True)
class Costs:
    """House costs in units of one second look: passing a wrong label, acting against a right one; chance it settles."""

    pass_wrong: float = 20.0
    hit_right: float = 5.0
    look: float = 1.0
    settles: float = 0.8


@lru_cache(maxsize=4096)
def vote_chances(n: int, p: float, rho: float) -> tuple[float, ...]:
    """Chance of 0..n votes of one kind, each with chance `p`, correlated by `rho` (beta-binomial; 0 is binomial)."""
    if rho <= 0:
        return tuple(comb(n, k) * p**k * (1 - p) ** (n - k) for k in range(n + 1))
    a, b = p * (1 - rho) / rho, (1 - p) * (1 - rho) / rho
    return tuple(comb(n, k) * exp(_log_beta(k + a, n - k + b) - _log_beta(a, b)) for k in range(n + 1))


def _log_beta(a: float, b: float) -> float:
    return lgamma(a) + lgamma(b) - lgamma(a + b)


def majority_right(n: int, p: float, rho: float = 0.0) -> float:
    """Chance that a simple majority of `n` (odd) is right when each is right with chance `p` (Condorcet)."""
    return sum(vote_chances(n, p, rho)[n // 2 + 1 :])


def wrong_given(against: int, n: int, *, base: float = 0.1, accuracy: float = 0.8, rho: float = 0.3) -> float:
    """Probability 0..1 that the label is wrong when `against` of `n` decided votes say so."""
    if n == 0:
        return base
    wrong = base * vote_chances(n, accuracy, rho)[against]
    right = (1 - base) * vote_chances(n, 1 - accuracy, rho)[against]
    return wrong / (wrong + right)


def break_even(costs: Costs) -> float:
    """Probability of a wrong label above which acting costs less than passing, with no second look to be had."""
    return costs.hit_right / (costs.hit_right + costs.pass_wrong)


def second_look_band(costs: Costs) -> tuple[float, float]:
    """Probabilities of a wrong label between which a second look pays."""
    return costs.look / (costs.settles * costs.pass_wrong), 1 - costs.look / (costs.settles * costs.hit_right)


def gain(p: float, costs: Costs) -> float:
    """Expected saving of a second look at probability `p` of a wrong label; negative when it does not pay."""
    return min(p * costs.pass_wrong, (1 - p) * costs.hit_right) - costs.look / costs.settles


@dataclass(frozen=True, slots=True, kw_only=True)
class SecondLook:
    """One object's claim to a second look. `low`..`high` is the band over correlations 0-0.5 and accuracies .7-.9.

    `fragile` is True when the suggestion (pass, look, act) turns within that band.
    """

    object_id: str
    p: float
    low: float
    high: float
    gain: float
    fragile: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Votes:
    """Decided votes on one object: `against` of `decided`; `base` is its own base rate of wrong labels."""

    object_id: str
    against: int
    decided: int
    base: float = 0.1
    costs: Costs = field(default_factory=Costs)


def second_looks(votes: Sequence[Votes], capacity: int) -> tuple[SecondLook, ...]:
    """The `capacity` largest positive gains, largest first (ties in order of object id)."""
    looks = [weigh_votes(v) for v in votes]
    paying = sorted((look for look in looks if look.gain > 0), key=lambda s: (-s.gain, s.object_id))
    return tuple(paying[: max(0, capacity)])


def weigh_votes(v: Votes, *, accuracy: float = 0.8, rho: float = 0.3) -> SecondLook:
    """Probability, band and gain of a second look at one object."""
    p = wrong_given(v.against, v.decided, base=v.base, accuracy=accuracy, rho=rho)
    band = [
        wrong_given(v.against, v.decided, base=v.base, accuracy=a, rho=r) for a in ACCURACIES for r in RHOS
    ]
    return SecondLook(
        object_id=v.object_id,
        p=p,
        low=min(band),
        high=max(band),
        gain=gain(p, v.costs),
        fragile=len({suggestion(q, v.costs) for q in (*band, p)}) > 1,
    )


def suggestion(p: float, costs: Costs) -> str:
    """pass, look or act: the cheapest in expectation at probability `p`."""
    if gain(p, costs) > 0:
        return "look"
    return "act" if p > break_even(costs) else "pass"


def band_in_words(p: float) -> str:
    """A probability as it is shown: a band, never a figure."""
    edges = ((0.05, "under 5 %"), (0.2, "5-20 %"), (0.4, "20-40 %"), (0.6, "40-60 %"), (0.8, "60-80 %"))
    for edge, words in edges:
        if p < edge:
            return words
    return "80-95 %" if p <= 0.95 else "over 95 %"


def value_of_one_more(p: float, costs: Costs, accuracy: float = 0.8) -> float:
    """Expected saving of one more independent opinion before acting or passing, in the same units as the costs."""

    def loss(q: float) -> float:
        return min(q * costs.pass_wrong, (1 - q) * costs.hit_right)

    against = p * accuracy + (1 - p) * (1 - accuracy)
    after = against * loss(p * accuracy / against) + (1 - against) * loss(p * (1 - accuracy) / (1 - against))
    return max(0.0, loss(p) - after)


def wald_margin(accuracy: float, alpha: float = 0.05, beta: float = 0.05) -> int:
    """Margin of votes at which to stop asking (Wald 1947), rounded up to whole votes."""
    return ceil(log((1 - beta) / alpha) / log(accuracy / (1 - accuracy)) - 1e-9)


def asking_until(margin: int, accuracy: float) -> tuple[float, float]:
    """Error and mean number of votes when asking until one side leads by `margin` (gambler's ruin; accuracy > .5)."""
    q = 1 - accuracy
    error = q**margin / (accuracy**margin + q**margin)
    return error, margin / (2 * accuracy - 1) * (1 - 2 * error)


def wald_plan(p1: float, p2: float, alpha: float, beta: float) -> tuple[float, float, float]:
    """Wald's sequential plan for faults: intercepts h1 (accept), h2 (reject) and slope s of the two lines."""
    k = log(p2 * (1 - p1) / (p1 * (1 - p2)))
    return log((1 - alpha) / beta) / k, log((1 - beta) / alpha) / k, log((1 - p1) / (1 - p2)) / k


LOSSES: Mapping[Outcome, tuple[float, float, float]] = {
    "accept": (0.0, 10.0, 40.0),
    "relabel": (3.0, 0.0, 20.0),
    "remove": (10.0, 6.0, 0.0),
}
"""House losses, in second looks, of each outcome where the label is right, too strong, or the object must not stay."""
REFER_LOSS, REFER_REST = 2.0, 0.2
"""A referral costs two looks and leaves a fifth of the best other outcome's loss (house)."""


def expected_losses(right: float, too_strong: float, must_not_stay: float) -> dict[Outcome, float]:
    """Expected loss of each outcome at the chances (0..1, together 1) of the three states. Ranks; never decides."""
    chances = (right, too_strong, must_not_stay)
    losses = {name: sum(p * c for p, c in zip(chances, costs, strict=True)) for name, costs in LOSSES.items()}
    return {**losses, "refer": REFER_LOSS + REFER_REST * min(losses.values())}


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleResult:
    """What a counting rule does to 1000 objects in expectation."""

    passed_wrong: float
    hit_right: float
    looks: float
    cost: float


def rule_result(
    pass_at_most: int,
    act_from: int,
    *,
    n: int = 5,
    rho: float,
    base: float = 0.1,
    accuracy: float = 0.8,
    costs: Costs | None = None,
    look_right: float = 0.95,
) -> RuleResult:
    """Expected results per 1000 objects of "pass at up to so many votes against, act from so many, else look again"."""
    costs = costs or Costs()
    wrong, right = vote_chances(n, accuracy, rho), vote_chances(n, 1 - accuracy, rho)
    n_wrong, n_right = 1000 * base, 1000 * (1 - base)
    middle = slice(pass_at_most + 1, act_from)
    looks_wrong, looks_right = n_wrong * sum(wrong[middle]), n_right * sum(right[middle])
    passed = n_wrong * sum(wrong[: pass_at_most + 1]) + looks_wrong * (1 - look_right)
    hit = n_right * sum(right[act_from:]) + looks_right * (1 - look_right)
    looks = looks_wrong + looks_right
    cost = passed * costs.pass_wrong + hit * costs.hit_right + looks * costs.look
    return RuleResult(passed_wrong=passed, hit_right=hit, looks=looks, cost=cost)


def conformity(first: Sequence[str], second: Sequence[str]) -> tuple[float, float]:
    """Share of votes changed between rounds, and share of changes that moved to the first round's majority.

    Paired by voter, over one object or many joined object by object with one majority each; no majority, no move.
    """
    changes = [(a, b) for a, b in zip(first, second, strict=True) if a != b]
    if not first or not changes:
        return 0.0, 0.0
    counts = sorted(((first.count(v), v) for v in set(first)), reverse=True)
    tied = len(counts) > 1 and counts[0][0] == counts[1][0]
    toward = 0 if tied else sum(b == counts[0][1] for _, b in changes)
    return len(changes) / len(first), toward / len(changes)
