"""Old events read as new ones. `raw` is never migrated; an upcaster runs each time an old version is read.

`UPCASTERS["object.listed", 1]` takes the body of version 1 (openings filled in) and gives the body of version 2.
Every version of every kind that was ever written keeps a frozen sample in `tests/ledger/samples/`.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

from planish.ledger.chain import Status
from planish.ledger.commitments import committed
from planish.ledger.events import Event, kind_of
from planish.ledger.kinds import KINDS
from planish.ledger.store import Entry, body_of
from planish.records.frozen import quick

Upcaster = Callable[[Mapping[str, Any]], dict[str, Any]]
UPCASTERS: dict[tuple[str, int], Upcaster] = {}
"""Empty: no kind has a second version yet."""


@quick
@dataclass(frozen=True, slots=True, kw_only=True)
class Happened:
    """An event as the rest of planish reads it: newest version, openings filled in, fields deleted since left out.

    `kind` is the name without a version. `gone` names the fields whose openings are not there (redacted, or not for
    this reader); of these `covered` are those that lie covered while the keys are locked. `known` is False for a kind newer than this planish; its body is then as it came.
    """

    n: int
    recv_ms: int
    status: Status
    id: str
    dev: str
    seq: int
    who: str
    kind: str
    sub: str
    base: str | None
    seen: tuple[str, int]
    t: int
    off: int
    body: Mapping[str, Any]
    att: tuple[str, ...]
    gone: tuple[str, ...] = ()
    covered: tuple[str, ...] = ()
    known: bool = True

    @property
    def applied(self) -> bool:
        """True when the event counts."""
        return self.status == "ok"


def happened(entry: Entry, upcasters: Mapping[tuple[str, int], Upcaster] = UPCASTERS) -> Happened:
    """Read one entry."""
    event = entry.event
    gone = tuple(sorted(committed(event).keys() - entry.openings.keys()))
    body = {name: value for name, value in body_of(entry).items() if name not in gone}
    known = kind_of(event) is not None
    make = partial(
        Happened,
        n=entry.n,
        recv_ms=entry.recv_ms,
        status=entry.status,
        id=event.id,
        dev=event.dev,
        seq=event.seq,
        who=event.who,
        kind=event.name,
        sub=event.sub,
        base=event.base,
        seen=event.seen,
        t=event.t,
        off=event.off,
        att=event.att,
        gone=gone,
        covered=tuple(sorted(entry.covered)),
        known=known,
    )
    return make(body=upcast(event, body, upcasters) if known else body)


def upcast(
    event: Event, body: Mapping[str, Any], upcasters: Mapping[tuple[str, int], Upcaster]
) -> Mapping[str, Any]:
    """The body in the newest version of its kind. A missing upcaster is a bug and raises KeyError."""
    for version in range(event.version, KINDS[event.name].version):
        body = upcasters[event.name, version](body)
    return body
