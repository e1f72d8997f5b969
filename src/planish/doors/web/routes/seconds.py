"""A second person who is signed in elsewhere: asked, agreed, taken back. Everything is asked again when they agree."""

from typing import Annotated

from fastapi import Path

from planish.doors.web import models, two, views
from planish.doors.web.areas import area
from planish.doors.web.failing import Denied, NotThere
from planish.doors.web.looking import Looking, Staff, as_person
from planish.errands.opening.refusing import refuse
from planish.errands.panel.evidence import as_hung
from planish.errands.people.seconding import Asked
from planish.ledger.story import Story

router = area("two people", "/seconds")
WhichAsked = Annotated[str, Path(pattern=r"^[0-9a-f]{16}$")]
SIGNERS = frozenset(role for act in two.ACTS.values() for role in (*act.asks, *act.agrees))


@router.post("", operation_id="ask_second", status_code=201)
def ask_second(given: models.TwoAsked, looking: Staff) -> views.WaitingSecond:
    """Ask another signed-in person to agree. It waits half an hour; nothing is recorded before."""
    act = two.ACTS[given.what]
    looking.must_be(act.asks)
    with looking.desk.fair.lock:
        story = two.led(looking, given.object)
        act.ready(looking, story, given)
        asked = looking.desk.waiting.ask(
            what=given.what,
            object_id=given.object,
            by=looking.who,
            at_ms=looking.desk.now(),
            stood=_stood(looking, given.object),
            given=given.model_dump(),
        )
    return _shown(looking, asked, story)


def _stood(looking: Looking, object_id: str) -> tuple[str, ...]:
    """What the log holds of an object's outcome and label: another thing there, and what was asked is no longer that."""
    journal = looking.desk.fair.journal
    return tuple(journal.latest(kind, sub=object_id) for kind in ("outcome.confirmed", "label.sealed"))


def _shown(looking: Looking, asked: Asked, story: Story) -> views.WaitingSecond:
    return views.WaitingSecond(
        id=asked.id,
        what=asked.what,  # type: ignore[arg-type]
        says=two.ACTS[asked.what].says,
        object=story.listed.id,
        stand=story.listed.stand,
        number=story.listed.number,
        text=as_hung(story).text,
        reason=str(asked.given.get("reason", "")),
        by=looking.state.people[asked.by].name,
        minutes=(looking.desk.now() - asked.at_ms) // 60_000,
    )


@router.get("", operation_id="seconds")
def seconds(looking: Staff) -> views.SecondsShown:
    """What waits for you to agree, and what you asked."""
    looking.must_be(SIGNERS)
    mine, yours = [], []
    for asked in looking.desk.waiting.all(looking.desk.now()):
        story = looking.state.objects.get(asked.object_id)
        if story is None:
            continue
        if asked.by == looking.who:
            yours.append(_shown(looking, asked, story))
        elif _may_agree(looking, asked, story):
            mine.append(_shown(looking, asked, story))
    return views.SecondsShown(for_you=mine, from_you=yours)


def _may_agree(looking: Looking, asked: Asked, story: Story) -> bool:
    first = as_person(looking.desk, asked.by)
    if first is None or not looking.sees("labels", story):
        return False
    return two.may_second(first, looking.who, story, two.ACTS[asked.what].agrees)


@router.post("/{asked_id}/agree", operation_id="agree_second", status_code=201)
def agree_second(asked_id: WhichAsked, looking: Staff) -> views.Done:
    """Agree: rights and states of both are asked again, then it is done in the name of who asked, with you as second."""
    looking.must_be(SIGNERS)
    desk = looking.desk
    with desk.fair.lock:
        asked = desk.waiting.take(asked_id, desk.now())
        if asked is None:
            raise NotThere("second signature")
        try:
            return _agreed(looking, asked)
        except (Denied, NotThere):
            desk.waiting.put_back(asked)
            raise


def _agreed(looking: Looking, asked: Asked) -> views.Done:
    act = two.ACTS[asked.what]
    first = as_person(looking.desk, asked.by)
    if first is None or not first.has(act.asks):
        raise refuse(
            "second signature",
            "Whoever asked may no longer do this.",
            "Have somebody else ask.",
            code="second.gone",
            kind="rule",
        )
    story = two.led(first, asked.object_id)
    if not _may_agree(looking, asked, story):
        raise Denied
    if _stood(looking, asked.object_id) != asked.stood:
        raise refuse(
            f"object {asked.object_id}",
            "It was changed since this was asked.",
            "Look at it as it stands now, then ask again.",
            code="second.stale",
            kind="rule",
        )
    given = models.TwoAsked(**asked.given)
    act.ready(first, story, given)
    return views.Done(done=act.do(first, story, given, looking.who), words=f"Signed by both: {act.says}.")


@router.delete("/{asked_id}", operation_id="take_back_second")
def take_back_second(asked_id: WhichAsked, looking: Staff) -> views.Done:
    """Take back what you asked."""
    desk = looking.desk
    asked = desk.waiting.take(asked_id, desk.now())
    if asked is None:
        raise NotThere("second signature")
    if asked.by != looking.who:
        desk.waiting.put_back(asked)
        raise NotThere("second signature")
    return views.Done(done=1, words="Taken back.")
