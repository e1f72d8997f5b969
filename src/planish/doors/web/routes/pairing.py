"""Pairing a tablet, PINs, unlocking, and the desk's list of tablets."""

from typing import Annotated

import segno
from fastapi import Body, Path, Request, Response
from pydantic import ValidationError

from planish.doors.web import models_floor as models
from planish.doors.web.areas import area
from planish.doors.web.handed import offer_of
from planish.doors.web.looking import CHAIR, Staff, client_of, looking_or_none, token_of
from planish.doors.web.pieces import at_words
from planish.doors.web.routes.session import put_session
from planish.doors.web.tablet import (
    DEVICE,
    LASTS_S,
    PAIRING,
    AFloor,
    AnyTablet,
    InUse,
    NotPaired,
    cookie_name,
    put_cookie,
    unlocked_or_none,
)
from planish.doors.web.views import floor as views
from planish.errands.hall.floor import SPEAKS, Floor
from planish.errands.hall.pairing import LASTS_MS, Asking
from planish.errands.hall.tablets import Tablet
from planish.errands.opening.refusing import refuse

router = area("tablets")
Which = Annotated[str, Path(max_length=80)]
KEEPERS = frozenset({"office", "chair", "deputy", "steward"})


# -- at the desk --------------------------------------------------------------------------------------------------------


@router.post("/devices/codes", operation_id="new_pairing_code", status_code=201)
def new_code(request: Request, looking: Staff, floor: AFloor) -> views.CodeShown:
    """A code for one tablet: good once, for ten minutes. It stands behind `#`, so that it reaches no log."""
    looking.must_be(KEEPERS)
    made = floor.pairing.new_code(looking.who)
    scheme = "https" if request.app.state.https else "http"
    url = f"{scheme}://{request.headers.get('host', '')}/pair#{made.long}"
    return views.CodeShown(
        code=made.long,
        qr=segno.make(url, error="m", micro=False).svg_inline(scale=4, border=4, light="#fff"),
        typed=f"{made.typed[:4]}-{made.typed[4:]}",
        url=url,
        seconds=LASTS_MS // 1000,
    )


@router.get("/devices", operation_id="tablets")
def tablets(looking: Staff, floor: AFloor) -> views.TabletsShown:
    """Every tablet with what it last said of itself, those that wait to be paired, and alarms."""
    looking.must_be(KEEPERS)
    return views.TabletsShown(
        tablets=[_tablet(floor, one) for one in floor.tablets.all()],
        waiting=[_waiting(one) for one in floor.pairing.waiting()],
        alarms=[
            views.AlarmShown(at=at_words(one.at_ms), dev=one.dev, code=one.code, words=one.words)
            for one in floor.tablets.alarms()
        ],
    )


def _tablet(floor: Floor, tablet: Tablet) -> views.TabletShown:
    report, now = tablet.report, floor.desk.now()
    checks = dict(report.checks or {})
    return views.TabletShown(
        dev=tablet.dev,
        name=tablet.name,
        state=tablet.how or "paired",  # type: ignore[arg-type]
        signs=bool(tablet.key),
        people=list(floor.desk.fair.state.shared.get(tablet.dev, ())),
        paired=at_words(tablet.paired_ms),
        seen=at_words(report.seen_ms),
        seen_s=max(0, now - report.seen_ms) // 1000,
        queue=report.queue,
        oldest_s=report.oldest_ms // 1000,
        pictures=report.pictures,
        behind=max(0, floor.desk.fair.journal.store.head().n - report.n),
        handed_in=at_words(tablet.handed_in_ms) if tablet.handed_in_ms else "",
        checks=checks,
    )


def _waiting(asking: Asking) -> views.WaitingShown:
    return views.WaitingShown(
        pairing=asking.id,
        words=list(asking.words),
        name=asking.name,
        again=asking.again,
        at=at_words(asking.at_ms),
        signs=bool(asking.key),
        checks=dict(asking.checks),
    )


@router.post("/devices/waiting/{pairing}/yes", operation_id="pair_yes", status_code=201)
def say_yes(pairing: Which, given: models.PairYes, looking: Staff, floor: AFloor) -> views.TabletsShown:
    """The four words on both screens agree: pair this tablet for a person."""
    looking.must_be(KEEPERS)
    floor.say_yes(pairing, by=looking.who, person=given.person, name=given.name)
    return tablets(looking, floor)


@router.post("/devices/waiting/{pairing}/no", operation_id="pair_no", status_code=201)
def say_no(pairing: Which, looking: Staff, floor: AFloor) -> views.TabletsShown:
    """The words differ, or nobody knows this tablet."""
    looking.must_be(KEEPERS)
    floor.say_no(pairing)
    return tablets(looking, floor)


@router.post("/devices/files", operation_id="take_file", status_code=201)
def take_file(
    looking: Staff, floor: AFloor, content: Annotated[bytes, Body(media_type="application/octet-stream")]
) -> views.FileTaken:
    """Take in the file that a tablet saved because it cannot reach the desk. A second time changes nothing."""
    looking.must_be(KEEPERS)
    file = _work_file(content)
    if file.tablet.fair != floor.fair:
        raise refuse("file", "It is of another fair.", "Take the right file.", code="file.fair")
    dev = file.tablet.dev
    offers = [offer_of(one, dev) for one in sorted(file.events, key=lambda one: one.seq)]
    results = floor.take_file(dev, offers, by=looking.who, chair=looking.has(CHAIR))
    return views.FileTaken(
        dev=dev,
        fresh=sum(one.stored and one.status != "have" for one in results),
        known=sum(one.status == "have" for one in results),
        cards=sum(one.status in ("stale", "held", "denied") for one in results),
        left=sum(not one.stored for one in results),
        why=next((one.why for one in results if not one.stored), ""),
    )


def _work_file(content: bytes) -> models.WorkFile:
    try:
        return models.WorkFile.model_validate_json(content)
    except ValidationError as error:
        what = "It is not the file that a tablet saves, or it is cut short."
        raise refuse("file", what, "Save it again on the tablet.", code="file.form") from error


@router.post("/devices/{dev}/people", operation_id="share_tablet", status_code=201)
def share(dev: Which, given: models.PersonNamed, looking: Staff, floor: AFloor) -> views.TabletsShown:
    """Let another person set a PIN on this tablet, or somebody a new one, within ten minutes."""
    looking.must_be(KEEPERS)
    floor.share(dev, given.person, by=looking.who)
    return tablets(looking, floor)


@router.post("/devices/{dev}/revoke", operation_id="revoke_tablet", status_code=201)
def revoke(dev: Which, given: models.RevokeAsked, looking: Staff, floor: AFloor) -> views.TabletsShown:
    """Take a tablet out of use. Lost: it hands in, then wipes. Stolen: what it sends is kept and it is told nothing."""
    looking.must_be(KEEPERS - {"steward"})
    floor.revoke(dev, given.how, by=looking.who)
    return tablets(looking, floor)


# -- on the tablet ------------------------------------------------------------------------------------------------------


@router.post("/pair", operation_id="pair", status_code=201)
def pair(given: models.PairAsked, request: Request, response: Response, floor: AFloor) -> views.AskedShown:
    """Give the code back and ask to be paired."""
    asked = floor.ask(
        given.code,
        key=given.key,
        nonce=given.nonce,
        name=given.name,
        again=given.again,
        checks=given.checks,
        client=client_of(request),
    )
    put_cookie(request, response, PAIRING, f"{asked.id}.{asked.secret}", LASTS_MS // 1000)
    return views.AskedShown(
        pairing=asked.id,
        words=list(asked.words),
        desk_key=floor.key.public,
        fair=floor.fair,
        fair_name=floor.desk.fair.state.name,
    )


@router.get("/pair/state", operation_id="pair_state")
def pair_state(request: Request, response: Response, floor: AFloor) -> views.PairingShown:
    """Where the pairing of this tablet stands; with the yes the tablet gets its cookie."""
    pairing, _, secret = request.cookies.get(cookie_name(request, PAIRING), "").partition(".")
    asking = floor.pairing.of(pairing, secret)
    if asking is None:
        return views.PairingShown(state="gone")
    if asking.state == "yes":
        put_cookie(request, response, DEVICE, asking.token, LASTS_S)
    needs = asking.state == "yes" and not floor.tablets.people(asking.dev).get(asking.person, False)
    return views.PairingShown(
        state=asking.state,
        dev=asking.dev,
        fair=floor.fair,
        person=asking.person,
        needs_pin=needs,
        words=list(asking.words),
    )


@router.post("/pair/pin", operation_id="set_pin", status_code=204)
def set_pin(given: models.PinGiven, on: InUse) -> Response:
    """Set one's PIN on this tablet, once, within ten minutes after the desk named the person."""
    on.floor.tablets.set_pin(on.tablet.dev, given.person, given.pin)
    return Response(status_code=204)


@router.post("/unlock", operation_id="unlock", status_code=201)
def unlock(given: models.PinGiven, request: Request, response: Response, on: InUse) -> views.UnlockedShown:
    """Unlock this tablet as a person. Five wrong PINs and the tablet waits; other tablets do not."""
    token = on.floor.unlock(on.tablet, given.person, given.pin)
    old = token_of(request)
    if old:
        on.floor.desk.accounts.end(old)
        on.floor.tablets.unbind(old)
    put_session(request, response, token)
    looking = looking_or_none(request)
    if looking is None or looking.person is None:
        raise NotPaired
    return views.UnlockedShown(who=looking.who, name=looking.person.name, roles=sorted(looking.viewer.roles))


@router.post("/lock", operation_id="lock_tablet", status_code=204)
def lock(request: Request, on: AnyTablet) -> Response:
    """Lock this tablet; the session ends."""
    token = token_of(request)
    if token:
        on.floor.desk.accounts.end(token)
        on.floor.tablets.unbind(token)
    return Response(status_code=204)


@router.get("/device", operation_id="device")
def device(request: Request, on: AnyTablet) -> views.DeviceShown:
    """What this tablet may know of itself and of the desk with nobody unlocked."""
    floor, tablet = on.floor, on.tablet
    store, state = floor.desk.fair.journal.store, floor.desk.fair.state
    head, last = store.head(), store.last_of(tablet.dev)
    looking = unlocked_or_none(request, on)
    names = {} if tablet.how else floor.tablets.people(tablet.dev)
    return views.DeviceShown(
        dev=tablet.dev,
        name=tablet.name,
        state=tablet.how or "paired",  # type: ignore[arg-type]
        fair=floor.fair,
        fair_name=state.name,
        people=[
            views.PersonOnTablet(
                id=person, name=state.people[person].name if person in state.people else person, pin=pin
            )
            for person, pin in names.items()
        ],
        who=looking.who if looking is not None else "",
        epoch=head.epoch,
        head=views.HeadShown(n=head.n, hash=head.hash.hex()),
        safe_n=floor.safe_n(),
        last_seq=last.seq,
        last_digest=last.digest,
        now_ms=floor.desk.now(),
        tls=bool(request.app.state.https),
        proto=list(SPEAKS),
    )


@router.post("/hello", operation_id="hello", status_code=201)
def hello(given: models.HelloAsked, on: AnyTablet) -> views.HelloShown:
    """The desk shows which desk it is: its signature over the tablet's nonce."""
    return views.HelloShown(sig=on.floor.key.hello(on.floor.fair, given.nonce), desk_key=on.floor.key.public)
