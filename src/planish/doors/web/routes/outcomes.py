"""Outcomes: counted, confirmed, made final, opened again; readable text deleted. Two people where the rules ask for two."""

from typing import Annotated

from fastapi import APIRouter, Path

from planish.doors.web import models, views
from planish.doors.web.failing import Denied
from planish.doors.web.looking import CHAIR, LEAD, OFFICE, Looking, Staff
from planish.doors.web.showing import answer_shown, object_shown, split_shown
from planish.errands import examining
from planish.errands.refusing import Refused, refuse
from planish.ledger.journal import Draft
from planish.ledger.story import Story
from planish.reasoning.settling import recount

router = APIRouter(tags=["outcomes"])
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
        story = _led(looking, object_id)
        settled = examining.count(fair, story, casting=given.casting)
        if settled.settlement.then == "waiting":
            raise _rule(
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


def _led(looking: Looking, object_id: str) -> Story:
    """The object, for somebody who leads and has no conflict with it."""
    story = looking.story(object_id)
    if looking.at(story).conflicted:
        raise Denied
    return story


def _rule(object_id: str, what: str, remedy: str, code: str) -> Refused:
    return refuse(f"object {object_id}", what, remedy, code=code, kind="rule")


def _second(looking: Looking, given: models.SecondPerson | None, story: Story, roles: frozenset[str]) -> str:
    """The second person, who signed with the own passphrase, is another person, and has no conflict here."""
    if given is None:
        raise refuse(
            "second",
            "A second person must agree to this.",
            "Have one sign at this desk.",
            code="second.needed",
            kind="rule",
        )
    if given.person == looking.who:
        raise refuse(
            "second",
            "The second person is another person.",
            "Have somebody else sign.",
            code="second.same",
            kind="rule",
        )
    known = looking.state.people.get(given.person)
    right = looking.desk.accounts.opens(given.person, given.passphrase, client=looking.client)
    if not right or known is None:
        raise refuse(
            "second", "The two do not belong together.", "Look at the spelling.", code="second.wrong"
        )
    conflict = story.listed.stand in known.conflicts or story.listed.id in known.object_conflicts
    if conflict or not known.roles & roles:
        raise refuse(
            "second",
            "This person may not sign here.",
            "Have another sign.",
            code="second.not_yours",
            kind="rule",
        )
    return known.id


@router.post("/objects/{object_id}/confirm", operation_id="confirm_outcome", status_code=201)
def confirm_outcome(object_id: Which, given: models.ConfirmAsked, looking: Staff) -> views.ObjectShown:
    """Confirm the proposed outcome. A removal needs a second person."""
    looking.must_be(LEAD)
    fair = looking.desk.fair
    with fair.lock:
        story = _led(looking, object_id)
        state = story.state
        if state.examination != "proposed" or state.outcome == "refer":
            raise _rule(
                object_id, "Nothing is proposed that could be confirmed.", "Count first.", "confirm.nothing"
            )
        second = _second(looking, given.second, story, LEAD) if state.outcome == "remove" else ""
        examining.confirm(fair, [object_id], who=looking.who, second=second)
    return object_shown(looking, looking.story(object_id))


@router.post("/objects/{object_id}/final", operation_id="make_final", status_code=201)
def make_final(object_id: Which, given: models.FinalAsked, looking: Staff) -> views.ObjectShown:
    """Make a confirmed outcome final: appeal time is over, or there is nothing to appeal."""
    looking.must_be(OFFICE)
    fair = looking.desk.fair
    with fair.lock:
        story = _led(looking, object_id)
        state = story.state
        if state.examination != "confirmed" or state.outcome == "refer":
            raise _rule(
                object_id, "Nothing is confirmed that could be made final.", "Confirm first.", "final.nothing"
            )
        body = {"outcome": state.outcome}
        if state.outcome == "remove":
            body["second"] = _second(looking, given.second, story, OFFICE)
        fair.record([Draft(kind="outcome.final", sub=object_id, who=looking.who, body=body)])
    return object_shown(looking, looking.story(object_id))


@router.post("/objects/{object_id}/reopen", operation_id="reopen", status_code=201)
def reopen(object_id: Which, given: models.ReopenAsked, looking: Staff) -> views.ObjectShown:
    """Look again at something decided, with a second person."""
    looking.must_be(CHAIR)
    fair = looking.desk.fair
    with fair.lock:
        story = _led(looking, object_id)
        if story.state.examination not in ("confirmed", "final", "referred"):
            raise _rule(object_id, "It is not decided.", "Go on with it.", "reopen.open")
        body = {"reason": given.reason, "second": _second(looking, given.second, story, LEAD | OFFICE)}
        fair.record([Draft(kind="examination.reopened", sub=object_id, who=looking.who, body=body)])
    return object_shown(looking, looking.story(object_id))


@router.post("/objects/{object_id}/refer", operation_id="refer", status_code=201)
def refer(object_id: Which, given: models.ReferAsked, looking: Staff) -> views.ObjectShown:
    """Send an object to another panel, the laboratory or the chair."""
    looking.must_be(LEAD | {"member", "scribe", "office"})
    fair = looking.desk.fair
    with fair.lock:
        story = _led(looking, object_id)
        if story.state.examination in ("confirmed", "final", "withdrawn"):
            raise _rule(object_id, "It is settled.", "Reopen it first.", "refer.settled")
        body = {"to": given.to, **({"words": given.words} if given.words else {})}
        fair.record([Draft(kind="object.referred", sub=object_id, who=looking.who, body=body)])
    return object_shown(looking, looking.story(object_id))


@router.post("/objects/{object_id}/redact", operation_id="redact", status_code=201)
def redact(object_id: Which, given: models.RedactAsked, looking: Staff) -> views.Done:
    """Delete the readable text of one entry about an object, with a second person; the log still verifies."""
    looking.must_be(CHAIR)
    fair = looking.desk.fair
    with fair.lock:
        story = _led(looking, object_id)
        event = next((one for one in story.events if one.n == given.entry), None)
        if event is None:
            raise refuse(
                f"entry {given.entry}",
                "It is not about this object.",
                "Look at the history.",
                code="entry.unknown",
            )
        if event.kind.startswith("ballot."):
            raise _rule(
                object_id,
                "A ballot is not deleted while its fair lasts.",
                "See the rules of retention.",
                "redact.ballot",
            )
        second = _second(looking, given.second, story, OFFICE)
        body = {"ids": [event.id], "ground": given.ground, "second": second}
        if given.field:
            body["path"] = given.field
        fair.record([Draft(kind="opening.redacted", sub=fair.state.id, who=looking.who, body=body)])
        gone = fair.journal.store.redact([event.id], given.field or "")
        fair.forget()
        looking.desk.forget()
    return views.Done(done=gone, words=f"{gone} texts were deleted; backups made before still hold them.")
