"""Pairing: a code made at the desk is given back once by a tablet, four words are compared, somebody says yes.

The code has 128 bits in the QR picture (behind `#`, so that it reaches no log) and 40 bits when typed; both work once,
for ten minutes. The four words hang on the code, the tablet's key and the desk's key: somebody in between would have to
show one side other words. Lives in memory; a desk that was restarted asks for a new code.
"""

import hmac
import secrets
import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from hashlib import sha256
from typing import Literal

from planish.errands.people.accounts import CARD_LETTERS
from planish.ledger.daywords import WORDS

LASTS_MS = 10 * 60 * 1000
LONG, SHORT = 26, 8
"""Signs of the code in the picture (130 bits drawn, 128 needed) and of the typed one (40 bits)."""
MOST_WAITING = 500
_LIKE = str.maketrans("OIL", "011", " -")
State = Literal["waiting", "yes", "no", "gone"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Code:
    """A code that was made: the long and the typed form, until when, and by whom."""

    long: str
    typed: str
    until_ms: int
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Asking:
    """A tablet that asks to be paired. `again` names the device it says it was; `checks` are what it says of itself."""

    id: str
    secret: str = field(repr=False)
    words: tuple[str, ...]
    key: str
    name: str
    again: str
    checks: Mapping[str, object]
    at_ms: int
    state: State = "waiting"
    dev: str = ""
    person: str = ""
    token: str = field(default="", repr=False)


def normal(code: str) -> str:
    """A code as people type it, in the one way it is compared."""
    return code.strip().upper().translate(_LIKE)


def four_words(code: str, *, desk_key: str, key: str, nonce: str) -> tuple[str, ...]:
    """The words that both screens show."""
    said = b"\x05" + b"\0".join(part.encode() for part in (normal(code), desk_key, key, nonce))
    return tuple(WORDS[byte] for byte in sha256(said).digest()[:4])


class Pairing:
    """Codes made and tablets that wait. `now` gives ms. Safe to use from several threads."""

    def __init__(self, *, desk_key: str, now: Callable[[], int]) -> None:
        self._desk_key, self._now = desk_key, now
        self._codes: list[Code] = []
        self._asking: dict[str, Asking] = {}
        self._lock = threading.Lock()

    def new_code(self, by: str) -> Code:
        """A code for one tablet."""
        draw = ["".join(secrets.choice(CARD_LETTERS) for _ in range(size)) for size in (LONG, SHORT)]
        made = Code(long=draw[0], typed=draw[1], until_ms=self._now() + LASTS_MS, by=by)
        with self._lock:
            self._tidy()
            self._codes.append(made)
        return made

    def ask(
        self, code: str, *, key: str, nonce: str, name: str, again: str, checks: Mapping[str, object]
    ) -> Asking | None:
        """Give a code back; None when it is none, too old or used."""
        given = normal(code).encode()
        with self._lock:
            self._tidy()
            found = [
                one
                for one in self._codes
                if hmac.compare_digest(one.long.encode(), given)
                or hmac.compare_digest(one.typed.encode(), given)
            ]
            if not found or len(self._asking) >= MOST_WAITING:
                return None
            self._codes.remove(found[0])
            made = Asking(
                id=secrets.token_hex(8),
                secret=secrets.token_urlsafe(32),
                words=four_words(code, desk_key=self._desk_key, key=key, nonce=nonce),
                key=key,
                name=name,
                again=again,
                checks=dict(checks),
                at_ms=self._now(),
            )
            self._asking[made.id] = made
        return made

    def waiting(self) -> list[Asking]:
        """Tablets that wait for a yes, oldest first."""
        with self._lock:
            self._tidy()
            return [one for one in self._asking.values() if one.state == "waiting"]

    def of(self, pairing: str, secret: str) -> Asking | None:
        """What became of an asking tablet, for itself."""
        with self._lock:
            self._tidy()
            found = self._asking.get(pairing)
        if found is None or not hmac.compare_digest(found.secret.encode(), secret.encode()):
            return None
        return found

    def answer(self, pairing: str, **given: str) -> Asking | None:
        """Note the desk's answer; None when nobody waits under that id."""
        with self._lock:
            self._tidy()
            found = self._asking.get(pairing)
            if found is None or found.state != "waiting":
                return None
            answered = replace(found, **given)  # type: ignore[arg-type]
            self._asking[pairing] = answered
        return answered

    def _tidy(self) -> None:
        now = self._now()
        self._codes = [one for one in self._codes if one.until_ms > now]
        for one in [one for one in self._asking.values() if one.at_ms + LASTS_MS <= now]:
            del self._asking[one.id]
