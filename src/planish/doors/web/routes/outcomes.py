"""Outcomes: counted, confirmed, made final, opened again; readable text deleted. Two people where the rules ask for two."""

from typing import Annotated, Any

from fastapi import Path

from planish.doors.web import models, two, views
from planish.doors.web.areas import area
from planish.doors.web.looking import CHAIR, LEAD, Looking, Staff
from planish.doors.web.showing import answer_shown, object_shown, split_shown
from planish.errands.panel import examining
from planish.ledger.journal import Draft
from planish.reasoning.settling import recount

router = area("outcomes")
Which = Annotated[str, Path(max_length=80)]
NO_SPLIT = "The split is not shown to you now: below the rule book's floor, not closed, or your own view is not locked."


@router.post("/objects/{object_id}/count", operation_id="count_object", status_code=201)
def count_object(object_id: Which, given: models.CountAsked, looking: Staff) -> views.CountShown:
    """Close the round and count: an outcome is proposed, or the panel talks and votes again. A casting vote is the chair's."""
    looking.must_be(LEAD)
    if given.casting is not None:
        looking.must_be(CHAIR)
    fair = looking.desk.fair
    with fair.lock:
        story = two.led(looking, object_id)
        settled = examining.count(fair, story, casting=given.casting)
        if settled.settlement.then == "waiting":
            raise two.rule(
                object_id,
                "No ballot is locked, so there is nothing to count.",
                "Lock ballots first.",
                "settle.no_ballots",
            )
        examining.propose(fair, [settled])
        settlement = examining.count(fair, fair.state.objects[object_id], casting=given.casting).settlement
    story = fair.state.objects[object_id]
    may = looking.sees_split(story)
    return views.CountShown(
        answer=answer_shown(settlement, triggers=may),
        split=split_shown(settlement) if may else None,
        trace=list(recount(settlement, counts=may)),
        split_withheld="" if may else NO_SPLIT,
    )


def asked_of(looking: Looking, what: models.TwoAct, object_id: str, **more: Any) -> models.TwoAsked:
    """What is asked of two people, about an object that is there for this reader: an address may hold anything."""
    looking.must_be(two.ACTS[what].asks)
    looking.story(object_id)
    return models.TwoAsked(what=what, object=object_id, **more)


def by_two(
    looking: Looking, asked: models.TwoAsked, given: models.SecondPerson | None, *, removal_only: bool = False
) -> int:
    """Do one of the acts of two people, at once, with the second signing at this desk."""
    act = two.ACTS[asked.what]
    looking.must_be(act.asks)
    with looking.desk.fair.lock:
        story = two.led(looking, asked.object)
        act.ready(looking, story, asked)
        one_is_enough = removal_only and story.state.outcome != "remove"
        second = "" if one_is_enough else two.signed(looking, given, story, act.agrees)
        return act.do(looking, story, asked, second)


@router.post("/objects/{object_id}/confirm", operation_id="confirm_outcome", status_code=201)
def confirm_outcome(object_id: Which, given: models.ConfirmAsked, looking: Staff) -> views.ObjectShown:
    """Confirm the proposed outcome. A removal needs a second person."""
    looking.must_be(LEAD)
    asked = asked_of(looking, "confirm", object_id)
    with (
        looking.desk.fair.lock
    ):  # one lock over both: between them somebody else could confirm and this text be lost
        if given.base:
            story = two.led(looking, object_id)
            examining.confirm_too_late(looking.desk.fair, story, base=given.base, who=looking.who)
        by_two(looking, asked, given.second, removal_only=True)
    return object_shown(looking, looking.story(object_id))


@router.post("/objects/{object_id}/final", operation_id="make_final", status_code=201)
def make_final(object_id: Which, given: models.FinalAsked, looking: Staff) -> views.ObjectShown:
    """Make a confirmed outcome final: appeal time is over, or there is nothing to appeal."""
    asked = asked_of(looking, "final", object_id)
    by_two(looking, asked, given.second, removal_only=True)
    return object_shown(looking, looking.story(object_id))


@router.post("/objects/{object_id}/reopen", operation_id="reopen", status_code=201)
def reopen(object_id: Which, given: models.ReopenAsked, looking: Staff) -> views.ObjectShown:
    """Look again at something decided, with a second person."""
    asked = asked_of(looking, "reopen", object_id, reason=given.reason)
    by_two(looking, asked, given.second)
    return object_shown(looking, looking.story(object_id))


@router.post("/objects/{object_id}/refer", operation_id="refer", status_code=201)
def refer(object_id: Which, given: models.ReferAsked, looking: Staff) -> views.ObjectShown:
    """Send an object to another panel, the laboratory or the chair."""
    looking.must_be(LEAD | {"member", "scribe", "office"})
    fair = looking.desk.fair
    with fair.lock:
        story = two.led(looking, object_id)
        if story.state.examination in ("confirmed", "final", "withdrawn"):
            raise two.rule(object_id, "It is settled.", "Reopen it first.", "refer.settled")
        body = {"to": given.to, **({"words": given.words} if given.words else {})}
        fair.record([Draft(kind="object.referred", sub=object_id, who=looking.who, body=body)])
    return object_shown(looking, looking.story(object_id))


@router.post("/objects/{object_id}/redact", operation_id="redact", status_code=201)
def redact(object_id: Which, given: models.RedactAsked, looking: Staff) -> views.Done:
    """Delete the readable text of one entry about an object, with a second person; the log still verifies."""
    asked = asked_of(looking, "redact", object_id, entry=given.entry, field=given.field, ground=given.ground)
    gone = by_two(looking, asked, given.second)
    return views.Done(done=gone, words=f"{gone} texts were deleted; backups made before still hold them.")
