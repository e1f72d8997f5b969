"""What a tablet pulls: entries in order, stubs for what its person may not see, and objects as that person may see them now.

The cursor is (number, hash): it moves only with the data, and a hash that this log does not know shows that the desk
went back in time. The first pull sends no entries but every object, one's own round first.
"""

import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import islice
from typing import Any

from planish.doors.web.cards import cards_of
from planish.doors.web.looking import CHAIR, FLOOR, Looking
from planish.doors.web.showing import object_shown
from planish.doors.web.views.floor import FloorObject
from planish.errands.hall.floor import Floor
from planish.errands.intake.listing import stand_order
from planish.errands.people.entry_access import Reader, seen
from planish.ledger.store import Entry
from planish.ledger.story import Story

MOST_ENTRIES, MOST_OBJECTS, MOST_CHANGED = 500, 40, 12
SECONDS = 2.0
"""A page of objects ends after so long: a desk just started has to read and weigh each of them anew."""
MOST_DELETED = 100
"""When more entries than this lose their text at once, the tablet reads everything again."""
MOST_BYTES = 2_000_000
"""A page ends here, so that a slow line gets something through."""
CLOSING = frozenset({"card.closed", "held.released"})
"""Kinds that say what becomes of a card; whoever wrote the event is told."""
AGAIN = frozenset({"role.given", "role.withdrawn", "conflict.declared", "panel.formed"})
"""Kinds after which the person they name must read everything again: what may be seen has changed."""


@dataclass(slots=True)
class Page:
    """One page of a pull, as it is put together."""

    entries: list[dict[str, Any]] = field(default_factory=list)
    subs: dict[str, None] = field(default_factory=dict)
    after: int = 0
    hash: str = ""
    start: str = ""
    more: bool = False
    again: bool = False
    first: bool = False
    cards: list[dict[str, Any]] = field(default_factory=list)
    redacted: list[dict[str, str]] = field(default_factory=list)


def reader_for(looking: Looking, sub: str) -> Reader:
    """This reader before an entry about `sub`."""
    story = looking.state.objects.get(sub)
    return Reader(
        person=looking.who,
        roles=looking.viewer.roles,
        sees=lambda data: looking.sees(data, story),
    )


def may_pull(looking: Looking) -> None:
    """The laboratory, the appeals panel and exhibitors get no log at all: even stubs would tell counts."""
    looking.must_be(FLOOR - {"laboratory"})


def entry_shown(looking: Looking, entry: Entry) -> tuple[dict[str, Any], bool]:
    """An entry as this reader may see it, and whether it is more than a stub."""
    stub: dict[str, Any] = {"n": entry.n, "leaf": entry.leaf.hex()}
    fields = seen(entry.event, reader_for(looking, entry.event.sub))
    if fields is None:
        return stub, False
    stub |= {"at": entry.recv_ms, "status": entry.status, "raw": entry.raw.decode()}
    stub["open"] = [
        {"path": path, "salt": one.salt.hex(), "value": one.value.decode()}
        for path, one in entry.openings.items()
        if path in fields
    ]
    return stub, True


def go_on(floor: Floor, looking: Looking, after: int, dev: str) -> Page:
    """Entries after a cursor that this log knows, for the tablet `dev`."""
    store = floor.desk.fair.journal.store
    page, size = Page(after=after), 0
    for entry in islice(store.entries(after), MOST_ENTRIES + 1):
        if len(page.entries) >= MOST_ENTRIES or len(page.subs) >= MOST_CHANGED or size > MOST_BYTES:
            page.more = True
            break
        shown, whole = entry_shown(looking, entry)
        page.entries.append(shown)
        size += len(shown.get("raw", "")) + 100
        page.after, page.hash = entry.n, entry.hash.hex()
        if whole:
            _note(page, looking, entry)
        if entry.event.name in CLOSING:
            page.cards += [card.model_dump() for card in cards_of(looking, [entry.event.sub], own=True)]
        if entry.event.name == "opening.redacted" and entry.status == "ok":
            _note_deleted(page, floor, looking, dev, entry)
    return page


def _note_deleted(page: Page, floor: Floor, looking: Looking, dev: str, entry: Entry) -> None:
    """Which texts the tablet must drop: those of its own events by id; of others, what it shows is sent again without.

    A deletion in an entry that is a stub to this reader stays unknown to them.
    """
    ids, path = entry.event.body["ids"], entry.event.body.get("path", "")
    page.again = page.again or len(ids) > MOST_DELETED
    gone = set(ids)
    for id_ in ids:
        found = floor.desk.fair.journal.store.entry_of(id_)
        if found is None:
            continue
        if found.event.dev == dev:
            page.redacted.append({"id": id_, "path": path})
        if seen(found.event, reader_for(looking, found.event.sub)) is not None:
            page.subs[found.event.sub] = None
    for card in cards_of(looking, None, own=True):
        if card.id in gone or (card.stands is not None and card.stands["id"] in gone):
            page.cards.append(card.model_dump())


def _note(page: Page, looking: Looking, entry: Entry) -> None:
    event = entry.event
    page.subs[event.sub] = None
    if event.name in AGAIN and (event.sub == looking.who or looking.who in event.body.get("members", ())):
        page.again = True
    if entry.status != "ok" and event.who == looking.who:
        page.cards += [card.model_dump() for card in cards_of(looking, [event.id])]


def start(floor: Floor, looking: Looking, after: int, last: str, dev: str) -> Page:
    """All objects this reader may see, in pages; the cursor is the head at the first page."""
    head = floor.desk.fair.journal.store.head()
    page = Page(after=after or head.n, hash="" if after else head.hash.hex(), first=True)
    order = in_order(looking)
    begin = order.index(last) + 1 if last in order else 0
    page.subs = dict.fromkeys(order[begin : begin + MOST_OBJECTS])
    page.more = begin + MOST_OBJECTS < len(order)
    page.start = order[begin + MOST_OBJECTS - 1] if page.more else ""
    if not last:
        page.cards = [card.model_dump() for card in cards_of(looking, None, own=True)]
        page.redacted = [{"id": id_, "path": path} for id_, path in floor.deleted_of(dev)]
    return page


def in_order(looking: Looking) -> list[str]:
    """Ids of the objects this reader may see: one's own round first, then stand by stand."""
    may, mine, objects = looking.shown(), in_round(looking), looking.state.objects
    there = (objects.get(one) for one in looking.desk.fair.index.ordered())
    first: list[str] = []
    later: list[str] = []
    for story in there:
        if story is not None and may(story):
            (first if mine(story) else later).append(story.listed.id)
    return first + later


def in_round(looking: Looking) -> Any:
    """Tells of a story whether it is in one's own round: a panel one sits on must see it."""
    panels = [panel for panel in looking.state.panels.values() if looking.who in panel.members]
    everything = not panels and looking.has(CHAIR | {"steward", "scribe", "office"})

    def mine(story: Story) -> bool:
        if everything:
            return True
        wanted = set(story.state.disciplines)
        return any(
            (not panel.disciplines or wanted & set(panel.disciplines))
            and (not panel.stands or story.listed.stand in panel.stands)
            for panel in panels
        )

    return mine


def objects_shown(floor: Floor, looking: Looking, page: Page) -> tuple[list[dict[str, Any]], list[str]]:
    """Objects as they are now for this reader, and ids of those that are not for this reader any more.

    A page of the first pull ends early when it takes long; one of later pulls holds all its entries speak of.
    """
    mine, state = in_round(looking), looking.state
    until = time.monotonic() + SECONDS
    shown: list[dict[str, Any]] = []
    gone = []
    for sub in page.subs:
        story = state.objects.get(sub)
        if story is None:
            continue
        if not looking.sees("labels", story):
            gone.append(sub)
            continue
        shown.append(_object(floor, looking, story, mine(story)))
        if page.first and time.monotonic() > until and sub != [*page.subs][-1]:
            page.more, page.start = True, sub
            break
    return shown, gone


def _object(floor: Floor, looking: Looking, story: Story, mine: bool) -> dict[str, Any]:
    store, sub = floor.desk.fair.journal.store, story.listed.id
    doc = object_shown(looking, story)
    made = FloorObject(
        **doc.model_dump(by_alias=False),
        mine=mine,
        key=_key(story),  # type: ignore[arg-type]
        bases={name: store.look(f"{name}:{sub}") or "" for name in ("label", "exam")},
        n=max((event.n for event in story.events if event.kind not in HIDDEN_KINDS), default=0),
    )
    return made.model_dump(mode="json", by_alias=True)


HIDDEN_KINDS = ("ballot.locked", "ballot.appeal", "ballot.recused")


def _key(story: Story) -> str:
    """ "needs" from a locked case until somebody had the object in hand."""
    for event in reversed(story.events):
        if event.kind == "object.not_found":
            return "needs" if event.body.get("reason") == "locked" else ""
        if event.kind in ("object.presented", "observation.made"):
            return "has"
    return ""


def stands_of(looking: Looking) -> Iterator[Mapping[str, Any]]:
    """The stands of one's round with their objects in order, how many are done and how many left."""
    mine, may = in_round(looking), looking.shown()
    by_stand: dict[str, list[Story]] = {}
    for story in looking.state.objects.values():
        if may(story) and mine(story) and story.state.examination != "withdrawn":
            by_stand.setdefault(story.listed.stand, []).append(story)
    for stand in sorted(by_stand, key=stand_order):
        known = looking.state.stands.get(stand)
        stories = sorted(by_stand[stand], key=lambda one: one.listed.id)
        done = sum(1 for one in stories if any(cast.who == looking.who for cast in one.ballots))
        yield {
            "id": stand,
            "number": known.number if known else stand,
            "zone": known.zone if known else "",
            "exhibitor": known.exhibitor if known and looking.sees("stand_list", stories[0]) else "",
            "objects": [one.listed.id for one in stories],
            "done": done,
            "left": len(stories) - done,
        }
