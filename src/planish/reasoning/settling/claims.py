"""Each claim counted by itself: holds, does not hold, cannot say -> the panel's finding.

One pass over the answers fills a box for each claim; a silent ballot that accepts is added afterwards, as what is left of
the accepting ballots once those that answered are taken away.
"""

from collections.abc import Iterable, Sequence
from typing import Literal

from planish.reasoning.settling.shares import reaches
from planish.records import Ballot, CountStep, Finding, VotingRules

Place = Literal["stands", "falls", "split", "no_quorum", "open"]
HOLDS, AGAINST, UNSURE = range(3)
_BOX = {"holds": HOLDS, "does_not_hold": AGAINST, "cannot_say": UNSURE}
_SPEAKS = {"stands": (HOLDS,), "falls": (AGAINST,)}
"""Whose reasons speak for a finding; every side's while it is open."""
_BY_SHARE = ("stands", "falls", "split")


class _Box:
    """What one claim got so far: votes and reasons a side, and how many accepting ballots have answered it."""

    __slots__ = ("accepting", "accepting_competent", "competent", "last", "reasons", "votes")

    def __init__(self) -> None:
        self.votes = [0, 0, 0]
        self.reasons: tuple[list[str], list[str], list[str]] = ([], [], [])
        self.competent = self.accepting = self.accepting_competent = 0
        self.last = -1


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


def count_claims(
    ballots: Sequence[Ballot], listed: Iterable[str], rules: VotingRules
) -> tuple[tuple[Finding, ...], list[CountStep]]:
    """Count every claim over one round's ballots; recused members must be left out before.

    Claims come in the order listed, then any other that a ballot answers in order of appearance. A member's first answer
    on a claim counts.
    """
    boxes = _filled(ballots, listed)
    if rules.pass_means_holds:
        _silent_passes(boxes.values(), ballots)
    findings, steps = [], []
    for claim, box in boxes.items():
        holds, against, unsure = box.votes
        place = place_of(holds, against, box.competent, rules)
        clause = rules.clauses.get("share" if place in _BY_SHARE else "quorum", "")
        findings.append(
            Finding(
                claim=claim,
                answer=place,
                holds=holds,
                does_not_hold=against,
                cannot_say=unsure,
                rule=place,
                clause=clause,
                reasons=_reasons(box, place),
            )
        )
        values = (claim, holds, against, unsure, box.competent, rules.quorum, rules.share, place)
        steps.append(CountStep(rule="claim", clause=clause, values=values))
    return tuple(findings), steps


def _filled(ballots: Sequence[Ballot], listed: Iterable[str]) -> dict[str, _Box]:
    boxes = {claim: _Box() for claim in listed}
    for number, ballot in enumerate(ballots):
        accepts = ballot.outcome == "accept"
        for answer in ballot.answers:
            box = boxes.get(answer.claim)
            if box is None:
                box = boxes[answer.claim] = _Box()
            elif box.last == number:
                continue
            box.last = number
            side = _BOX[answer.verdict]
            box.votes[side] += 1
            if answer.reason:
                box.reasons[side].append(answer.reason)
            if ballot.competent:
                box.competent += side != UNSURE
                box.accepting_competent += accepts
            box.accepting += accepts
    return boxes


def _silent_passes(boxes: Iterable[_Box], ballots: Sequence[Ballot]) -> None:
    """A ballot that accepts and is silent on a claim holds it (a pass is one tap)."""
    accepting = [ballot for ballot in ballots if ballot.outcome == "accept"]
    competent = sum(ballot.competent for ballot in accepting)
    for box in boxes:
        box.votes[HOLDS] += len(accepting) - box.accepting
        box.competent += competent - box.accepting_competent


def _reasons(box: _Box, place: Place) -> tuple[str, ...]:
    said = {reason for side in _SPEAKS.get(place, (HOLDS, AGAINST, UNSURE)) for reason in box.reasons[side]}
    return tuple(sorted(said))
