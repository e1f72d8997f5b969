"""Each claim counted by itself: holds, does not hold, cannot say -> the panel's finding."""

from collections.abc import Iterable, Sequence
from typing import Literal

from planish.reasoning.settling.shares import clause_of, reaches
from planish.records import Ballot, CountStep, Finding, VotingRules

Place = Literal["stands", "falls", "split", "no_quorum", "open"]


def claims_in(ballots: Iterable[Ballot], listed: Sequence[str]) -> tuple[str, ...]:
    """Every claim to be counted: those listed, then any other that a ballot answers, in order of appearance."""
    found = dict.fromkeys(listed)
    for ballot in ballots:
        for answer in ballot.answers:
            found[answer.claim] = None
    return tuple(found)


def place_of(holds: int, against: int, competent: int, rules: VotingRules) -> Place:
    """Where a claim stands by its decided votes (RULE-01 of the counting rule).

    The quorum is counted in decided votes; "cannot say" is an abstention. Stands at `share` for, falls at `share`
    against, split in between.
    """
    decided = holds + against
    if decided < rules.quorum or competent < rules.competent_needed:
        return "no_quorum"
    if reaches(holds, decided, rules.share):
        return "stands"
    if reaches(against, decided, rules.share):
        return "falls"
    return "split"


def count_claim(claim: str, ballots: Sequence[Ballot], rules: VotingRules) -> tuple[Finding, CountStep]:
    """Count one claim over one round's ballots; recused members must be left out before."""
    holds = against = unsure = competent = 0
    reasons: dict[str, list[str]] = {"holds": [], "does_not_hold": [], "cannot_say": []}
    for ballot in ballots:
        verdict, reason = _verdict(ballot, claim, rules)
        if verdict is None:
            continue
        if reason:
            reasons[verdict].append(reason)
        if verdict == "cannot_say":
            unsure += 1
            continue
        competent += ballot.competent
        if verdict == "holds":
            holds += 1
        else:
            against += 1
    place = place_of(holds, against, competent, rules) if ballots else "open"
    clause = clause_of(rules, "share" if place in ("stands", "falls", "split") else "quorum")
    side = {"stands": ("holds",), "falls": ("does_not_hold",)}.get(place, tuple(reasons))
    finding = Finding(
        claim=claim,
        answer=place,
        holds=holds,
        does_not_hold=against,
        cannot_say=unsure,
        rule=place,
        clause=clause,
        reasons=tuple(sorted({r for verdict in side for r in reasons[verdict]})),
    )
    values = (claim, holds, against, unsure, competent, rules.quorum, rules.share, place)
    return finding, CountStep(rule="claim", clause=clause, values=values)


def _verdict(ballot: Ballot, claim: str, rules: VotingRules) -> tuple[str | None, str]:
    for answer in ballot.answers:
        if answer.claim == claim:
            return answer.verdict, answer.reason
    if rules.pass_means_holds and ballot.outcome == "accept":
        return "holds", ""
    return None, ""
