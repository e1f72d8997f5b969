"""The promise every store of the log keeps (`memory`, `sqlite`, `postgres`), and what is handed in and out.

    store.append([Offer(raw=..., openings=...)], recv_ms=...)   one Result per event, durable before it returns
    store.entries(after=0)                                      Entry by Entry, in order
    store.head()                                                newest number, hash, epoch
    store.last_of("tablet-7")                                   where a device's own numbers have got to
    store.look("label:o12")                                     id of the event that last set a key (see `judging`)

Most callers want `journal.Journal`, which gives ids, numbers, salts and chains by itself.

`ok` is stored and applied; `have` was stored before; `stale`, `held`, `denied` are stored and not applied, with the
reason; `gap`, `clash`, `epoch` and `refused` are not stored, and the sender keeps the event.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, Literal, Protocol

from planish.ledger import chain
from planish.ledger.commitments import Opening
from planish.ledger.events import Event, read

Answer = Literal["ok", "have", "stale", "held", "denied", "gap", "clash", "epoch", "refused"]
STORED: frozenset[str] = frozenset({"ok", "have", "stale", "held", "denied"})
"""Answers after which the sender may forget that it has to send the event."""


class LedgerError(Exception):
    """Something outside went wrong with the ledger; the sentence can be shown to a person."""


class LedgerBusyError(LedgerError):
    """Another process is writing this ledger."""


class LedgerFullError(LedgerError):
    """The disk is full: nothing was recorded, reading still works, writing goes on when there is room."""


class LedgerBrokenError(LedgerError):
    """The disk reported a fault, or the file is not whole. Nothing more is acknowledged before restart and verify."""


class LedgerMissingError(LedgerError):
    """There is no ledger at this place, or there is one already."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """One event handed in: its bytes, the openings of its commitments, the device's signature (b"" for none).

    With `by` given, an event that names another device is refused: nobody writes in another's name.
    """

    raw: bytes
    openings: tuple[Opening, ...] = ()
    sig: bytes = field(default=b"", repr=False)
    by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """What became of one event. `n` is its number in the log (0 when not stored).

    `last` is the device's newest stored number for `gap` and `epoch`; `epoch` the desk's for `epoch`.
    """

    status: Answer
    n: int = 0
    why: str = ""
    id: str = ""
    last: int = 0
    epoch: str = ""

    @property
    def applied(self) -> bool:
        """True when the event counts."""
        return self.status in ("ok", "have")

    @property
    def stored(self) -> bool:
        """True when the event is durable in the log, applied or not."""
        return self.status in STORED


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """The newest entry: number (0 for an empty log), chain hash, arrival time in ms, and the epoch."""

    n: int
    hash: bytes
    recv_ms: int
    epoch: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DeviceHead:
    """A device's newest stored event: its number (0 for none) and the SHA-256 (hex) of its bytes ("" for none)."""

    seq: int = 0
    digest: str = ""


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One numbered entry as it lies in the log. `event` reads it; `openings` are those not deleted, by field name.

    `sig` is the signature of the device's key; b"" when the device has none: then only the desk attests the entry.
    `covered` names fields whose openings lie covered and cannot be read now (`veiling`).
    """

    n: int
    recv_ms: int
    status: chain.Status
    raw: bytes = field(repr=False)
    leaf: bytes = field(repr=False)
    hash: bytes = field(repr=False)
    openings: Mapping[str, Opening] = field(default_factory=dict, repr=False)
    sig: bytes = field(default=b"", repr=False)
    covered: frozenset[str] = frozenset()

    @cached_property
    def event(self) -> Event:
        """The event as its maker wrote it."""
        return read(self.raw)


class Store(Protocol):
    """What a store promises. Every method may raise a LedgerError; its sentence is for people."""

    @property
    def fair(self) -> str:
        """The fair's id; hash_0 depends on it."""

    @property
    def safe_n(self) -> int:
        """The newest entry that lies in a verified backup on a second medium."""

    def append(self, batch: Sequence[Offer], *, recv_ms: int, epoch: str | None = None) -> list[Result]:
        """Record events in order, durably; one result per event. `recv_ms` is the desk's clock, never going back.

        With `epoch` given and not the store's own, nothing is recorded and every result is `epoch`.
        """

    def entries(self, after: int = 0) -> Iterator[Entry]:
        """Entries with a number above `after`, in order, as one consistent view."""

    def entry_of(self, event_id: str) -> Entry | None:
        """The entry of one event."""

    def entries_of(self, dev: str, after: int = 0, most: int = 500) -> list[Entry]:
        """A device's own entries with a `seq` above `after`, in order, at most `most`."""

    def head(self) -> Head:
        """The newest entry."""

    def last_of(self, dev: str) -> DeviceHead:
        """How far a device's own numbers have got."""

    def look(self, key: str) -> str | None:
        """What a key of `judging` holds."""

    def standing(self) -> Mapping[str, str]:
        """All keys; derived, so that a rebuild must give the same."""

    def redact(self, event_ids: Sequence[str], path: str = "") -> int:
        """Delete openings (of one field, or all) and wipe where they lay; gives how many went."""

    def keep_safe(self, n: int) -> None:
        """Note that entries up to `n` lie in a verified backup."""

    def renew(self, epoch: str) -> None:
        """Begin a new epoch, after a restore."""

    def close(self) -> None:
        """Let go of the store."""


class Page(Protocol):
    """What the acceptance rules need of a store inside one transaction."""

    fair: str

    def head(self) -> Head:
        """The newest entry as this transaction sees it."""

    def raw_of(self, event_id: str) -> tuple[int, bytes] | None:
        """Number and bytes of an event."""

    def last_of(self, dev: str) -> DeviceHead:
        """The device's newest stored event."""

    def look(self, key: str) -> str | None:
        """What a key holds."""

    def put(self, key: str, value: str) -> None:
        """Set a key."""

    def write(self, entry: Entry) -> None:
        """Write one entry and its openings."""


def body_of(entry: Entry) -> dict[str, Any]:
    """The event's body as written, with every opening that is still there in the place of its commitment."""
    return {**entry.event.body, **{path: opening.read() for path, opening in entry.openings.items()}}
