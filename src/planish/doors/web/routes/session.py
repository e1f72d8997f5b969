"""Signing in and out, one's own passphrase, and set-up."""

import secrets

from fastapi import Request, Response

from planish.doors.web import models, views
from planish.doors.web.areas import area
from planish.doors.web.failing import answer
from planish.doors.web.looking import (
    COOKIE,
    SAFE_COOKIE,
    Anyone,
    Looking,
    OpenDesk,
    client_of,
    looking_or_none,
    token_of,
)
from planish.errands.opening import rulebooks
from planish.errands.opening.refusing import Refused, refuse
from planish.errands.opening.serving import Desk
from planish.errands.people import access
from planish.errands.people.accounts import LASTS_MS

router = area("session")
FIRST = "saltmere"
"""The rule book offered first at set-up: its quorum of three is what a small panel can reach."""


@router.get("/session", operation_id="session_now")
def session_now(request: Request, desk: OpenDesk) -> views.SessionNow:
    """Whether a fair was made, and who is signed in here. Needs nobody signed in."""
    found = looking_or_none(request)
    return views.SessionNow(
        begun=desk.begun,
        set_up_needed=bool(desk.setup_code),
        fair=desk.fair.state.name if desk.begun else "",
        me=me(found) if found is not None else None,
    )


def me(looking: Looking) -> views.Me:
    """Who is signed in and which areas are theirs."""
    known = looking.person
    stand = looking.viewer.stand
    name = known.name if known else looking.state.stands[stand].exhibitor
    return views.Me(
        id=known.id if known else stand,
        name=name,
        kind="person" if known else "card",
        roles=sorted(looking.viewer.roles),
        stand=stand,
        panels=sorted(p.id for p in looking.state.panels.values() if known and known.id in p.members),
        may=sorted(
            data
            for data in access.MATRIX
            if any(access.letter(data, role) != "–" for role in looking.viewer.roles)  # type: ignore[arg-type]
        ),
    )


@router.post("/session", operation_id="sign_in", status_code=201)
def sign_in(given: models.SignIn, request: Request, response: Response, desk: OpenDesk) -> views.Me:
    """Sign in as a person. A new token each time; one that came with the request ends."""
    known = desk.fair.state.people.get(given.person)
    right = desk.accounts.opens(given.person, given.passphrase, client=client_of(request))
    if not right or known is None or not known.roles:
        raise _wrong()
    return _begin(request, response, given.person, "person")


@router.post("/session/card", operation_id="sign_in_with_card", status_code=201)
def sign_in_with_card(
    given: models.CardSignIn, request: Request, response: Response, desk: OpenDesk
) -> views.Me:
    """Sign in as the exhibitor of a stand with the code on the card."""
    stand = desk.accounts.opens_card(given.code, client=client_of(request))
    if stand is None or stand not in desk.fair.state.stands:
        raise _wrong()
    return _begin(request, response, stand, "card")


def _wrong() -> Refused:
    return refuse(
        "sign-in",
        "The two do not belong together.",
        "Look at the spelling; the office can give a new passphrase or card.",
        code="sign_in.wrong",
    )


def _begin(request: Request, response: Response, who: str, kind: str) -> views.Me:
    desk = request.app.state.desk
    old = token_of(request)
    if old:
        desk.accounts.end(old)
    token = desk.accounts.begin(who, kind)
    put_session(request, response, token)
    found = looking_or_none(request)
    if found is None:
        raise _wrong()
    return me(found)


def put_session(request: Request, response: Response, token: str) -> None:
    """Give the browser a session, in force for the rest of this request too."""
    https = bool(request.app.state.https)
    response.set_cookie(
        SAFE_COOKIE if https else COOKIE,
        token,
        max_age=LASTS_MS // 1000,
        httponly=True,
        samesite="strict",
        secure=https,
        path="/",
    )
    request.cookies.clear()
    request.cookies[SAFE_COOKIE if https else COOKIE] = token


@router.delete("/session", operation_id="sign_out", status_code=204)
def sign_out(request: Request, desk: OpenDesk) -> Response:
    """Sign out; the token opens nothing any more."""
    token = token_of(request)
    if desk.begun and token:
        desk.accounts.end(token)
    gone = Response(status_code=204)
    gone.delete_cookie(SAFE_COOKIE if request.app.state.https else COOKIE, path="/")
    return gone


@router.post("/session/passphrase", operation_id="change_passphrase", status_code=204)
def change_passphrase(given: models.NewPassphrase, looking: Anyone) -> Response:
    """Change one's own passphrase; every session of this person ends."""
    if looking.session.kind != "person":
        raise refuse(
            "passphrase", "A card has a code.", "The office makes a new card.", code="passphrase.card"
        )
    if not looking.desk.accounts.opens(looking.who, given.old, client=looking.client):
        raise _wrong()
    looking.desk.accounts.set_passphrase(looking.who, given.new)
    return Response(status_code=204)


@router.get("/setup", operation_id="set_up_now")
def set_up_now(desk: OpenDesk) -> views.SetUpNow:
    """Whether set-up is needed, and the rule books on file."""
    names = sorted(rulebooks.on_file(), key=lambda name: (name != FIRST, name))
    books = [rulebooks.read(name)[0] for name in names] if desk.setup_code else []
    return views.SetUpNow(
        needed=bool(desk.setup_code),
        fair_begun=desk.begun,
        rulebooks=[
            views.RuleBookOnFile(id=b.id, fair=b.fair, version=b.version, quorum=b.voting.quorum)
            for b in books
        ],
    )


def right_code(desk: Desk, code: str) -> bool:
    """True when it is the code that stands on the terminal; a wrong one is counted."""
    right = secrets.compare_digest(code.strip().encode(), desk.setup_code.encode())
    desk.wrong_codes += not right
    return right


def wrong_code() -> Response:
    """The answer to a wrong set-up code."""
    return answer(
        403,
        "setup.code",
        "code",
        "It is not the code on the terminal.",
        "Copy it from where planish was started.",
    )


@router.post(
    "/setup",
    operation_id="set_up",
    status_code=201,
    responses={403: {"model": views.Failure}},
    response_model=views.Me,
)
def set_up(given: models.SetUp, request: Request, response: Response, desk: OpenDesk) -> views.Me | Response:
    """Make the fair and its first chair, with the code that stands on the terminal; signs the chair in."""
    if not desk.setup_code:
        raise refuse("set-up", "It was done already.", "Sign in instead.", code="setup.done", kind="rule")
    if not right_code(desk, given.code):
        return wrong_code()
    if given.rules not in rulebooks.on_file():
        known = ", ".join(rulebooks.on_file())
        raise refuse(
            "rules", "There is no such rule book on file.", f"On file: {known}.", code="rules.unknown"
        )
    desk.begin(
        rules=given.rules,
        name=given.name,
        opens=given.opens,
        chair=given.chair,
        chair_name=given.chair_name,
        passphrase=given.passphrase,
    )
    return _begin(request, response, given.chair, "person")
