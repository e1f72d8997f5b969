"""What waits for a second person: asked by one, agreed to by another who is signed in elsewhere.

It waits in memory, for half an hour at most; nothing is recorded until the second person agrees.
"""

import secrets
import threading
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from planish.errands.opening.refusing import refuse

LASTS_MS = 30 * 60 * 1000
"""How long a request waits (house default)."""
MOST = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One request. `stood` is what the log held of the object when it was asked; another thing there ends it."""

    id: str
    what: str
    object_id: str
    by: str
    at_ms: int
    stood: tuple[str, ...]
    given: Mapping[str, Any] = field(default_factory=dict)


class Waiting:
    """Requests that wait, newest last. Safe to use from several threads."""

    def __init__(self) -> None:
        self._all: dict[str, Asked] = {}
        self._lock = threading.Lock()

    def ask(
        self,
        *,
        what: str,
        object_id: str,
        by: str,
        at_ms: int,
        stood: tuple[str, ...],
        given: Mapping[str, Any],
    ) -> Asked:
        """Put a request; the same one asked again takes the place of the first."""
        made = Asked(
            id=secrets.token_hex(8),
            what=what,
            object_id=object_id,
            by=by,
            at_ms=at_ms,
            stood=stood,
            given=given,
        )
        with self._lock:
            same = [k for k, one in self._all.items() if (one.what, one.object_id) == (what, object_id)]
            for key in same:
                del self._all[key]
            if len(self._all) >= MOST:
                raise refuse(
                    "second signatures",
                    "Two hundred wait already.",
                    "Have some of them signed first.",
                    code="second.many",
                    kind="rule",
                )
            self._all[made.id] = made
        return made

    def all(self, now_ms: int) -> tuple[Asked, ...]:
        """Requests that still wait."""
        with self._lock:
            self._all = {k: one for k, one in self._all.items() if one.at_ms > now_ms - LASTS_MS}
            return tuple(self._all.values())

    def take(self, asked_id: str, now_ms: int) -> Asked | None:
        """One request, out of the list; None when it is not there, or waited too long."""
        with self._lock:
            found = self._all.pop(asked_id, None)
        return found if found is not None and found.at_ms > now_ms - LASTS_MS else None

    def put_back(self, asked: Asked) -> None:
        """A request that came to nothing waits on."""
        with self._lock:
            self._all.setdefault(asked.id, asked)
