"""The application: the guard, the API, the front end's files."""

from collections.abc import AsyncIterator, Iterable
from contextlib import asynccontextmanager
from pathlib import Path

from fastapi import FastAPI
from fastapi.responses import FileResponse, Response

from planish import __version__
from planish.doors.web import checking, failing, tablet
from planish.doors.web.areas import PREFIX
from planish.doors.web.guarding import Guard
from planish.doors.web.intakes import Intakes
from planish.doors.web.routes import (
    ballots,
    blobs,
    bringing_back,
    counter,
    fair,
    holds,
    intake,
    knowing,
    objects,
    outcomes,
    pairing,
    panel,
    papers,
    record,
    sealing,
    seconds,
    session,
    sync,
    wording,
)
from planish.doors.web.safekeeper import Safekeeper
from planish.errands.opening.serving import Desk

STATIC = Path(__file__).parent.parent / "floor" / "static"
LOOPBACK = ("127.0.0.1", "localhost", "[::1]")
MANIFEST = "application/manifest+json"
AREAS = (
    sync,  # first: an address is looked for in this order, and the hall asks these most
    pairing,
    blobs,
    session,
    bringing_back,
    fair,
    intake,
    objects,
    holds,
    ballots,
    outcomes,
    seconds,
    wording,
    sealing,
    panel,
    papers,
    record,
    knowing,
    counter,
)


def create_app(
    desk: Desk, *, hosts: Iterable[str] = (), https: bool = False, static: Path = STATIC
) -> FastAPI:
    """The application over one desk. `hosts` are further names it answers to, besides the loopback's."""

    @asynccontextmanager
    async def lifespan(_: FastAPI) -> AsyncIterator[None]:
        app.state.floors.warm()
        yield
        app.state.floors.close()
        desk.close()

    app = FastAPI(
        title="planish",
        version=__version__,
        summary="What a label claims, what the object shows, and the words a panel can sign.",
        openapi_url=f"{PREFIX}/openapi.json",
        docs_url=None,
        redoc_url=None,
        lifespan=lifespan,
        redirect_slashes=False,
        telemetry={"tracing": False, "metrics": False, "logs": False},  # nothing is told to anybody
    )
    app.state.desk, app.state.https = desk, https
    app.state.intakes, app.state.floors = Intakes(desk), tablet.Floors(desk)
    app.state.safekeeper = Safekeeper(desk)
    for area in AREAS:
        app.router.routes.extend(area.router.routes)
    failing.install(app)
    tablet.install(app)
    app.add_middleware(Guard, hosts=(*LOOPBACK, *hosts))
    app.router.routes.extend(checking.router.routes)
    _serve_front(app, static)
    return app


def _serve_front(app: FastAPI, static: Path) -> None:
    """The built front end: files by name from a list made now, everything else that is no API path is index.html."""
    known = {f"/{path.relative_to(static).as_posix()}": path for path in static.rglob("*") if path.is_file()}
    index, floor = known.get("/index.html"), known.get("/floor.html")

    @app.get("/{path:path}", include_in_schema=False)
    def front(path: str) -> Response:
        if path == "api" or path.startswith("api/"):
            raise failing.NotThere("address")
        found = known.get(f"/{path}")
        if found is not None and found != index:
            hashed = "/assets/" in f"/{path}"
            keep = "public, max-age=31536000, immutable" if hashed else "no-cache"
            media = MANIFEST if path.endswith(".webmanifest") else None
            return FileResponse(found, headers={"Cache-Control": keep}, media_type=media)
        if floor is not None and path.strip("/") in ("floor", "pair"):
            return FileResponse(floor, headers={"Cache-Control": "no-cache"})
        if index is not None and "." not in path.rpartition("/")[2]:
            return FileResponse(index, headers={"Cache-Control": "no-cache"})
        if index is None and path == "":
            words = "planish is running. Its pages are not built here; the API is at /api/v1/openapi.json.\n"
            return Response(words, media_type="text/plain; charset=utf-8")
        raise failing.NotThere("address")


def operations(app: FastAPI) -> list[tuple[str, str, str]]:
    """(method, path, operation id) of every route of the API."""
    return [
        (method.upper(), path, str(said["operationId"]))
        for path, methods in app.openapi()["paths"].items()
        for method, said in methods.items()
    ]
