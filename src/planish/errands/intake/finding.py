"""Finding an object by what a person types: its id, stand/number, or a number alone when only one stand has it."""

from planish.errands.opening.refusing import refuse
from planish.ledger.replay import FairState
from planish.ledger.story import Story


def find(state: FairState, typed: str) -> Story:
    """The one object meant by `typed` ("7-014", "7/14" or "14"); refuses none and more than one with the way out."""
    if typed in state.objects:
        return state.objects[typed]
    stand, _, number = typed.partition("/")
    if number:
        hits = [s for s in state.objects.values() if s.listed.stand == stand and s.listed.number == number]
    else:
        hits = [s for s in state.objects.values() if s.listed.number == typed]
    hits = [s for s in hits if s.state.examination != "withdrawn"] or hits
    if len(hits) == 1:
        return hits[0]
    if not hits:
        raise refuse(
            f"object {typed}",
            "No object has this id or number.",
            "Give STAND/NUMBER as on the list, for example 7/14; planish show lists them.",
            code="object.unknown",
        )
    where = ", ".join(f"{s.listed.stand}/{s.listed.number} ({s.listed.id})" for s in hits[:6])
    raise refuse(
        f"object {typed}",
        f"{len(hits)} objects have this number.",
        f"Say which: {where}.",
        code="object.which",
    )
