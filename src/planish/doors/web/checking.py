"""The buyer's check page at /check/: no account, and nothing about the fair but its public key and withdrawn seals.

`/check/state/SHA-256` says whether a seal still stands, `/check/code/XXXX-XXXX-X` gives the seal of a typed check code.
"""

from base64 import urlsafe_b64encode

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse, Response

from planish.doors.check import FairOnPage, policy, served
from planish.doors.web.failing import NotThere
from planish.doors.web.looking import desk_of
from planish.errands.opening.serving import Desk
from planish.errands.seals import keys, sealing
from planish.ledger.sealing.codes import NotACode, tidy_check_code

router = APIRouter(include_in_schema=False)
MOST_IN_PAGE = 300
"""So many seals travel with the page, so that a typed code works without a line; more are asked for one by one."""
HEADERS = {"Content-Security-Policy": policy(), "Cache-Control": "no-cache"}


def _files(desk: Desk) -> dict[str, tuple[str, bytes]]:
    """The page as it is now; made anew when anything in the log is."""
    if not desk.begun or not keys.has_key(desk.folder):
        raise NotThere("check page")
    return desk.kept_once("check page", _on_file(desk), lambda: _made(desk))


def _on_file(desk: Desk) -> tuple[int, ...]:
    """Changes when a seal is made or the list of withdrawn ones is signed anew."""
    places = (desk.folder / sealing.SEALS, desk.folder / sealing.SEALS / sealing.WITHDRAWN)
    return tuple(place.stat().st_mtime_ns for place in places if place.exists())


def _made(desk: Desk) -> dict[str, tuple[str, bytes]]:
    fair = desk.fair
    public = keys.public_form(keys.public_keys(desk.folder)[0])
    seals = sealing.all_seals(fair)
    page = FairOnPage(
        name=fair.state.name,
        id=public["id"],
        ed25519=public["ed25519"],
        definitions=fair.rules.definitions,
        withdrawn=sealing.kept_list(fair),
    )
    return served([page], seals if len(seals) <= MOST_IN_PAGE else {})


@router.get("/check")
def to_page() -> RedirectResponse:
    """The page's address ends in a stroke."""
    return RedirectResponse("/check/", status_code=308)


@router.get("/check/state/{digest}")
def state(digest: str, request: Request) -> dict[str, str]:
    """Where a seal stands, by the SHA-256 (hex) of its bytes."""
    desk = desk_of(request)
    if not desk.begun:
        raise NotThere("check page")
    known = desk.kept_once("seal states", desk.fair.state.n, lambda: sealing.states(desk.fair))
    return {"state": known.get(digest, "unknown")}


@router.get("/check/code/{code}")
def by_code(code: str, request: Request) -> dict[str, str]:
    """The seal that a typed check code names."""
    desk = desk_of(request)
    if not desk.begun or len(code) > 24:
        raise NotThere("seal")
    known = desk.kept_once("all seals", _on_file(desk), lambda: sealing.all_seals(desk.fair))
    try:
        found = known.get(tidy_check_code(code))
    except NotACode:
        found = None
    if found is None:
        raise NotThere("seal")
    return {"seal": urlsafe_b64encode(found).rstrip(b"=").decode("ascii")}


@router.get("/check/{name:path}")
def page(name: str, request: Request) -> Response:
    """One file of the page."""
    found = _files(desk_of(request)).get(name)
    if found is None:
        raise NotThere("address")
    return Response(found[1], media_type=found[0], headers=HEADERS)
