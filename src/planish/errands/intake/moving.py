"""Moving objects: each move names where from, has two initials and a condition line."""

from planish.errands.opening.wiring import Fair
from planish.ledger.journal import Draft
from planish.ledger.story import Story

PLACES = ("exhibitor", "stand", "table", "laboratory", "safe_keeping", "sold_store", "left_hall")


def move(
    fair: Fair, story: Story, *, to: str, place: str, given_by: str, taken_by: str, condition: str
) -> None:
    """Record one move of one object."""
    body = {
        "from": story.state.whereabouts,
        "to": to,
        "place": place,
        "given_by": given_by,
        "taken_by": taken_by,
        "condition": condition,
    }
    fair.record([Draft(kind="object.moved", sub=story.listed.id, who=taken_by, body=body)])
