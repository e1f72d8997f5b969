"""Ballots: one's own only. Locked, they are counted and never shown to anybody else."""

from typing import Annotated

from fastapi import Path

from planish.doors.web import models, views
from planish.doors.web.areas import area
from planish.doors.web.failing import Denied
from planish.doors.web.looking import Looking, Staff
from planish.doors.web.showing import own_ballots
from planish.errands.opening.refusing import refuse
from planish.errands.panel import examining
from planish.errands.panel.ballots import may_vote, unsaid_keys
from planish.errands.panel.evidence import claim_key
from planish.errands.words import labelling
from planish.ledger.story import Story
from planish.records import Answer, Ballot, Years
from planish.records.opinions import ConditionFinding, DateOpinion

router = area("ballots")
Which = Annotated[str, Path(max_length=80)]


@router.post("/ballots", operation_id="lock_ballots", status_code=201)
def lock_ballots(given: models.Ballots, looking: Staff) -> views.Done:
    """Lock one's own view of one object, or of the rest of a shelf: all of them together or none."""
    with looking.desk.fair.lock:
        made = [_ballot(looking, one) for one in given.ballots]
        seen = {(one.object_id, one.round) for one in made}
        if len(seen) < len(made):
            raise refuse("ballots", "One object stands twice.", "Leave one out.", code="ballot.twice")
        on_disk = looking.desk.fair.hand_in(examining.to_lock(looking.desk.fair, made))
    return views.Done(done=len(on_disk()), words="Locked.")


def _ballot(looking: Looking, given: models.NewBallot) -> Ballot:
    story = _votable(looking, given.object)
    if any(cast.who == looking.who and cast.round == given.round for cast in story.ballots):
        raise refuse(
            f"object {given.object}",
            "Your view of this round is locked.",
            "It stays as it is.",
            code="ballot.locked",
            kind="rule",
        )
    if given.round in story.revealed:
        raise refuse(
            f"object {given.object}",
            "This round is closed.",
            "Ask the panel's leader.",
            code="ballot.late",
            kind="rule",
        )
    if given.round == 2 and 1 not in story.revealed:
        raise refuse(
            f"object {given.object}",
            "The first round is not closed yet.",
            "Lock round 1.",
            code="ballot.early",
            kind="rule",
        )
    if given.answers:
        _claims_known(looking, story, [one.claim for one in given.answers])
    made = Ballot(
        object_id=given.object,
        person=looking.who,
        round=given.round,
        answers=tuple(
            Answer(claim=a.claim, verdict=a.verdict, reason=a.reason, instead=tuple(a.instead.items()))
            for a in given.answers
        ),
        date=_date(given.date),
        conditions=tuple(ConditionFinding(**one.model_dump()) for one in given.conditions),
        outcome=given.outcome,
        reasons=tuple(given.reasons),
        wording=given.wording,
        competent=given.competent,
        sets_aside=tuple((one, why) for one, why in given.sets_aside),
    )
    if not given.answers:  # a pass: its label need not be read again
        return made
    return labelling.readable(made, looking.desk.checked(story).reading.claims, looking.desk.fair.kit)


def _votable(looking: Looking, object_id: str) -> Story:
    story = looking.story(object_id)
    if not looking.writes("own_ballot", story):
        raise Denied
    why = may_vote(looking.state, story, looking.who)
    if why:
        raise refuse(f"object {object_id}", why, "Leave it out.", code="ballot.not_eligible", kind="rule")
    if story.state.examination in ("withdrawn", "confirmed", "final"):
        raise refuse(
            f"object {object_id}", "It is settled.", "Ask the chair.", code="ballot.settled", kind="rule"
        )
    return story


def _claims_known(looking: Looking, story: Story, claims: list[str]) -> None:
    on_label = looking.desk.checked(story).reading.claims
    known = {claim_key(claim) for claim in on_label}.union(unsaid_keys(on_label))
    strange = [claim for claim in claims if claim not in known]
    if strange:
        raise refuse(
            f"object {story.listed.id}",
            f"The label makes no claim {strange[0]!r}.",
            "Answer on the claims that the object page shows.",
            code="ballot.no_such_claim",
        )


def _date(given: models.DateSaid | None) -> DateOpinion | None:
    if given is None:
        return None
    if given.earliest > given.latest:
        raise refuse(
            "date", "It ends before it begins.", "Give the earlier year first.", code="date.backwards"
        )
    if given.best is not None and not given.earliest <= given.best <= given.latest:
        raise refuse("date", "The best year lies outside.", "Give a year inside.", code="date.best_outside")
    return DateOpinion(years=Years(given.earliest, given.latest), best=given.best, sure=given.sure)


@router.post("/objects/{object_id}/recusal", operation_id="step_back", status_code=201)
def step_back(object_id: Which, looking: Staff) -> views.Done:
    """Step back from one object. No reason is asked; it cannot be undone."""
    with looking.desk.fair.lock:
        story = looking.story(object_id)
        if not looking.writes("own_ballot", story):
            raise Denied
        round_ = 2 if 1 in story.revealed else 1
        ballot = Ballot(object_id=object_id, person=looking.who, round=round_, recused=True)  # type: ignore[arg-type]
        examining.lock(looking.desk.fair, [ballot])
    return views.Done(done=1, words="You stepped back from this object.")


@router.get("/objects/{object_id}/ballot", operation_id="own_ballot")
def own_ballot(object_id: Which, looking: Staff) -> list[views.OwnBallot]:
    """One's own ballots on one object."""
    story = looking.story(object_id)
    if not looking.writes("own_ballot", story):
        raise Denied
    return own_ballots(looking, story)
