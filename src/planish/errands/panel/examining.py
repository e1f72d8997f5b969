"""Examining: observations and ballots into the log; the count, its outcome, and what led to it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import Fair
from planish.errands.panel.ballots import eligible, may_vote, sealed_in_order, second_round_open, to_body
from planish.errands.panel.evidence import Evident, claim_key, evident, speaks_of_whole
from planish.errands.panel.stakes import fragile
from planish.errands.record.rippling import leaned_on
from planish.errands.telling.recalling import witness
from planish.ledger.bodies import observation_body
from planish.ledger.journal import Draft
from planish.ledger.replay import FairState
from planish.ledger.story import Story
from planish.reasoning.settling import agree_on_dates, recount, settle
from planish.reasoning.settling.seeing import below_floor, result_only
from planish.records import (
    Ballot,
    Circumstances,
    DateAgreement,
    Finding,
    Observation,
    Settlement,
    VotingRules,
)
from planish.records.opinions import Outcome

DECIDED = ("confirmed", "final", "under_appeal", "withdrawn")
"""Examinations that no count changes: only reopening or an appeal does."""
MOVES_THE_COUNT = ("ballot.", "observation.", "held.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """One object's count with the evidence beside it: two tracks, shown together and never multiplied.

    `settlement` holds counts for the rooms that reckon with them; `recounted` is the rule in words, without counts.
    """

    story: Story
    evident: Evident
    settlement: Settlement
    recounted: tuple[str, ...]
    casting: Outcome | None = None


def observe(fair: Fair, observations: Sequence[Observation]) -> int:
    """Record observations; returns how many. A correction names the observation it corrects."""
    drafts = [
        Draft(
            kind="observation.corrected" if seen.corrects else "observation.made",
            sub=seen.object_id,
            who=seen.by,
            body=_body(seen),
        )
        for seen in observations
    ]
    return len(fair.record(drafts))


def _body(seen: Observation) -> dict[str, object]:
    body = observation_body(seen)
    return body if seen.corrects else {name: value for name, value in body.items() if name != "corrects"}


def lock(fair: Fair, ballots: Sequence[Ballot]) -> int:
    """Lock ballots and recusals; returns how many. Refuses, before anything is written, who may not vote and why."""
    return len(fair.record(to_lock(fair, ballots)))


def to_lock(fair: Fair, ballots: Sequence[Ballot]) -> list[Draft]:
    """What locking these ballots writes. Refuses who may not vote, and why."""
    state = fair.state
    drafts = []
    for ballot in ballots:
        story = state.objects[ballot.object_id]
        why = _why_not(state, story, ballot)
        if why:
            raise refuse(
                f"ballot of {ballot.person} on {ballot.object_id}",
                f"It cannot be taken. {why}",
                "Nothing of this call was recorded. Leave this ballot out, or have the chair look at the panel.",
                code="ballot.not_eligible",
                kind="rule",
            )
        drafts.append(_ballot(ballot, _panel_of(fair, ballot.person)))
    return drafts


def _why_not(state: FairState, story: Story, ballot: Ballot) -> str:
    if ballot.recused:
        return ""
    if ballot.round == 2 and not second_round_open(story):
        return "No second round is open: the first is still to be counted, or it came to an outcome."
    return may_vote(state, story, ballot.person)


def _panel_of(fair: Fair, person: str) -> str:
    return next((panel.id for panel in fair.state.panels.values() if person in panel.members), "")


def _ballot(ballot: Ballot, panel: str) -> Draft:
    if ballot.recused:
        return Draft(kind="ballot.recused", sub=ballot.object_id, who=ballot.person)
    body = {"round": ballot.round, "panel": panel, "ballot": to_body(ballot)}
    return Draft(kind="ballot.locked", sub=ballot.object_id, who=ballot.person, body=body)


def count(fair: Fair, story: Story, *, casting: Outcome | None = None) -> Settled:
    """Count one object as it stands. Writes nothing. A casting vote cast before stays while no ballot came since."""
    seen = evident(story, fair.kit)
    casting = casting or cast_before(story)
    ballots = ballots_of(fair, story)
    case = circumstances(fair, story, seen, casting, ballots)
    settlement = settle(ballots, rules=fair.rules.voting, case=case)
    settlement = below_floor(settlement, fair.rules.voting)
    return Settled(
        story=story,
        evident=seen,
        settlement=settlement,
        recounted=uncounted(settlement, fair.rules.voting),
        casting=casting,
    )


def cast_before(story: Story) -> Outcome | None:
    """The casting vote on record, None when there is none or a ballot, a recusal or a reopening came after it."""
    last = next((e for e in reversed(story.outcomes) if e.kind == "outcome.proposed"), None)
    if last is None or any(
        e.n > last.n and e.kind.startswith(("ballot.locked", "ballot.recused", "examination."))
        for e in story.events
    ):
        return None
    cast = last.body.get("casting")
    return cast if cast in ("relabel", "refer") else None


def uncounted(settlement: Settlement, rules: VotingRules) -> tuple[str, ...]:
    """The rule step by step as anybody who reads the outcome may have it: no number of votes in it."""
    if 0 < settlement.counted < rules.split_floor:
        return result_only(settlement)
    return recount(settlement, counts=False)


def findings(fair: Fair, story: Story) -> tuple[Finding, ...]:
    """The panel's answer per claim out of the ballots alone: no evidence is weighed, so it is quick."""
    return settle(ballots_of(fair, story), rules=fair.rules.voting).findings


def as_voted_on(story: Story) -> Story:
    """The object with the label versions that were there when its last ballot was locked."""
    last = max((e.n for e in story.events if e.kind == "ballot.locked"), default=None)
    if last is None:
        return story
    later = {e.body["version"] for e in story.events if e.kind.startswith("label.") and e.n > last}
    before = {e.body["version"] for e in story.events if e.kind.startswith("label.") and e.n < last}
    kept = tuple(label for label in story.labels if label.version not in later - before)
    return replace(story, labels=kept or story.labels[:1])


def ballots_of(fair: Fair, story: Story) -> list[Ballot]:
    """All ballots of one object from people who sit on a panel, with who is competent for it. For counting only."""
    competent = competent_for(fair, story)
    seated = {member for panel in fair.state.panels.values() for member in panel.members}
    return [
        replace(b, competent=b.competent and b.person in competent)
        for b in sealed_in_order(story)
        if b.person in seated
    ]


def disturbed(story: Story) -> bool:
    """True when somebody stepped back after a round was closed: a second look at the split would give a ballot away."""
    closed = [event.n for event in story.events if event.kind == "round.revealed"]
    return bool(closed) and any(cast.n > min(closed) for cast in story.recused)


def competent_for(fair: Fair, story: Story) -> set[str]:
    """Who is of the object's disciplines, or of every discipline."""
    wanted = set(story.state.disciplines)
    people = fair.state.people.values()
    return {
        person.id for person in people if not person.disciplines or wanted.intersection(person.disciplines)
    }


def circumstances(
    fair: Fair, story: Story, seen: Evident, casting: Outcome | None, ballots: Sequence[Ballot]
) -> Circumstances:
    """What bears on the count beside the single ballots, `ballots` being those that will be counted.

    Only claims that somebody answered are counted: silence on the rest is no objection (a pass is one tap).
    """
    weighed = {}
    copy = None
    if seen.weighing is not None and not seen.weighing.blocked and speaks_of_whole(seen):
        by_id = {claim.id: claim_key(claim) for claim in seen.reading.claims}
        weighed = {by_id[w.claim.id]: w.probability for w in seen.weighing.claims if w.claim.id in by_id}
        copy = seen.weighing.copy.probability if seen.weighing.copy is not None else None
    forbidden, clause = forbidden_by_law(seen, fair)
    turns = fragile(story.listed.id, ballots, fair.rules.voting.split_floor)
    return Circumstances(
        relabel_forbidden=forbidden,
        law_clause=clause,
        eligible=eligible(fair.state, story),
        binding=seen.binding,
        evidence=weighed,
        copy=copy,
        dates=_years_apart(ballots, fair.rules.voting),
        fragile=turns,
        costly=turns and fair.dearest.holds(story),
        casting=casting,
    )


def _years_apart(ballots: Sequence[Ballot], rules: VotingRules) -> DateAgreement | None:
    """How far the years proposed in the last round agree; None when fewer than two proposed any."""
    held = max((b.round for b in ballots), default=1)
    away = {b.person for b in ballots if b.recused}
    dated = {
        b.person: b.date
        for b in reversed(ballots)
        if b.date is not None and b.round == held and b.person not in away
    }
    return agree_on_dates(list(dated.values()), rules) if len(dated) > 1 else None


def forbidden_by_law(seen: Evident, fair: Fair) -> tuple[str, str]:
    """Why a law in force does not let honest words cure the object, as its label reads, and the clause that asks.

    Empty without such a law. It takes relabel off the table and sends the object to those who may decide.
    """
    for answer in seen.checked.answers:
        if answer.answer != "cannot_tell":
            continue
        for fact in (fair.kit.book.look(one).fact for one in answer.facts):
            says = fact.more.get("forbids_relabel") if fact is not None else None
            if fact is not None and isinstance(says, str):
                return f"{says} {fact.source} ({witness(fact)}).", answer.clause
    return "", ""


def propose(fair: Fair, settled: Sequence[Settled]) -> int:
    """Record what each count gives: the reveal that lets the panel talk, or the proposed outcome. Returns how many."""
    drafts = [draft for one in settled for draft in _proposal(fair, one)]
    if drafts:
        fair.record(drafts)
    return len(drafts)


def _proposal(fair: Fair, one: Settled) -> list[Draft]:
    """What the count gives, as events. What is decided is never proposed anew: it is reopened first, with a reason."""
    settlement, story = one.settlement, one.story
    state, who = story.state, _leader(fair, story)
    if state.examination in DECIDED:
        return []
    drafts = []
    no_longer = settlement.then == "talk" and state.examination == "proposed"
    if settlement.counted and (settlement.round not in story.revealed or no_longer):
        drafts.append(
            Draft(kind="round.revealed", sub=story.listed.id, who=who, body={"round": settlement.round})
        )
    if settlement.then == "talk" or settlement.outcome is None:
        return drafts
    already = story.outcomes[-1].body.get("outcome") if story.outcomes else None
    if not drafts and already == settlement.outcome and state.examination in ("proposed", "referred"):
        return []
    body: dict[str, object] = {
        "outcome": settlement.outcome,
        "round": settlement.round,
        "needs": min(fair.rules.voting.quorum, settlement.counted),
        "clauses": sorted({step.clause for step in settlement.steps if step.clause}),
        "reasons": list(_reasons(one)),
        "trace": list(one.recounted),
        "facts": leaned_on(one.evident, fair.kit),
    }
    if one.casting is not None and any(step.rule == "casting" for step in settlement.steps):
        body["casting"] = one.casting
    return [*drafts, Draft(kind="outcome.proposed", sub=story.listed.id, who=who, body=body)]


def _reasons(one: Settled) -> tuple[str, ...]:
    if one.settlement.outcome == "accept":
        return ()
    fallen = tuple(r for f in one.settlement.findings if f.answer == "falls" for r in f.reasons)
    clashes = tuple(clash.sentence for clash in one.evident.clashes if clash.hard)
    return tuple(dict.fromkeys((*one.settlement.reasons, *fallen, *clashes)))


def _leader(fair: Fair, story: Story) -> str:
    wanted = set(story.state.disciplines)
    for panel in fair.state.panels.values():
        if panel.leader and (not panel.disciplines or wanted.intersection(panel.disciplines)):
            return panel.leader
    return next((panel.leader for panel in fair.state.panels.values() if panel.leader), "office")


def confirm_too_late(fair: Fair, story: Story, *, base: str, who: str) -> None:
    """When somebody changed the examination since the proposal `base` was read, the confirming is kept and refused."""
    sub = story.listed.id
    proposed = next((e for e in story.events if e.id == base and e.kind == "outcome.proposed"), None)
    if proposed is None or fair.journal.store.look(f"exam:{sub}") == base:
        return
    body = {"outcome": proposed.body["outcome"], "reasons": list(proposed.body.get("reasons", ()))}
    if body["outcome"] == "remove":
        return
    fair.record([Draft(kind="outcome.confirmed", sub=sub, who=who, body=body, base=base)])


def confirm(fair: Fair, object_ids: Sequence[str], *, who: str, second: str) -> int:
    """Confirm proposed outcomes; removal needs a second person. Returns how many were confirmed.

    What happened since the proposal is counted first: an outcome that the ballots no longer give is not confirmed.
    """
    drafts = []
    for object_id in object_ids:
        story = fair.state.objects[object_id]
        if story.state.examination != "proposed" or story.state.outcome == "refer":
            continue
        if _moved_on(story) and count(fair, story).settlement.outcome != story.state.outcome:
            continue
        body = {"outcome": story.state.outcome, "reasons": list(story.outcomes[-1].body.get("reasons", ()))}
        if story.state.outcome == "remove":
            body["second"] = second
        drafts.append(Draft(kind="outcome.confirmed", sub=object_id, who=who, body=body))
    if drafts:
        fair.record(drafts)
    return len(drafts)


def _moved_on(story: Story) -> bool:
    """True when something that may change the count came after the proposal."""
    told = story.outcomes[-1].n
    return any(e.n > told and e.kind.startswith(MOVES_THE_COUNT) for e in story.events)
