"""Which tablet asks, and who is unlocked on it. A tablet is recognised by its cookie, a person by the session a PIN opened."""

import json
import threading
from dataclasses import dataclass
from typing import Annotated

from fastapi import Depends, FastAPI, Request, Response
from fastapi.responses import JSONResponse

from planish.doors.web.failing import answer
from planish.doors.web.looking import Looking, desk_of, looking_or_none, quickly, token_of
from planish.errands.hall.floor import Floor, TooMuch
from planish.errands.hall.tablets import Tablet
from planish.errands.opening.serving import Desk

DEVICE, PAIRING = "planish_device", "planish_pairing"
LASTS_S = 400 * 24 * 60 * 60
"""The longest that browsers keep a cookie."""


class NotPaired(Exception):
    """This browser is no paired tablet."""


class Locked(Exception):
    """Nobody is unlocked on this tablet."""


class Revoked(Exception):
    """The tablet was revoked: it may hand in and nothing else."""

    def __init__(self, how: str) -> None:
        super().__init__(how)
        self.how = how


class Floors:
    """The floor of the desk, opened when first asked for: a desk that is being set up has none yet."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._floor: Floor | None = None
        self._lock = threading.Lock()

    def get(self) -> Floor:
        """The floor; refuses while there is no fair."""
        with self._lock:
            if self._floor is None:
                _ = self._desk.fair  # refuses in words while there is none
                self._floor = Floor(self._desk)
                self._floor.watch.start()
            return self._floor

    def warm(self) -> None:
        """Read packs and rules before the first tablet asks, while the desk answers already."""
        if self._desk.begun:
            threading.Thread(target=lambda: self._desk.fair.kit.book, name="warm", daemon=True).start()

    def close(self) -> None:
        """Let go."""
        if self._floor is not None:
            self._floor.close()


@dataclass(frozen=True, slots=True)
class OnTablet:
    """A request from a paired tablet."""

    floor: Floor
    tablet: Tablet


@dataclass(frozen=True, slots=True)
class Unlocked:
    """A request from a paired tablet on which somebody is unlocked."""

    floor: Floor
    tablet: Tablet
    looking: Looking


def cookie_name(request: Request, name: str) -> str:
    """A cookie's name: bound to this host over TLS."""
    return f"__Host-{name}" if request.app.state.https else name


def put_cookie(request: Request, response: Response, name: str, value: str, seconds: int) -> None:
    """Set a cookie that scripts cannot read and that goes to this site only."""
    response.set_cookie(
        cookie_name(request, name),
        value,
        max_age=seconds,
        httponly=True,
        samesite="strict",
        secure=bool(request.app.state.https),
        path="/",
    )


def floor_of(request: Request) -> Floor:
    """The floor of this process."""
    floors: Floors = request.app.state.floors
    return floors.get()


async def any_tablet(request: Request) -> OnTablet:
    """A tablet, revoked or not. A look into a table in memory: no thread is needed."""
    return tablet_of(request)


def tablet_of(request: Request) -> OnTablet:
    """The tablet that asks."""
    if not desk_of(request).begun:
        raise NotPaired
    floor = floor_of(request)
    token = request.cookies.get(cookie_name(request, DEVICE), "")
    tablet = floor.tablets.known(token) if token else None
    if tablet is None:
        raise NotPaired
    return OnTablet(floor, tablet)


async def tablet_in_use(request: Request) -> OnTablet:
    """A tablet that was not revoked."""
    return in_use(request)


def in_use(request: Request) -> OnTablet:
    """The tablet that asks, when it was not revoked."""
    found = tablet_of(request)
    if found.tablet.how:
        raise Revoked(found.tablet.how)
    return found


async def unlocked(request: Request) -> Unlocked:
    """A tablet in use on which somebody is unlocked."""
    return await quickly(request, unlocked_now)


def unlocked_now(request: Request) -> Unlocked:
    """The tablet that asks, when somebody is unlocked on it."""
    on = in_use(request)
    looking = unlocked_or_none(request, on)
    if looking is None:
        raise Locked
    return Unlocked(on.floor, on.tablet, looking)


def unlocked_or_none(request: Request, on: OnTablet) -> Looking | None:
    """Who is unlocked on this tablet, None for nobody."""
    token = token_of(request)
    if not token or on.floor.tablets.bound(token) != on.tablet.dev:
        return None
    return looking_or_none(request)


def install(app: FastAPI) -> None:
    """Give what only tablets meet the one shape of failures."""
    app.add_exception_handler(NotPaired, _not_paired)
    app.add_exception_handler(Locked, _locked)
    app.add_exception_handler(Revoked, _revoked)
    app.add_exception_handler(TooMuch, _too_much)


async def _not_paired(_: Request, __: Exception) -> JSONResponse:
    return answer(
        401,
        "device",
        "this tablet",
        "It is not paired with this desk.",
        "Ask the desk for a code and pair it.",
    )


async def _locked(_: Request, __: Exception) -> JSONResponse:
    return answer(
        401, "unlock", "this tablet", "Nobody is unlocked on it.", "Enter your PIN, then it goes on."
    )


async def _revoked(_: Request, error: Exception) -> JSONResponse:
    assert isinstance(error, Revoked)
    said = answer(
        403,
        "revoked",
        "this tablet",
        "It was taken out of use at the desk. It may hand in what it holds and reads nothing more.",
        "Bring it to the desk.",
    )
    return with_fields(said, how=error.how)


async def _too_much(_: Request, error: Exception) -> JSONResponse:
    seconds = error.seconds if isinstance(error, TooMuch) else 60
    said = answer(
        429, "quota", "this tablet", "It hands in more than its share.", f"It goes on in {seconds} seconds."
    )
    said.headers["Retry-After"] = str(seconds)
    return said


def with_fields(said: JSONResponse, **fields: object) -> JSONResponse:
    """The same failure with further fields beside the problem, for programs."""
    content = {**json.loads(bytes(said.body)), **fields}
    return JSONResponse(content, status_code=said.status_code, headers={"Cache-Control": "no-store"})


AnyTablet = Annotated[OnTablet, Depends(any_tablet)]
InUse = Annotated[OnTablet, Depends(tablet_in_use)]
OnUnlocked = Annotated[Unlocked, Depends(unlocked)]
AFloor = Annotated[Floor, Depends(floor_of)]
