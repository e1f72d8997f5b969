"""Throw-away desks and tablets for the tests: everything that is time, chance or identity is given."""

import hashlib
from collections.abc import Mapping
from typing import Any

from planish.ledger import chain
from planish.ledger.commitments import commit_body
from planish.ledger.events import compose
from planish.ledger.identity import uuid7
from planish.ledger.kinds import KINDS
from planish.ledger.store import Offer, Result, Store

FAIR = "harbour"
NOW = 1_700_000_000_000


class Chance:
    """Random-looking bytes, the same for the same seed, never the same twice."""

    def __init__(self, seed: str) -> None:
        self._seed, self._count = seed, 0

    def __call__(self, size: int) -> bytes:
        self._count += 1
        return hashlib.shake_256(f"{self._seed}/{self._count}".encode()).digest(size)


class Device:
    """A tablet: numbers its own events, chains them, keeps all of them."""

    def __init__(self, dev: str, *, fair: str = FAIR, epoch: str = "e1") -> None:
        self.dev, self.fair, self.epoch = dev, fair, epoch
        self.made: list[Offer] = []
        self._chance = Chance(dev)

    def make(
        self, kind: str, sub: str, who: str, body: Mapping[str, Any] | None = None, base: str | None = None
    ) -> Offer:
        """One event, serialised once."""
        spec = KINDS[kind]
        shown, openings = commit_body(body or {}, spec.private, lambda: self._chance(32))
        raw = compose(
            fair=self.fair,
            dev=self.dev,
            seq=len(self.made) + 1,
            dprev=chain.digest(self.made[-1].raw).hex() if self.made else "",
            id=uuid7(NOW, self._chance(10)),
            who=who,
            kind=spec.word,
            sub=sub,
            base=base,
            seen=(self.epoch, 0),
            t=NOW,
            body=shown,
        )
        self.made.append(Offer(raw=raw, openings=openings))
        return self.made[-1]


def send(store: Store, *offers: Offer, recv_ms: int = NOW, epoch: str | None = None) -> list[Result]:
    """Hand events in and give the results."""
    return store.append(offers, recv_ms=recv_ms, epoch=epoch)


def begin(store: Store, *tablets: str) -> Device:
    """A fair begun at the desk, with paired tablets and one person of each role; gives the desk."""
    desk = Device("desk", fair=store.fair)
    desk.make("fair.begun", store.fair, "office", {"name": "Harbour Fair"})
    for person, role in (
        ("cy", "chair"),
        ("lee", "leader"),
        ("mo", "member"),
        ("nan", "member"),
        ("sam", "steward"),
    ):
        desk.make("person.added", person, "office", {"name": person.title()})
        desk.make("role.given", person, "office", {"role": role})
    for tablet in tablets:
        desk.make("device.paired", tablet, "office", {})
    desk.make(
        "object.listed", "o1", "office", {"stand": "A4", "number": "17", "text": "Pewter plate, c.1720"}
    )
    assert {result.status for result in send(store, *desk.made)} == {"ok"}
    return desk
