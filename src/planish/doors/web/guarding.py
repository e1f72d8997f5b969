"""What stands before every request: which Host, from which site, how large, and the headers of every answer.

Host allow-list against DNS rebinding (421); unsafe requests only as JSON or bytes and only from this site
(Sec-Fetch-Site, Origin where a browser sends none; neither: refused), after the OWASP cross-site request forgery sheet.
"""

import json
from collections.abc import Iterable
from urllib.parse import urlsplit

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from planish.doors.web.failing import body_of

JSON_LIMIT = 1_048_576
BYTES_LIMIT = 32 * 1_048_576
SAFE = frozenset({"GET", "HEAD", "OPTIONS"})
BYTES = "application/octet-stream"
POLICY = (
    "default-src 'self'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; "
    "font-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)
HEADERS: tuple[tuple[bytes, bytes], ...] = (
    (b"content-security-policy", POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"x-frame-options", b"DENY"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"camera=(self), microphone=(), geolocation=()"),
)
REMEDY = "Open planish at the address that stands on the terminal."


class TooLarge(Exception):
    """More bytes came than were announced or allowed."""


class Guard:
    """The middleware. `hosts` are host names without a port."""

    def __init__(self, app: ASGIApp, *, hosts: Iterable[str]) -> None:
        self.app = app
        self.hosts = frozenset(host.casefold() for host in hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Guard one request."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self.app(scope, receive, send)
            return
        headers = {name.decode("latin-1"): value.decode("latin-1") for name, value in scope["headers"]}
        refusal = self._refusal(scope, headers)
        sending = _with_headers(send)
        if refusal is not None:
            await _refuse(sending, *refusal)
            return
        limit = BYTES_LIMIT if headers.get("content-type", "") == BYTES else JSON_LIMIT
        await self.app(scope, _counted(receive, limit), sending)

    def _refusal(self, scope: Scope, headers: dict[str, str]) -> tuple[int, dict[str, object]] | None:
        if name_of(headers.get("host", "")) not in self.hosts:
            return 421, body_of("host", "address", "This planish does not answer to that name.", REMEDY)
        if scope["method"] in SAFE:
            return None
        if not _same_site(headers):
            return 403, body_of(
                "cross_site", "request", "It does not come from a page of this planish.", REMEDY
            )
        kind = headers.get("content-type", "").partition(";")[0].strip().casefold()
        length = headers.get("content-length", "0")
        bodied = length != "0" or "transfer-encoding" in headers
        if bodied and kind not in ("application/json", BYTES):
            return 415, body_of(
                "content_type", "request", "It is neither JSON nor a file as bytes.", "Send JSON."
            )
        limit = BYTES_LIMIT if kind == BYTES else JSON_LIMIT
        if not length.isdigit() or int(length) > limit:
            return 413, body_of(
                "too_large", "request", f"It is more than {limit} bytes.", "Send less at a time."
            )
        return None


def name_of(host: str) -> str:
    """The host's name without its port."""
    if host.startswith("["):
        return host.partition("]")[0].casefold() + "]"
    return host.partition(":")[0].casefold()


def _same_site(headers: dict[str, str]) -> bool:
    site = headers.get("sec-fetch-site")
    if site is not None:
        return site == "same-origin"
    origin = headers.get("origin")
    return origin is not None and urlsplit(origin).netloc.casefold() == headers.get("host", "").casefold()


def _counted(receive: Receive, limit: int) -> Receive:
    got = 0

    async def counting() -> Message:
        nonlocal got
        message = await receive()
        got += len(message.get("body", b""))
        if got > limit:
            return {"type": "http.disconnect"}
        return message

    return counting


def _with_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            given = {name for name, _ in message["headers"]}
            message["headers"] = [*message["headers"], *(pair for pair in HEADERS if pair[0] not in given)]
            if b"cache-control" not in given:
                message["headers"].append((b"cache-control", b"no-store"))
        await send(message)

    return sending


async def _refuse(send: Send, status: int, body: dict[str, object]) -> None:
    content = json.dumps(body).encode()
    headers = [(b"content-type", b"application/json"), (b"content-length", str(len(content)).encode())]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": content})
