"""Tablets as the desk knows them: tokens, PINs, who is unlocked where, what each last reported. In `tablets.db`.

A token has 256 bits and lies here as a digest. A PIN opens nothing but the tablet it was set on. What a tablet may do
is in the log (`device.paired`, `device.shared`, `device.revoked`); this file only knows how to recognise it.
"""

import json
import re
import secrets
import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from hashlib import sha256
from itertools import pairwise
from pathlib import Path
from typing import Any

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from planish.errands.opening.beside import open_beside
from planish.errands.opening.refusing import refuse

FILE = "tablets.db"
PIN = re.compile(r"[0-9]{8}")
PIN_OPEN_MS = 10 * 60 * 1000
"""A person named for a tablet sets the PIN within this time."""
REPORT_EVERY_MS = 30_000
"""What a tablet reports is kept in memory and put on the disk this often."""
_LAYOUT = """
CREATE TABLE IF NOT EXISTS tablet (dev TEXT PRIMARY KEY, token TEXT NOT NULL UNIQUE, name TEXT NOT NULL, key TEXT NOT NULL,
  paired_ms INTEGER NOT NULL, how TEXT NOT NULL DEFAULT '', handed_in_ms INTEGER NOT NULL DEFAULT 0,
  report TEXT NOT NULL DEFAULT '{}');
CREATE TABLE IF NOT EXISTS pin (dev TEXT NOT NULL, person TEXT NOT NULL, hash TEXT NOT NULL DEFAULT '',
  open_until INTEGER NOT NULL, PRIMARY KEY (dev, person));
CREATE TABLE IF NOT EXISTS unlocked (session TEXT PRIMARY KEY, dev TEXT NOT NULL, person TEXT NOT NULL);
CREATE TABLE IF NOT EXISTS alarm (id INTEGER PRIMARY KEY, at_ms INTEGER NOT NULL, dev TEXT NOT NULL, code TEXT NOT NULL,
  words TEXT NOT NULL);
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """What a tablet last said of itself: waiting events, age of the oldest (ms), pictures, newest entry it has."""

    seen_ms: int = 0
    queue: int = 0
    oldest_ms: int = 0
    pictures: int = 0
    n: int = 0
    checks: Mapping[str, Any] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tablet:
    """One paired tablet. `how` is "" while in use, else lost, stolen or retired."""

    dev: str
    name: str
    key: str
    paired_ms: int
    how: str
    handed_in_ms: int
    report: Report


@dataclass(frozen=True, slots=True, kw_only=True)
class Alarm:
    """Something about a tablet that a person at the desk should see."""

    at_ms: int
    dev: str
    code: str
    words: str


class Tablets:
    """The tablets of one fair. Safe to use from several threads."""

    def __init__(self, folder: Path, *, now: Callable[[], int]) -> None:
        self._db = open_beside(folder / FILE, _LAYOUT)
        self._now = now
        self._lock = threading.RLock()
        self._hashing = threading.BoundedSemaphore(2)
        self._hasher = PasswordHasher(time_cost=2, memory_cost=19 * 1024, parallelism=1)
        self._by_token: dict[str, Tablet] = {}
        self._digests: dict[str, str] = {}
        self._written: dict[str, int] = {}
        self._load()

    def close(self) -> None:
        """Put the last reports on the disk and let go of the file."""
        for tablet in self.all():
            self._put_report(tablet)
        self._db.close()

    def _ask(self, statement: str, *values: Any) -> list[tuple[Any, ...]]:
        with self._lock:
            return self._db.execute(statement, values).fetchall()

    def _load(self) -> None:
        asked = "SELECT token, dev, name, key, paired_ms, how, handed_in_ms, report FROM tablet"
        with self._lock:
            for token, dev, name, key, paired_ms, how, handed_in_ms, report in self._ask(asked):
                self._digests[dev] = token
                self._by_token[token] = Tablet(
                    dev=dev,
                    name=name,
                    key=key,
                    paired_ms=paired_ms,
                    how=how,
                    handed_in_ms=handed_in_ms,
                    report=Report(**json.loads(report)),
                )

    # -- tablets ----------------------------------------------------------------------------------------------------

    def add(self, dev: str, *, name: str, key: str, checks: Mapping[str, Any]) -> str:
        """Know a tablet from here on; gives its token, which lies here only as a digest."""
        token = secrets.token_urlsafe(32)
        report = Report(seen_ms=self._now(), checks=dict(checks))
        made = Tablet(
            dev=dev, name=name, key=key, paired_ms=self._now(), how="", handed_in_ms=0, report=report
        )
        with self._lock:
            for old in [digest for digest, one in self._by_token.items() if one.dev == dev]:
                del self._by_token[old]
            values = (dev, _digest(token), name, key, made.paired_ms, json.dumps(_plain(report)))
            self._ask(
                "INSERT OR REPLACE INTO tablet (dev, token, name, key, paired_ms, report) VALUES (?, ?, ?, ?, ?, ?)",
                *values,
            )
            self._digests[dev] = _digest(token)
            self._by_token[_digest(token)] = made
        return token

    def known(self, token: str) -> Tablet | None:
        """The tablet of a token."""
        return self._by_token.get(_digest(token))

    def all(self) -> list[Tablet]:
        """Every tablet, by id."""
        with self._lock:
            return sorted(self._by_token.values(), key=lambda one: (len(one.dev), one.dev))

    def revoke(self, dev: str, how: str) -> list[str]:
        """Note that a tablet is revoked; gives the digests of the sessions that end with it."""
        with self._lock:
            self._change(dev, how=how)
            self._ask("UPDATE tablet SET how = ? WHERE dev = ?", how, dev)
            ended = [str(row[0]) for row in self._ask("SELECT session FROM unlocked WHERE dev = ?", dev)]
            self._ask("DELETE FROM unlocked WHERE dev = ?", dev)
            self._ask("DELETE FROM pin WHERE dev = ?", dev)
        return ended

    def handed_in(self, dev: str) -> None:
        """A revoked tablet has nothing left and wipes itself."""
        with self._lock:
            self._change(dev, handed_in_ms=self._now())
            self._ask("UPDATE tablet SET handed_in_ms = ? WHERE dev = ?", self._now(), dev)

    def report(self, dev: str, **said: int) -> None:
        """What a tablet says of itself now."""
        with self._lock:
            found = self._of(dev)
            if found is None:
                return
            fresh = replace(found[1].report, seen_ms=self._now(), **said)  # type: ignore[arg-type]
            self._by_token[found[0]] = replace(found[1], report=fresh)
            if self._now() - self._written.get(dev, 0) >= REPORT_EVERY_MS:
                self._put_report(self._by_token[found[0]])

    def _put_report(self, tablet: Tablet) -> None:
        self._written[tablet.dev] = self._now()
        self._ask("UPDATE tablet SET report = ? WHERE dev = ?", json.dumps(_plain(tablet.report)), tablet.dev)

    def _of(self, dev: str) -> tuple[str, Tablet] | None:
        digest = self._digests.get(dev)
        return None if digest is None else (digest, self._by_token[digest])

    def _change(self, dev: str, **values: Any) -> None:
        found = self._of(dev)
        if found is not None:
            self._by_token[found[0]] = replace(found[1], **values)

    # -- PINs -------------------------------------------------------------------------------------------------------

    def name_person(self, dev: str, person: str) -> None:
        """Let a person set a PIN on a tablet within ten minutes. An old PIN of that person there is gone."""
        until = self._now() + PIN_OPEN_MS
        self._ask("INSERT OR REPLACE INTO pin (dev, person, open_until) VALUES (?, ?, ?)", dev, person, until)

    def people(self, dev: str) -> dict[str, bool]:
        """Person ids of a tablet, and whether each has set a PIN."""
        return {
            str(person): bool(hashed)
            for person, hashed in self._ask("SELECT person, hash FROM pin WHERE dev = ? ORDER BY person", dev)
        }

    def set_pin(self, dev: str, person: str, pin: str) -> None:
        """Set a person's PIN on a tablet. Refuses an easy one, and one that nobody at the desk opened the way for."""
        if not PIN.fullmatch(pin) or _easy(pin):
            raise refuse(
                "PIN",
                "It is too easy, or has not eight digits.",
                "Take eight digits that are no row and no repetition.",
                code="pin.easy",
            )
        rows = self._ask("SELECT open_until, hash FROM pin WHERE dev = ? AND person = ?", dev, person)
        if not rows or rows[0][1] or rows[0][0] < self._now():
            raise refuse(
                "PIN",
                "The time to set it has passed.",
                "Ask the steward at the desk to let this person set a PIN on this tablet.",
                code="pin.closed",
                kind="rule",
            )
        with self._hashing:
            hashed = self._hasher.hash(pin)
        self._ask("UPDATE pin SET hash = ?, open_until = 0 WHERE dev = ? AND person = ?", hashed, dev, person)

    def pin_fits(self, dev: str, person: str, pin: str) -> bool:
        """True when the PIN is that of the person on this tablet. The caller counts wrong tries."""
        rows = self._ask("SELECT hash FROM pin WHERE dev = ? AND person = ?", dev, person)
        if not rows or not rows[0][0] or not PIN.fullmatch(pin):
            return False
        with self._hashing:
            try:
                return self._hasher.verify(str(rows[0][0]), pin)
            except (VerificationError, InvalidHashError):
                return False

    # -- sessions ---------------------------------------------------------------------------------------------------

    def bind(self, token: str, dev: str, person: str) -> None:
        """This session was opened by a PIN on this tablet and belongs to it."""
        self._ask("INSERT OR REPLACE INTO unlocked VALUES (?, ?, ?)", _digest(token), dev, person)

    def bound(self, token: str) -> str:
        """The tablet to which a session belongs; "" when to none."""
        rows = self._ask("SELECT dev FROM unlocked WHERE session = ?", _digest(token))
        return str(rows[0][0]) if rows else ""

    def unbind(self, token: str) -> None:
        """Forget a session that ended."""
        self._ask("DELETE FROM unlocked WHERE session = ?", _digest(token))

    # -- alarms -----------------------------------------------------------------------------------------------------

    def alarm(self, dev: str, code: str, words: str) -> None:
        """Keep something that a person at the desk should see; the same twice running is kept once."""
        last = self._ask("SELECT dev, code, words FROM alarm ORDER BY id DESC LIMIT 1")
        if last != [(dev, code, words)]:
            self._ask(
                "INSERT INTO alarm (at_ms, dev, code, words) VALUES (?, ?, ?, ?)",
                self._now(),
                dev,
                code,
                words,
            )

    def alarms(self) -> list[Alarm]:
        """The newest hundred alarms, newest first."""
        rows = self._ask("SELECT at_ms, dev, code, words FROM alarm ORDER BY id DESC LIMIT 100")
        return [Alarm(at_ms=at, dev=dev, code=code, words=words) for at, dev, code, words in rows]


def _easy(pin: str) -> bool:
    """One digit over and over, a short run repeated, or digits in a row up or down."""
    steps = {(int(b) - int(a)) % 10 for a, b in pairwise(pin)}
    return (len(steps) == 1 and steps <= {0, 1, 9}) or pin[:2] * 4 == pin or pin[:4] * 2 == pin


def _plain(report: Report) -> dict[str, Any]:
    return {name: getattr(report, name) for name in Report.__dataclass_fields__}


def _digest(token: str) -> str:
    return sha256(token.encode("utf-8", "replace")).hexdigest()
