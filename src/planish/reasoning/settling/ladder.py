"""The outcome ladder accept < relabel < remove, and the milder level that enough members accept as a minimum."""

from collections.abc import Iterable
from dataclasses import dataclass

from planish.reasoning.settling.shares import reaches
from planish.records import Ballot, Outcome, VotingRules

RUNGS: tuple[Outcome, Outcome, Outcome] = ("accept", "relabel", "remove")


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """Counted outcome ballots. A ballot for refer has no rung: it is counted beside the ladder, not on it."""

    accept: int = 0
    relabel: int = 0
    remove: int = 0
    refer: int = 0
    competent: int = 0

    @property
    def on_ladder(self) -> int:
        """Ballots that name a rung."""
        return self.accept + self.relabel + self.remove

    @property
    def rungs(self) -> tuple[int, int, int]:
        """Ballots on each rung, mildest first."""
        return self.accept, self.relabel, self.remove


def tally(ballots: Iterable[Ballot]) -> Tally:
    """Count proposed outcomes; a ballot without one is not counted here. `competent` counts rung ballots only."""
    counts: dict[Outcome, int] = {"accept": 0, "relabel": 0, "remove": 0, "refer": 0}
    competent = 0
    for ballot in ballots:
        if ballot.outcome is None:
            continue
        counts[ballot.outcome] += 1
        competent += ballot.competent and ballot.outcome != "refer"
    return Tally(**counts, competent=competent)


def level(votes: Tally, rules: VotingRules) -> Outcome | None:
    """The rung with enough ballots at or above it and enough at or below it, None when split (RULE-02).

    Remove needs `remove_share` at or above it, every other comparison `share`.
    """
    n, share = votes.on_ladder, rules.share
    if reaches(votes.accept, n, share):
        return "accept"
    if reaches(n - votes.accept, n, share) and reaches(n - votes.remove, n, share):
        return "relabel"
    return "remove" if reaches(votes.remove, n, rules.remove_share) and reaches(n, n, share) else None


def minimum(votes: Tally, rules: VotingRules) -> Outcome:
    """The strictest rung that enough ballots accept as a minimum (are at or above). Everybody accepts "accept"."""
    n = votes.on_ladder
    if reaches(votes.remove, n, rules.remove_share):
        return "remove"
    if reaches(votes.relabel + votes.remove, n, rules.share):
        return "relabel"
    return "accept"


def ends(votes: Tally) -> tuple[Outcome, Outcome]:
    """Mildest and strictest rung that anybody proposed. Needs at least one rung ballot."""
    used = [name for name, n in zip(RUNGS, votes.rungs, strict=True) if n]
    return used[0], used[-1]
