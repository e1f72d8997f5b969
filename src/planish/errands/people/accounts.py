"""Accounts: who may sign in, kept in `accounts.db` beside the log and never in it.

Passphrases of people and card codes of stands lie as Argon2id hashes (19 MiB, t=2, p=1, the floor of the OWASP
password storage sheet); session tokens are 256 bits and lie as SHA-256. There is no default account.
"""

import secrets
import threading
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from planish.errands.opening import clock
from planish.errands.opening.beside import open_beside
from planish.errands.opening.refusing import refuse

FILE = "accounts.db"
SHORTEST = 8
"""Fewest characters of a passphrase (house default); the door it guards answers five wrong tries and then waits."""
IDLE_MS = 4 * 60 * 60 * 1000
"""A session unused so long ends (house default)."""
LASTS_MS = 16 * 60 * 60 * 1000
"""A session ends after this whatever happens: a fair's day (house default)."""
TRIES, WAIT_MS = 5, 5 * 60 * 1000
"""So many wrong tries from one client, then it waits so long; other clients are not touched."""
SKEW_MS = 60_000
"""A session made later than now was made under another clock: it ends, so that none lives for ever."""
SEEN_EVERY_MS = 60_000
MOST_CLIENTS = 10_000
CARD_LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Crockford's 32 signs: no I, L, O, U. Eight of them are 40 bits."""

_LAYOUT = """
CREATE TABLE IF NOT EXISTS account (who TEXT PRIMARY KEY, kind TEXT NOT NULL, hash TEXT NOT NULL, made INTEGER NOT NULL);
CREATE TABLE IF NOT EXISTS session (token TEXT PRIMARY KEY, who TEXT NOT NULL, kind TEXT NOT NULL,
  made INTEGER NOT NULL, seen INTEGER NOT NULL);
CREATE INDEX IF NOT EXISTS session_who ON session (who);
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    """A session in force. `who` is a person's id, or a stand's id when `kind` is "card"."""

    who: str
    kind: str
    made_ms: int


class Wait(Exception):
    """Too many wrong tries from one client; `seconds` until the next is looked at."""

    def __init__(self, seconds: int) -> None:
        super().__init__(f"{seconds} seconds to wait")
        self.seconds = seconds


class Accounts:
    """The accounts of one fair. Safe to use from several threads."""

    def __init__(self, folder: Path, *, now: Callable[[], int] = clock.steady_ms) -> None:
        self._db = open_beside(folder / FILE, _LAYOUT)
        self._now = now
        self._lock = threading.RLock()
        self._hashing = threading.BoundedSemaphore(2)  # 19 MiB each
        self._hasher = PasswordHasher(time_cost=2, memory_cost=19 * 1024, parallelism=1)
        self._nobody = self._hasher.hash(secrets.token_hex(16))
        self._wrong: dict[str, list[int]] = {}
        self._turns: dict[str, tuple[threading.Lock, int]] = {}

    def close(self) -> None:
        """Let go of the file."""
        self._db.close()

    def _ask(self, statement: str, *values: Any) -> list[tuple[Any, ...]]:
        with self._lock:
            return self._db.execute(statement, values).fetchall()

    # -- secrets ----------------------------------------------------------------------------------------------------

    def set_passphrase(self, person: str, passphrase: str) -> None:
        """Give a person a passphrase; every session of that person ends. Refuses a short one."""
        if len(passphrase) < SHORTEST:
            raise refuse(
                "passphrase",
                f"It has {len(passphrase)} characters.",
                f"Give at least {SHORTEST}; a few words are easy to remember.",
                code="passphrase.short",
            )
        self._keep(person, "person", passphrase)

    def new_passphrase(self, person: str) -> str:
        """Make a passphrase for a person and give it, once: 60 bits in three groups of signs."""
        made = "-".join("".join(secrets.choice(CARD_LETTERS) for _ in range(4)) for _ in range(3))
        self._keep(person, "person", made)
        return made

    def new_card(self, stand: str) -> str:
        """Make the card code of a stand, 40 bits, and give it, once. The code before it opens nothing any more."""
        made = "".join(secrets.choice(CARD_LETTERS) for _ in range(8))
        self._keep(stand, "card", made)
        return f"{stand}:{made[:4]}-{made[4:]}"

    def _keep(self, who: str, kind: str, secret: str) -> None:
        with self._hashing:
            hashed = self._hasher.hash(secret)
        key = f"{kind}:{who}"
        self._ask("INSERT OR REPLACE INTO account VALUES (?, ?, ?, ?)", key, kind, hashed, self._now())
        self.end_all(who, kind)

    def has(self, who: str, kind: str = "person") -> bool:
        """True when somebody could sign in as `who`."""
        return bool(self._ask("SELECT 1 FROM account WHERE who = ?", f"{kind}:{who}"))

    def known(self, kind: str) -> frozenset[str]:
        """Ids of the people ("person") or stands ("card") that can sign in."""
        rows = self._ask("SELECT who FROM account WHERE kind = ?", kind)
        return frozenset(str(row[0]).partition(":")[2] for row in rows)

    # -- signing in -------------------------------------------------------------------------------------------------

    def opens(self, who: str, secret: str, *, client: str, kind: str = "person") -> bool:
        """True when `secret` is that of `who`. Raises Wait when this client was wrong too often."""
        self.must_wait(client)
        found = self._ask("SELECT hash FROM account WHERE who = ?", f"{kind}:{who}")
        with self._turn(client), self._hashing:
            self.must_wait(client)  # those before it in the queue may all have been wrong
            right = self._verify(str(found[0][0]) if found else self._nobody, secret) and bool(found)
            self._note(client, right)
        return right

    @contextmanager
    def _turn(self, client: str) -> Iterator[None]:
        """One try of a client at a time, so that many sent at once are not all answered before the first is counted."""
        with self._lock:
            lock, waiting = self._turns.get(client, (threading.Lock(), 0))
            self._turns[client] = (lock, waiting + 1)
        try:
            with lock:
                yield
        finally:
            with self._lock:
                lock, waiting = self._turns[client]
                if waiting == 1:
                    del self._turns[client]
                else:
                    self._turns[client] = (lock, waiting - 1)

    def opens_card(self, code: str, *, client: str) -> str | None:
        """The stand whose card says `code` ("7:ABCD-EFGH"), None for none."""
        stand, _, typed = code.strip().rpartition(":")
        plain = typed.upper().replace("-", "").replace(" ", "").translate(str.maketrans("OIL", "011"))
        return stand if self.opens(stand, plain, client=client, kind="card") else None

    def _verify(self, hashed: str, secret: str) -> bool:
        try:
            return self._hasher.verify(hashed, secret)
        except (VerificationError, InvalidHashError):
            return False

    def must_wait(self, client: str) -> None:
        """Raises Wait when this client was wrong too often."""
        with self._lock:
            wrong = [at for at in self._wrong.get(client, []) if at > self._now() - WAIT_MS]
            if len(wrong) >= TRIES:
                raise Wait(max(1, (wrong[0] + WAIT_MS - self._now()) // 1000))
            if wrong:
                self._wrong[client] = wrong
            else:
                self._wrong.pop(client, None)

    def _note(self, client: str, right: bool) -> None:
        with self._lock:
            if right:
                self._wrong.pop(client, None)
                return
            if len(self._wrong) >= MOST_CLIENTS:
                self._wrong.pop(next(iter(self._wrong)))
            self._wrong.setdefault(client, []).append(self._now())

    def guess(self, client: str, right: bool) -> None:
        """Count a try at another code (the set-up code) against the client. Raises Wait as signing in does."""
        self.must_wait(client)
        self._note(client, right)

    # -- sessions ---------------------------------------------------------------------------------------------------

    def begin(self, who: str, kind: str = "person") -> str:
        """A new session; gives its token, which lies here only as a digest."""
        token, now = secrets.token_urlsafe(32), self._now()
        self._ask("INSERT INTO session VALUES (?, ?, ?, ?, ?)", _digest(token), who, kind, now, now)
        self._ask("DELETE FROM session WHERE made < ? OR seen < ?", now - LASTS_MS, now - IDLE_MS)
        return token

    def session(self, token: str) -> Session | None:
        """The session of a token, while it lasts."""
        rows = self._ask("SELECT who, kind, made, seen FROM session WHERE token = ?", _digest(token))
        if not rows:
            return None
        who, kind, made, seen = rows[0]
        now = self._now()
        if now - made > LASTS_MS or now - seen > IDLE_MS or made - now > SKEW_MS:
            self.end(token)
            return None
        if now - seen > SEEN_EVERY_MS:
            self._ask("UPDATE session SET seen = ? WHERE token = ?", now, _digest(token))
        return Session(who=who, kind=kind, made_ms=made)

    def end(self, token: str) -> None:
        """End one session."""
        self._ask("DELETE FROM session WHERE token = ?", _digest(token))

    def end_digests(self, digests: Iterable[str]) -> None:
        """End sessions by the digests of their tokens."""
        for digest in digests:
            self._ask("DELETE FROM session WHERE token = ?", digest)

    def end_all(self, who: str, kind: str = "person") -> None:
        """End every session of one person or card."""
        self._ask("DELETE FROM session WHERE who = ? AND kind = ?", who, kind)


def _digest(token: str) -> str:
    return sha256(token.encode("utf-8", "replace")).hexdigest()
