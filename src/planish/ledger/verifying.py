"""Does the log still say what it said? Every changed byte is found and its entry named.

`verify(log)` reads everything back and compares: the chain, each device's own chain, index columns with `raw`,
commitments with openings, derived keys with a rebuild, and heads remembered elsewhere. A chain alone does not stop
somebody who rewrites all of it; a head on a day sheet or on one tablet does.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Protocol

from planish.ledger import chain
from planish.ledger.accepting import keys_of
from planish.ledger.commitments import committed, opens
from planish.ledger.events import Event, MalformedEventError, parse
from planish.ledger.signatures import signed
from planish.ledger.store import Entry, Head, LedgerError
from planish.records.problems import Problem

REMEDY = "Leave the file as it is, keep a copy, and restore the last verified backup beside it."


class Log(Protocol):
    """What the verifier reads: any store, or an archive."""

    @property
    def fair(self) -> str:
        """The fair's id."""

    @property
    def safe_n(self) -> int:
        """The newest entry known to lie in a backup."""

    def entries(self, after: int = 0) -> Iterator[Entry]:
        """Entries in order."""

    def entry_of(self, event_id: str) -> Entry | None:
        """The entry of one event."""

    def head(self) -> Head:
        """The newest entry as the store says."""

    def standing(self) -> Mapping[str, str]:
        """The derived keys."""

    def columns(self) -> Iterator[tuple[Any, ...]]:
        """n, dev, seq, id, kind, sub, who as indexed."""

    def soundness(self) -> list[str]:
        """What the engine's own check says; empty when nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remembered:
    """A head somebody else kept: `where` says who (day sheet, tablet 7), `hash` 32 bytes, or its first 12 as words."""

    n: int
    hash: bytes
    where: str


@dataclass(slots=True)
class _Reading:
    """What the verifier knows while it reads on."""

    fair: str
    hash: bytes
    n: int = 0
    recv_ms: int = 0
    devices: dict[str, tuple[int, str]] = field(default_factory=dict)
    ids: set[str] = field(default_factory=set)
    missing: dict[tuple[str, str], int] = field(default_factory=dict)
    redacted: set[tuple[str, str]] = field(default_factory=set)
    keys: dict[str, str] = field(default_factory=dict)
    held: dict[str, tuple[int, bytes]] = field(default_factory=dict)


def verify(log: Log, remembered: Iterable[Remembered] = ()) -> tuple[Problem, ...]:
    """Read the whole log back; one Problem for each thing that is not as it was written. Empty means whole."""
    try:
        return tuple(_verify(log, sorted(remembered, key=lambda head: head.n)))
    except LedgerError as error:
        return (_problem("the ledger file", str(error), "ledger.unreadable"),)


def _verify(log: Log, remembered: list[Remembered]) -> Iterator[Problem]:
    for line in log.soundness():
        yield _problem("the ledger file", f"The database's own check says: {line}.", "ledger.unsound")
    state = _Reading(fair=log.fair, hash=chain.genesis(log.fair))
    columns = log.columns()
    waiting = [*remembered]
    for entry in log.entries():
        yield from _entry(state, entry, next(columns, None))
        while waiting and waiting[0].n <= state.n:
            yield from _recalled(waiting.pop(0), state)
    yield from _end(log, state, waiting)


def _entry(state: _Reading, entry: Entry, column: tuple[Any, ...] | None) -> Iterator[Problem]:
    where = f"entry {entry.n}"
    if entry.n != state.n + 1:
        yield _problem(where, f"Entry {state.n + 1} is missing.", "ledger.hole")
    state.n = entry.n
    event, fault = _parsed(entry.raw)
    raw_digest = chain.digest(entry.raw)
    yield from _links(state, entry, event, where, raw_digest)
    if event is None:
        yield _problem(where, f"Its bytes are no event: {fault}.", "ledger.changed")
        return
    if column is None or tuple(column) != _index(entry.n, event):
        yield _problem(where, "The index says something else than the event.", "ledger.index")
    entry.__dict__["event"] = event  # parsed already
    yield from _own_chain(state, event, where, raw_digest)
    yield from _openings(state, entry, event, where)
    key = state.keys.get(f"key:{event.dev}")
    if key and not signed(key, entry.raw, entry.sig):
        yield _problem(where, f"It bears no signature of its device {event.dev}.", "ledger.signature")
    state.keys |= keys_of(entry, look=state.keys.get, raw_of=state.held.get)
    if entry.status == "held":
        state.held[event.id] = (entry.n, entry.raw)


def _index(n: int, event: Event) -> tuple[Any, ...]:
    return (n, event.dev, event.seq, event.id, event.kind, event.sub, event.who)


def _links(
    state: _Reading, entry: Entry, event: Event | None, where: str, raw_digest: bytes
) -> Iterator[Problem]:
    dev, seq = ("", 0) if event is None else (event.dev, event.seq)
    try:
        leaf = chain.leaf_of(
            n=entry.n,
            recv_ms=entry.recv_ms,
            dev=dev,
            seq=seq,
            status=entry.status,
            raw_digest=raw_digest,
        )
    except ValueError:
        leaf = b""
    if leaf != entry.leaf:
        yield _problem(where, "The entry is not what was recorded: a byte was changed.", "ledger.changed")
    if chain.link(state.hash, entry.leaf) != entry.hash:
        yield _problem(where, "The entry does not follow the one before it.", "ledger.chain")
    if entry.recv_ms < state.recv_ms:
        yield _problem(where, "The entry is older than the one before it.", "ledger.time")
    state.hash, state.recv_ms = entry.hash, entry.recv_ms


def _parsed(raw: bytes) -> tuple[Event | None, str]:
    try:
        return parse(raw), ""
    except MalformedEventError as error:
        return None, str(error)


def _own_chain(state: _Reading, event: Event, where: str, raw_digest: bytes) -> Iterator[Problem]:
    last, digest = state.devices.get(event.dev, (0, ""))
    if event.seq != last + 1 or event.dprev != digest:
        yield _problem(where, f"The entry does not follow number {last} of its device.", "ledger.device")
    if event.id in state.ids:
        yield _problem(where, "Its id stands in the log twice.", "ledger.twice")
    if event.fair != state.fair:
        yield _problem(where, f"The entry belongs to another fair ({event.fair}).", "ledger.fair")
    state.ids.add(event.id)
    state.devices[event.dev] = (event.seq, raw_digest.hex())


def _openings(state: _Reading, entry: Entry, event: Event, where: str) -> Iterator[Problem]:
    wanted, there = committed(event), entry.openings
    for path, opening in there.items():
        if path not in wanted or opening.path != path or not opens(opening, wanted[path]):
            yield _problem(where, f"The text of {path} is not the text that was recorded.", "ledger.opening")
    if wanted.keys() != there.keys():
        for path in wanted.keys() - there.keys() - entry.covered:
            state.missing[event.id, path] = entry.n
    if event.name == "opening.redacted" and entry.status == "ok":
        state.redacted |= {(one, event.body.get("path", "")) for one in event.body["ids"]}


def _recalled(head: Remembered, state: _Reading) -> Iterator[Problem]:
    if head.n == state.n and not state.hash.startswith(head.hash):
        what = f"{head.where} remembers another log at entry {head.n}: this one was rewritten, or that is another fair."
        yield _problem(f"entry {head.n}", what, "ledger.rewritten")


def _end(log: Log, state: _Reading, waiting: list[Remembered]) -> Iterator[Problem]:
    for head in waiting:
        what = (
            f"The log ends at entry {state.n}, but {head.where} remembers entry {head.n}: it was cut short."
        )
        yield _problem("the end of the log", what, "ledger.short")
    if log.safe_n > state.n:
        what = f"The log ends at entry {state.n}, but entry {log.safe_n} lies in a backup: it was cut short."
        yield _problem("the end of the log", what, "ledger.short")
    if state.n == 0:
        yield _problem("the log", "It holds nothing, not even the beginning of a fair.", "ledger.empty")
    for (event_id, path), n in state.missing.items():
        if not {(event_id, ""), (event_id, path)} & state.redacted:
            what = f"The text of {path} is gone, and nobody recorded that it was deleted."
            yield _problem(f"entry {n}", what, "ledger.lost_opening")
    yield from _not_deleted(log, state)
    if dict(log.standing()) != state.keys:
        what = "What is derived from the log differs from a rebuild."
        yield _problem(
            "the derived keys", what, "ledger.derived", "Rebuild the derived keys; the log itself is whole."
        )


def _not_deleted(log: Log, state: _Reading) -> Iterator[Problem]:
    for event_id, path in sorted(state.redacted):
        entry = log.entry_of(event_id)
        if entry is not None and any(path in ("", there) for there in entry.openings):
            what = f"Its deletion was recorded, and the text of {path or 'it'} is still there."
            yield _problem(
                f"entry {entry.n}",
                what,
                "ledger.not_deleted",
                "Finish the deletion: planish redact --finish.",
            )


def _problem(where: str, what: str, code: str, remedy: str = REMEDY) -> Problem:
    return Problem(where=where, what=what, remedy=remedy, severity=1, code=code)
