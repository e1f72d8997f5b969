"""One shape for everything that is not a success: {"problem": {code, where, what, why, remedy}}."""

import logging
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from starlette.exceptions import HTTPException

from planish.errands.opening.refusing import Refused
from planish.errands.people.accounts import Wait
from planish.ledger.store import LedgerBusyError, LedgerError, LedgerFullError
from planish.records import Problem

logger = logging.getLogger("planish.web")
UNKNOWN_CODES = ("object.unknown", "stand.unknown", "not_found")
_PLAIN: dict[int, tuple[str, str, str]] = {
    400: ("request.unreadable", "The request cannot be read.", "Send JSON as docs/serving.md says."),
    404: (
        "not_found",
        "There is nothing at this address.",
        "Look at the address; /api/v1 lists what there is.",
    ),
    405: ("method", "This address does not take this method.", "Look at the address and the method."),
    413: ("too_large", "It is too large.", "Send less at a time."),
}


class Denied(Exception):
    """Signed in, and not for this reader."""


class NotSignedIn(Exception):
    """Nobody is signed in, or the session is over."""


class NotThere(Exception):
    """There is nothing here, or nothing for this reader: the two look the same."""

    def __init__(self, where: str = "address") -> None:
        super().__init__(where)
        self.where = where


def body_of(code: str, where: str, what: str, remedy: str, why: str = "") -> dict[str, Any]:
    """The one shape."""
    return {"problem": {"code": code, "where": where, "what": what, "why": why, "remedy": remedy}}


def answer(status: int, code: str, where: str, what: str, remedy: str, why: str = "") -> JSONResponse:
    """A failure as a response that nobody keeps."""
    return JSONResponse(
        body_of(code, where, what, remedy, why), status_code=status, headers={"Cache-Control": "no-store"}
    )


def of_problem(status: int, problem: Problem) -> JSONResponse:
    """A Problem as a response."""
    return answer(status, problem.code or "refused", problem.where, problem.what, problem.remedy, problem.why)


def install(app: FastAPI) -> None:
    """Give every failure of `app` the one shape."""
    app.add_exception_handler(Refused, _refused)
    app.add_exception_handler(LedgerError, _ledger)
    app.add_exception_handler(Denied, _denied)
    app.add_exception_handler(NotSignedIn, _not_signed_in)
    app.add_exception_handler(NotThere, _not_there)
    app.add_exception_handler(Wait, _wait)
    app.add_exception_handler(RequestValidationError, _invalid)
    app.add_exception_handler(HTTPException, _http)
    app.add_exception_handler(Exception, _broken)


async def _refused(_: Request, error: Exception) -> JSONResponse:
    assert isinstance(error, Refused)
    problem = error.problems[0]
    if problem.code in UNKNOWN_CODES:
        return of_problem(404, problem)
    if problem.code == "ledger.denied":
        return of_problem(403, problem)
    return of_problem({"input": 400, "rule": 409, "ledger": 503}[error.kind], problem)


async def _ledger(_: Request, error: Exception) -> JSONResponse:
    status = 507 if isinstance(error, LedgerFullError) else 503
    remedy = (
        "Wait a moment and repeat." if isinstance(error, LedgerBusyError) else "Call whoever keeps this desk."
    )
    return answer(status, "ledger", "the fair's log", str(error), remedy)


async def _denied(_: Request, __: Exception) -> JSONResponse:
    return answer(
        403,
        "not_yours",
        "this address",
        "It is not for your role, or not yet.",
        "Ask the chair if you think it should be.",
    )


async def _not_signed_in(_: Request, __: Exception) -> JSONResponse:
    return answer(401, "sign_in", "session", "Nobody is signed in here.", "Sign in, then repeat.")


async def _not_there(_: Request, error: Exception) -> JSONResponse:
    where = error.where if isinstance(error, NotThere) else "address"
    return answer(404, "not_found", where, "There is nothing here for you.", "Look at the number.")


async def _wait(_: Request, error: Exception) -> JSONResponse:
    seconds = error.seconds if isinstance(error, Wait) else 60
    said = answer(
        429,
        "wait",
        "sign-in",
        "Too many wrong tries from this device.",
        f"Try again in {seconds} seconds, or use another device.",
    )
    said.headers["Retry-After"] = str(seconds)
    return said


async def _invalid(_: Request, error: Exception) -> JSONResponse:
    """Says which field, never what was in it."""
    assert isinstance(error, RequestValidationError)
    first = error.errors()[0] if error.errors() else {"loc": ("body",), "msg": "It cannot be read."}
    where = ".".join(str(part) for part in first["loc"])
    return answer(
        422, "request.invalid", where[:200], f"{str(first['msg'])[:200]}.", "Put this field right and repeat."
    )


async def _http(_: Request, error: Exception) -> JSONResponse:
    assert isinstance(error, HTTPException)
    code, what, remedy = _PLAIN.get(
        error.status_code, ("request", "It cannot be done.", "Look at the request.")
    )
    said = answer(error.status_code, code, "address", what, remedy)
    if error.headers and "Allow" in error.headers:
        said.headers["Allow"] = error.headers["Allow"]
    return said


async def _broken(_: Request, error: Exception) -> JSONResponse:
    logger.error("A request could not be answered.", exc_info=error)
    return answer(
        500,
        "fault",
        "planish",
        "Something in planish went wrong; nothing recorded before is lost.",
        "Repeat it once; if it happens again, note the time and tell whoever keeps this desk.",
    )
