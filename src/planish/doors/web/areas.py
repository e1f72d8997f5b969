"""How an area of the API is opened: `router = area("objects")`. Its routes are whole at once and lie in one flat list.

FastAPI's nested inclusion looks for an address in every area several times over; a flat list is looked through once.
"""

from typing import Any

from fastapi import APIRouter

from planish.doors.web import views

PREFIX = "/api/v1"
FAILURES: dict[int | str, dict[str, Any]] = {
    status: {"model": views.Failure, "description": words}
    for status, words in {
        400: "What was given cannot be used.",
        401: "Nobody is signed in.",
        403: "Not for this reader, or not yet.",
        404: "There is nothing here for this reader.",
        409: "A clause or a state forbids it.",
        413: "Too large.",
        415: "Neither JSON nor bytes.",
        422: "A field is not as it should be.",
        429: "Too many wrong tries; wait.",
        503: "The log cannot take or give it now.",
    }.items()
}


def area(tag: str, under: str = "") -> APIRouter:
    """A router for one area, `under` a further word of the address."""
    return APIRouter(prefix=f"{PREFIX}{under}", tags=[tag], responses=FAILURES)
