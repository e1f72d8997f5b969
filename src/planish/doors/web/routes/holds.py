"""Holds: put on by anybody on the floor, taken off at the desk by its name. Adding always wins."""

from typing import Annotated

from fastapi import Path

from planish.doors.web import models, views
from planish.doors.web.areas import area
from planish.doors.web.looking import FLOOR, OFFICE, Staff
from planish.doors.web.showing import object_shown
from planish.doors.web.two import rule
from planish.ledger.journal import Draft
from planish.ledger.story import Story

router = area("objects")
Which = Annotated[str, Path(max_length=80)]


@router.post("/objects/{object_id}/holds", operation_id="place_hold", status_code=201)
def place_hold(object_id: Which, given: models.HoldPlaced, looking: Staff) -> views.ObjectShown:
    """Hold an object: a query, a species, assay law, a paper, an incident, a dispute."""
    looking.must_be(FLOOR)
    fair = looking.desk.fair
    with fair.lock:
        story = looking.story(object_id)
        body = {
            "hold": _name(story, given.sort),
            "sort": given.sort,
            "off_floor": given.off_floor,
            "reason": given.reason,
        }
        fair.record([Draft(kind="hold.placed", sub=object_id, who=looking.who, body=body)])
    return object_shown(looking, looking.story(object_id))


def _name(story: Story, sort: str) -> str:
    """A name no hold of this object ever had: the sort, with a number from the second on."""
    used = {str(event.body["hold"]) for event in story.events if event.kind == "hold.placed"}
    count = 2
    name = sort
    while name in used:
        name, count = f"{sort}-{count}", count + 1
    return name


@router.post("/objects/{object_id}/holds/lift", operation_id="lift_hold", status_code=201)
def lift_hold(object_id: Which, given: models.HoldLifted, looking: Staff) -> views.ObjectShown:
    """Lift one hold, named, with the reason."""
    looking.must_be(OFFICE)
    fair = looking.desk.fair
    with fair.lock:
        story = looking.story(object_id)
        if given.hold not in story.state.holds:
            raise rule(object_id, "No such hold is on it.", "Look at it as it stands now.", "hold.none")
        body = {"hold": given.hold, "reason": given.reason}
        fair.record([Draft(kind="hold.lifted", sub=object_id, who=looking.who, body=body)])
    return object_shown(looking, looking.story(object_id))
