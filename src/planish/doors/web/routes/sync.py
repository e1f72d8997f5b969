"""What tablets push and pull. At least once from the tablet, exactly once in effect; see docs/sync.md."""

import json
from collections.abc import Callable, Coroutine
from typing import Annotated, Any

from fastapi import Path, Query, Request, Response
from fastapi.responses import JSONResponse
from fastapi.routing import APIRoute
from pydantic import ValidationError
from starlette.requests import ClientDisconnect

from planish.doors.web import models_floor as models
from planish.doors.web import pulled
from planish.doors.web.areas import area
from planish.doors.web.cards import cards_of
from planish.doors.web.failing import answer
from planish.doors.web.handed import offer_of
from planish.doors.web.looking import CHAIR, LEAD, OFFICE, Looking, Staff
from planish.doors.web.tablet import AnyTablet, OnUnlocked, Revoked, tablet_of, unlocked_or_none, with_fields
from planish.doors.web.views import floor as views
from planish.errands.hall.floor import PROTO, SPEAKS, Floor
from planish.errands.opening.refusing import refuse
from planish.ledger.journal import Draft
from planish.ledger.store import Entry

router = area("tablets")
Which = Annotated[str, Path(max_length=80)]
Count = Annotated[int, Query(ge=0, le=2**53 - 1)]
Word = Annotated[str, Query(max_length=200)]


def _json(content: Any, status: int = 200) -> Response:
    return Response(
        json.dumps(content, ensure_ascii=False, separators=(",", ":")).encode(),
        status_code=status,
        media_type="application/json",
    )


# -- push ---------------------------------------------------------------------------------------------------------------


async def push(given: models.PushGiven, on: AnyTablet) -> Response:
    """Take in what a tablet hands in: one result per event, each durable before it is answered."""
    if given.proto not in SPEAKS:
        return _other_protocol(given.proto)
    floor, tablet = on.floor, on.tablet
    offers = [offer_of(one, tablet.dev) for one in given.events]
    done = await floor.push_soon(tablet, offers, epoch=given.epoch)
    floor.tablets.report(tablet.dev, queue=given.queue, oldest_ms=given.oldest_ms, pictures=given.pictures)
    if tablet.how == "stolen":
        floor.tablets.alarm(tablet.dev, "stolen", f"{tablet.name}, which was stolen, is in the network.")
        return _json({"taken": True})
    results = [
        {
            "id": one.id,
            "status": one.status,
            "n": one.n,
            "why": one.why,
            "last": one.last,
            "epoch": one.epoch,
        }
        for one in done.results
    ]
    return _json(
        {
            "proto": given.proto,
            "epoch": done.head.epoch,
            "results": results,
            "head": {"n": done.head.n, "hash": done.head.hash.hex()},
            "safe_n": done.safe_n,
            "now_ms": floor.desk.now(),
        }
    )


class _InOneStep(APIRoute):
    """A push that is as it should be is read in one step from its bytes: a hall sends hundreds a second.

    Every other one goes FastAPI's way through the same route, so that each failure is told as anywhere.
    """

    def get_route_handler(self) -> Callable[[Request], Coroutine[Any, Any, Response]]:
        """The handler: in one step if it can be."""
        usual = super().get_route_handler()

        async def handle(request: Request) -> Response:
            given = await _well_formed(request)
            return await usual(request) if given is None else await push(given, tablet_of(request))

        return handle


async def _well_formed(request: Request) -> models.PushGiven | None:
    """What was handed in; None when it is not plainly JSON of a known length and of the right form."""
    said = request.headers
    if said.get("content-type") != "application/json" or "content-length" not in said:
        return None
    try:
        return models.PushGiven.model_validate_json(await request.body())
    except (ClientDisconnect, ValidationError):
        return None


router.add_api_route(
    "/push",
    push,
    methods=["POST"],
    operation_id="push",
    responses={200: {"model": views.PushShown}},
    route_class_override=_InOneStep,
)


def _other_protocol(proto: int) -> Response:
    older = proto < min(SPEAKS)
    way = "Press “Update planish” under “My work”." if older else "It is sent when the desk was updated."
    said = answer(
        409,
        "proto",
        "this tablet",
        f"Its planish is {'older' if older else 'newer'} than this desk's, and they do not understand each other.",
        f"What waits stays on the tablet. {way} If that cannot wait, save the work as a file there and bring it to the desk.",
    )
    return with_fields(said, speaks=list(SPEAKS))


# -- pull ---------------------------------------------------------------------------------------------------------------


@router.get("/pull", operation_id="pull", responses={200: {"model": views.PullShown}})
def pull(
    on: OnUnlocked,
    epoch: Word = "",
    after: Count = 0,
    hash: Word = "",
    from_: Annotated[str, Query(alias="from", max_length=80)] = "",
    queue: Annotated[int, Query(ge=0, le=10_000_000)] = 0,
    oldest_ms: Count = 0,
    pictures: Annotated[int, Query(ge=0, le=10_000_000)] = 0,
    proto: Annotated[int, Query(ge=0, le=1_000)] = 1,
) -> Response:
    """Entries after the cursor in order, stubs for what is not for this person; the first pull gives all objects."""
    if proto not in SPEAKS:
        return _other_protocol(proto)
    floor, looking = on.floor, on.looking
    pulled.may_pull(looking)
    dev = on.tablet.dev
    floor.tablets.report(dev, queue=queue, oldest_ms=oldest_ms, pictures=pictures, n=after)
    head = floor.desk.fair.journal.store.head()
    if epoch not in ("", head.epoch):
        return _epoch(floor, dev)
    starting = bool(from_) or (after == 0 and not hash)
    if not starting and not floor.agrees(after, hash):
        floor.rewound(on.tablet, after)
        return _epoch(floor, dev)
    page = (
        pulled.start(floor, looking, after, from_, dev)
        if starting
        else pulled.go_on(floor, looking, after, dev)
    )
    objects, gone = pulled.objects_shown(floor, looking, page)
    said = _page(floor, page, hash, objects, gone)
    return _json(said if proto == PROTO else _as_spoken_before(said))


def _as_spoken_before(said: dict[str, Any]) -> dict[str, Any]:
    """A page for an app of the protocol before: it cannot drop single texts, so it reads its copies again."""
    redacted = said.pop("redacted")
    return {**said, "again": said["again"] or (bool(redacted) and bool(said["entries"]))}


def _page(
    floor: Floor, page: pulled.Page, hash_: str, objects: list[dict[str, Any]], gone: list[str]
) -> dict[str, Any]:
    store = floor.desk.fair.journal.store
    head = store.head()
    return {
        "epoch": head.epoch,
        "entries": page.entries,
        "objects": objects,
        "gone": gone,
        "cards": page.cards,
        "next": {"after": page.after, "hash": page.hash or hash_, "from": page.start},
        "more": page.more,
        "head": {"n": head.n, "hash": head.hash.hex()},
        "safe_n": floor.safe_n(),
        "now_ms": floor.desk.now(),
        "again": page.again,
        "redacted": page.redacted,
    }


def _epoch(floor: Floor, dev: str) -> Response:
    store = floor.desk.fair.journal.store
    last = store.last_of(dev)
    said: JSONResponse = answer(
        409,
        "epoch",
        "the desk",
        "It was restored: what this tablet knows of it no longer holds.",
        "Nothing is lost: the tablet reads everything again and hands in all the desk has not.",
    )
    return with_fields(said, epoch=store.head().epoch, last=last.seq, last_digest=last.digest)


@router.get("/own", operation_id="own_entries", responses={200: {"model": views.OwnShown}})
def own(request: Request, on: AnyTablet, after_seq: Count = 0) -> Response:
    """The tablet's own entries, back after its store was wiped. Texts only with their writer unlocked."""
    if on.tablet.how:
        raise Revoked(on.tablet.how)
    looking = unlocked_or_none(request, on)
    store = on.floor.desk.fair.journal.store
    entries = store.entries_of(on.tablet.dev, after_seq, pulled.MOST_ENTRIES + 1)
    found = [_own(entry, looking) for entry in entries[: pulled.MOST_ENTRIES]]
    more = len(entries) > pulled.MOST_ENTRIES
    return _json({"events": found, "more": more})


def _own(entry: Entry, looking: Looking | None) -> dict[str, Any]:
    event = entry.event
    mine = looking is not None and event.who == looking.who
    texts = [
        {"path": path, "salt": one.salt.hex(), "value": one.value.decode()}
        for path, one in entry.openings.items()
        if mine
    ]
    return {
        "seq": event.seq,
        "n": entry.n,
        "id": event.id,
        "status": entry.status,
        "raw": entry.raw.decode(),
        "open": texts,
    }


@router.post("/heads", operation_id="compare_heads", status_code=200)
def heads(given: models.HeadsGiven, on: AnyTablet) -> views.HeadsAgreed:
    """Heads that a tablet remembers, against the log as it lies now. One that is not there raises an alarm."""
    against = [one.n for one in given.heads if not on.floor.agrees(one.n, one.hash)]
    if against:
        words = f"{on.tablet.name} remembers entry {against[0]} otherwise: this log was rewritten, or is another copy."
        on.floor.tablets.alarm(on.tablet.dev, "rewritten", words)
    return views.HeadsAgreed(agree=not against, against=against)


@router.get("/round", operation_id="walking_round")
def round_(on: OnUnlocked) -> views.RoundShown:
    """One's round: stands with their objects in order."""
    looking = on.looking
    pulled.may_pull(looking)
    state, rules = looking.state, looking.desk.fair.rules
    panels = [panel for panel in state.panels.values() if looking.who in panel.members]
    people = sorted({member for panel in panels for member in panel.members})
    return views.RoundShown(
        fair={"id": on.floor.fair, "name": state.name, "rules": rules.id},
        panels=[
            {
                "id": panel.id,
                "members": list(panel.members),
                "leader": panel.leader,
                "disciplines": list(panel.disciplines),
            }
            for panel in panels
        ],
        people=[{"id": one, "name": state.people[one].name} for one in people if one in state.people],
        stands=[views.RoundStand(**one) for one in pulled.stands_of(looking)],
    )


@router.post("/handed_in", operation_id="handed_in", status_code=200)
def handed_in(given: models.HandedInSaid, on: AnyTablet) -> Response:
    """A revoked tablet has nothing left: it is told to wipe itself."""
    if not on.tablet.how or given.queue:
        raise refuse(
            "this tablet",
            "It is in use, or holds something still." if not given.queue else "It holds something still.",
            "Hand in first.",
            code="handed_in.not_yet",
            kind="rule",
        )
    on.floor.tablets.handed_in(on.tablet.dev)
    said = _json({"wiped": True})
    said.headers["Clear-Site-Data"] = '"cache", "cookies", "storage"'
    return said


# -- cards at the desk --------------------------------------------------------------------------------------------------


@router.get("/cards", operation_id="cards")
def cards(looking: Staff, closed: bool = False) -> list[views.CardShown]:
    """Everything that was recorded and not applied, newest first; closed ones when asked for."""
    looking.must_be(OFFICE | LEAD)
    return [one for one in reversed(cards_of(looking, None)) if closed or not one.closed]


@router.post("/cards/{event}", operation_id="close_card", status_code=201)
def close_card(event: Which, given: models.CardClosed, looking: Staff) -> list[views.CardShown]:
    """Say what becomes of an event; releasing a held one lets it count, and only chair or deputy may."""
    looking.must_be(OFFICE | LEAD)
    known = {card.id: card for card in cards_of(looking, None)}
    if event not in known:
        raise refuse("card", "There is no card of this name for you.", "Look at the list.", code="not_found")
    _close(looking, known[event], given)
    return cards(looking)


def _close(looking: Looking, card: views.CardShown, given: models.CardClosed) -> None:
    note = {"note": given.note} if given.note else {}
    if given.how == "release":
        looking.must_be(CHAIR)
        if card.status != "held":
            raise refuse(
                "card", "Only what is held can be released.", "Write it again instead.", code="card.not_held"
            )
        draft = Draft(kind="held.released", sub=card.id, who=looking.who, body=note)
    else:
        body = {"how": given.how, **note}
        draft = Draft(kind="card.closed", sub=card.id, who=looking.who, body=body)
    looking.desk.fair.record([draft])
