"""Hearing an appeal: those who hear it seal their own views first, and the same count as before turns them into an outcome.

    hearing(fair, story)                         round, who has sealed (never what), how many are needed
    seal(fair, story, ballot)                    one view, sealed until the round is counted; refuses who may not hear it
    count(fair, story, who="cy")                 close the round: talk and vote again, or the outcome that replaces the first

The words voted on are those that hung when the first panel looked. The rule, its shares and its clauses are the rule book's,
the quorum is the larger of the panel's and of the appeal's. Two rounds at most: a panel of appeal that comes to no outcome
leaves the first one standing, and that is written down with a reason as well. Views lie in the log as ballots do: covered,
in no archive, read by nobody but their author; below the rule book's floor no word of them is told.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import Fair
from planish.errands.panel.appealing import DECIDES, Replaced, lodged_appeal, replace_outcome, seating, terms
from planish.errands.panel.ballots import covered, from_body, refuse_covered, to_body, unsaid_keys
from planish.errands.panel.evidence import claim_key, evident
from planish.errands.panel.examining import circumstances, competent_for, uncounted
from planish.ledger.journal import Draft
from planish.ledger.story import Story
from planish.ledger.upcasting import Happened
from planish.reasoning.reading import read
from planish.reasoning.settling import settle
from planish.reasoning.settling.seeing import below_floor
from planish.reasoning.settling.triggers import without_votes
from planish.records import Ballot, Settlement, VotingRules

STANDS = "The panel of appeal came to no outcome of its own; the first stands."


@dataclass(frozen=True, slots=True, kw_only=True)
class Hearing:
    """Where a hearing stands. `round` is the one under way; `sealed` how many views are in, `needed` how many must be."""

    round: Literal[1, 2]
    sealed: int
    needed: int
    sealed_by: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Heard:
    """What counting a round gave, for anybody who may read the outcome: no number of votes and no ballot.

    `then`: "talk" (a second round is open) or "decided". `talk` says why to talk; `rule` is the count in words.
    """

    then: Literal["talk", "decided"]
    talk: tuple[str, ...]
    rule: tuple[str, ...]
    replaced: Replaced | None = None


def hearing(fair: Fair, story: Story) -> Hearing | None:
    """Where the hearing of the open appeal stands; None when no appeal is open."""
    if story.state.examination != "under_appeal":
        return None
    held, may = _round(story), seating(fair, story).sitting
    by = tuple(e.who for e in _sealed(story) if e.body["round"] == held and e.who in may)
    return Hearing(round=held, sealed=len(by), needed=_needed(fair), sealed_by=by)


def claims(fair: Fair, story: Story) -> list[str]:
    """What a view may answer: every claim of the words that hung, and the sides of which they say nothing."""
    hung = story.labels[0].text if story.labels else story.listed.text
    read_ = read(hung, words=fair.kit.words, conventions=fair.rules.conventions).claims
    return [*dict.fromkeys(map(claim_key, read_)), *unsaid_keys(read_)]


def seal(fair: Fair, story: Story, ballot: Ballot) -> None:
    """Seal one view of somebody who hears the appeal. It is counted, never shown, and cannot be sealed twice."""
    where = f"appeal on {story.listed.stand}/{story.listed.number}"
    appeal = _open(story, where)
    seat = next((s for s in seating(fair, story).seats if s.person == ballot.person), None)
    if seat is None or not seat.may_sit:
        why = seat.why_not if seat else "takes no part as a specialist"
        raise refuse(where, f"{ballot.person} may not hear it: {why}.", "Have somebody else hear it.",
                     code="appeal.same_panel", kind="rule")  # fmt: skip
    strange = [a.claim for a in ballot.answers if a.claim not in claims(fair, story)]
    if strange:
        raise refuse(where, f"The label as it hung makes no claim {strange[0]!r}.",
                     "Answer on its claims.", code="ballot.no_such_claim")  # fmt: skip
    held = _round(story)
    if any(e.who == ballot.person and e.body["round"] == held for e in _sealed(story)):
        raise refuse(where, f"{ballot.person} has sealed a view in this round.", "It stays as it is.",
                     code="ballot.locked", kind="rule")  # fmt: skip
    body = {"round": held, "appeal": appeal.id, "ballot": to_body(replace(ballot, round=held))}
    fair.record([Draft(kind="ballot.appeal", sub=story.listed.id, who=ballot.person, body=body)])


def count(fair: Fair, story: Story, *, who: str) -> Heard:
    """Close the round under way and count it: either the panel of appeal talks, or its outcome replaces the first."""
    where = f"appeal on {story.listed.stand}/{story.listed.number}"
    appeal, now = _open(story, where), hearing(fair, story)
    if covered(story):
        raise refuse_covered(story)
    if now is None or now.sealed < now.needed:
        sealed = 0 if now is None else now.sealed
        raise refuse(where, f"{sealed} have sealed a view in this round, {_needed(fair)} are needed.",
                     "Wait for the others; nothing was counted.", code="appeal.quorum", kind="rule")  # fmt: skip
    found = _count(fair, story, now)
    told = below_floor(found, fair.rules.voting)
    rule, talk = uncounted(told, fair.rules.voting), tuple(without_votes(t).sentence for t in told.triggers)
    closing = Draft(
        kind="appeal.counted",
        sub=story.listed.id,
        who=who,
        body={"round": now.round, "appeal": appeal.id, "trace": list(rule)},
    )
    if now.round == 1 and found.then != "settled":
        fair.record([closing])
        return Heard(then="talk", talk=tuple(dict.fromkeys(talk)), rule=rule)
    fair.record([closing])
    outcome, reasons = _outcome(story, told)
    replaced = replace_outcome(
        fair, fair.state.objects[story.listed.id], outcome=outcome, reasons=reasons, members=now.sealed_by, who=who
    )  # fmt: skip
    return Heard(then="decided", talk=(), rule=rule, replaced=replaced)


def _outcome(story: Story, told: Settlement) -> tuple[str, tuple[str, ...]]:
    """The outcome with its reasons; the first outcome where the panel of appeal came to none of its own."""
    if told.outcome not in DECIDES:
        return story.state.outcome, (STANDS,)
    fallen = tuple(r for f in told.findings if f.answer == "falls" for r in f.reasons)
    said = tuple(dict.fromkeys((*told.reasons, *fallen)))
    return str(told.outcome), said or (f"Every claim was heard again: {told.outcome}.",)


def _count(fair: Fair, story: Story, now: Hearing) -> Settlement:
    hung = replace(story, labels=story.labels[:1])
    competent, may = competent_for(fair, story), seating(fair, story).sitting
    ballots = [
        replace(b, competent=b.competent and b.person in competent)
        for b in _ballots(story)
        if b.person in may
    ]
    rules: VotingRules = replace(fair.rules.voting, quorum=now.needed)
    case = circumstances(fair, hung, evident(hung, fair.kit), None, ballots)
    case = replace(case, eligible=len(may))
    return settle(ballots, rules=rules, case=case, round=now.round)


def _ballots(story: Story) -> Sequence[Ballot]:
    return [
        from_body(e.sub, e.who, {**e.body["ballot"], "round": e.body["round"]})
        for e in _sealed(story)
        if "ballot" in e.body
    ]


def _sealed(story: Story) -> list[Happened]:
    """Views sealed on the appeal that is open, in the order in which the log numbered them."""
    appeal = lodged_appeal(story)
    return [
        e
        for e in story.events
        if e.kind == "ballot.appeal" and appeal is not None and e.body["appeal"] == appeal.id
    ]


def _round(story: Story) -> Literal[1, 2]:
    appeal = lodged_appeal(story)
    closed = any(
        e.kind == "appeal.counted" and appeal is not None and e.body["appeal"] == appeal.id
        for e in story.events
    )
    return 2 if closed else 1


def _needed(fair: Fair) -> int:
    return max(terms(fair.rules).members, fair.rules.voting.quorum)


def _open(story: Story, where: str) -> Happened:
    appeal = lodged_appeal(story)
    if appeal is None or story.state.examination != "under_appeal":
        raise refuse(where, "No appeal is open.", "Lodge one first.", code="appeal.none", kind="rule")
    return appeal
