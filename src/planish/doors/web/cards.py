"""Cards: every event that was recorded and not applied, with what stands in its place. None is ever left out.

What a card shows of an event is what its reader may see of the entry; a held ballot is shown as a fact, never opened.
"""

from collections.abc import Iterable
from typing import Any

from planish.doors.web.looking import LEAD, OFFICE, Looking
from planish.doors.web.pieces import at_words
from planish.doors.web.views.floor import CardShown
from planish.errands.people.entry_access import Reader, seen
from planish.ledger.chain import Status
from planish.ledger.judging import fill
from planish.ledger.kinds import KINDS
from planish.ledger.store import Entry
from planish.ledger.upcasting import Happened, happened

WORDS: dict[Status, str] = {
    "stale": "Somebody changed it first; both are kept, a person decides.",
    "held": "It waits for a person.",
    "denied": "It was not for this person or this place; it is kept.",
}
LATE = "Written earlier, handed in later."


def cards_of(looking: Looking, ids: Iterable[str] | None, *, own: bool = False) -> list[CardShown]:
    """Cards in the order of the log: those of these events, or all that this reader may see (`own`: one's own)."""
    wanted = None if ids is None else set(ids)
    found = []
    for event in looking.state.cards:
        if wanted is not None and event.id not in wanted:
            continue
        if event.who == looking.who or (not own and _may(looking, event)):
            found.append(_card(looking, event))
    return found


def _may(looking: Looking, event: Happened) -> bool:
    if event.kind in ("ballot.locked", "ballot.appeal"):
        return looking.has(frozenset({"chair", "deputy"}))
    return looking.has(OFFICE | LEAD)


def _card(looking: Looking, event: Happened) -> CardShown:
    store = looking.desk.fair.journal.store
    entry = store.entry_of(event.id)
    return CardShown(
        id=event.id,
        n=event.n,
        status=event.status,
        kind=event.kind,
        sub=event.sub,
        who=event.who,
        dev=event.dev,
        at=at_words(event.recv_ms),
        why=WORDS[event.status],
        yours=fields_shown(looking, entry) if entry is not None else {},
        stands=_standing(looking, event, entry) if entry is not None else None,
        closed=looking.state.closed.get(event.id, ""),
        late=LATE if event.status == "held" and event.kind == "ballot.locked" else "",
    )


def fields_shown(looking: Looking, entry: Entry) -> dict[str, Any]:
    """The fields of an entry that this reader may see."""
    story = looking.state.objects.get(entry.event.sub)
    reader = Reader(
        person=looking.who, roles=looking.viewer.roles, sees=lambda data: looking.sees(data, story)
    )
    allowed = seen(entry.event, reader)
    if allowed is None:
        return {}
    kind = KINDS.get(entry.event.name)
    hidden = (kind.private if kind is not None else frozenset()) - allowed
    return {name: value for name, value in happened(entry).body.items() if name not in hidden}


def _standing(looking: Looking, event: Happened, entry: Entry) -> dict[str, Any] | None:
    """What stands where this event wanted to stand."""
    kind = KINDS.get(event.kind)
    if kind is None or event.status != "stale":
        return None
    store = looking.desk.fair.journal.store
    found = store.look(fill(kind.compares or kind.once, entry.event)) or ""
    there = store.entry_of(found) if found else None
    if there is None:
        return None
    return {
        "id": there.event.id,
        "kind": there.event.name,
        "who": there.event.who,
        "fields": fields_shown(looking, there),
    }
