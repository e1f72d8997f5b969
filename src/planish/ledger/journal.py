"""The log as one desk process uses it: say what happened, the journal does ids, numbers, salts and chains.

    journal = Journal(store, dev="desk", now=clock.ms, chance=secrets.token_bytes)
    result = journal.add("object.listed", sub="o12", who="office", body={"stand": "A4", "number": "17", "text": "…"})
    results = journal.add_all([Draft(...), Draft(...)])     one transaction, one fsync
    journal.happened()                                      every event read and upcast, in order
    journal.fair_now()                                      the fold: `replay.FairState`

`kind` is the name without a version; the newest is written. Private fields may stand in `body` like any other: the
table of kinds says which are kept apart, and the journal commits to them. Look at `result.applied` (and `why`): an
event may be recorded and not count. For kinds that compare (labels, outcomes, rule book, panels) `base` is filled with
what the log holds now; give it (`journal.latest(...)`) when the person saw an older state.
"""

import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Future
from dataclasses import dataclass, field
from typing import Any, Protocol, runtime_checkable

from planish.ledger import chain
from planish.ledger.commitments import SALT_BYTES, commit_body
from planish.ledger.events import compose, read
from planish.ledger.identity import uuid7
from planish.ledger.judging import body_fault, fill
from planish.ledger.kinds import KINDS, Kind
from planish.ledger.replay import FairState, fold
from planish.ledger.store import DeviceHead, Entry, LedgerError, Offer, Result, Store
from planish.ledger.upcasting import Happened, happened


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """One event to be written. `opening` fields are joined to `body`; `base` None means: what the log holds now."""

    kind: str
    sub: str
    who: str
    body: Mapping[str, Any] = field(default_factory=dict)
    opening: Mapping[str, Any] = field(default_factory=dict)
    base: str | None = None
    att: tuple[str, ...] = ()


@runtime_checkable
class HandsOver(Protocol):
    """A store that takes events in now and says later, on the future, what became of them."""

    def hand_over(self, batch: Sequence[Offer], *, recv_ms: int) -> "Future[list[Result]]":
        """As `Store.append`, without waiting for the disk."""


@runtime_checkable
class Remembers(Protocol):
    """A store that has its newest entries in memory."""

    def recent(self, after: int) -> Sequence[Entry] | None:
        """As `Store.entries`; None when they must be read."""


class Journal:
    """One device's pen on one store. `now` gives ms since 1970, `chance(n)` n random bytes."""

    def __init__(
        self, store: Store, *, dev: str, now: Callable[[], int], chance: Callable[[int], bytes]
    ) -> None:
        self.store = store
        self._dev, self._now, self._chance = dev, now, chance
        self._pen = threading.Lock()
        self._ahead: DeviceHead | None = None  # the newest event written and not yet on the disk
        self._under_way = 0

    def add(
        self,
        kind: str,
        *,
        sub: str,
        who: str,
        body: Mapping[str, Any] | None = None,
        opening: Mapping[str, Any] | None = None,
        base: str | None = None,
        att: Sequence[str] = (),
    ) -> Result:
        """Write one event, durably. Raises KeyError or ValueError for a kind or a body that the table does not know."""
        draft = Draft(
            kind=kind, sub=sub, who=who, body=body or {}, opening=opening or {}, base=base, att=tuple(att)
        )
        return self.add_all([draft])[0]

    def add_all(self, drafts: Sequence[Draft]) -> list[Result]:
        """Write events in one transaction: all of them become durable together.

        Raises LedgerError when one could not be recorded at all, which on a single desk means something is wrong.
        """
        return self.hand_in(drafts)()

    def hand_in(self, drafts: Sequence[Draft]) -> Callable[[], list[Result]]:
        """Write events now and wait for the disk later: what is called to wait gives the results.

        Several may be under way at once, from several threads; a store that groups its commits then syncs once for
        all of them. Nothing counts, and nothing may be told, before the wait is over.
        """
        if not drafts:
            return list
        with self._pen:
            at, head = self._now(), self.store.head()
            last = self._ahead or self.store.last_of(self._dev)
            latest = dict[str, str]()
            offers = []
            for draft in drafts:
                offer = self._offer(draft, at, (head.epoch, head.n), last, latest)
                last = DeviceHead(seq=last.seq + 1, digest=chain.digest(offer.raw).hex())
                offers.append(offer)
            wait = self._handed_over(offers, at)
            self._ahead, self._under_way = last, self._under_way + 1
        return lambda: self._settled(len(offers), wait)

    def _handed_over(self, offers: Sequence[Offer], at: int) -> Callable[[], list[Result]]:
        if isinstance(self.store, HandsOver):
            return self.store.hand_over(offers, recv_ms=at).result
        results = self.store.append(offers, recv_ms=at)
        return lambda: results

    def _settled(self, offered: int, wait: Callable[[], list[Result]]) -> list[Result]:
        try:
            results = wait()
        finally:
            with self._pen:
                self._under_way -= 1
                if not self._under_way:
                    self._ahead = None
        lost = [result for result in results if not result.stored]
        if lost:
            raise LedgerError(
                f"Of {offered} events of this desk {len(lost)} were not recorded. {lost[0].why}"
            )
        return results

    def latest(self, kind: str, *, sub: str, who: str = "-", body: Mapping[str, Any] | None = None) -> str:
        """The id of the event that an event of this kind would now have to name as its base; "" for none."""
        spec = KINDS[kind]
        if not spec.compares:
            return ""
        return self.store.look(spec.compares.format_map({**(body or {}), "sub": sub, "who": who})) or ""

    def entries(self, after: int = 0) -> Iterator[Entry]:
        """Entries as they lie in the log."""
        return self.store.entries(after)

    def happened(self, after: int = 0) -> Iterator[Happened]:
        """Events read, upcast, with their openings filled in."""
        recent = self.store.recent(after) if isinstance(self.store, Remembers) else None
        return (happened(entry) for entry in (self.store.entries(after) if recent is None else recent))

    def fair_now(self) -> FairState:
        """Where everything stands, folded from the whole log."""
        return fold(self.happened())

    def _offer(
        self, draft: Draft, at: int, seen: tuple[str, int], last: DeviceHead, latest: dict[str, str]
    ) -> Offer:
        spec = KINDS[draft.kind.partition("/")[0]]
        full = {**draft.body, **draft.opening}
        if wrong := body_fault(spec, full):
            raise ValueError(wrong)
        body, openings = commit_body(full, spec.private, lambda: self._chance(SALT_BYTES))
        raw = compose(
            fair=self.store.fair,
            dev=self._dev,
            seq=last.seq + 1,
            dprev=last.digest,
            id=uuid7(at, self._chance(10)),
            who=draft.who,
            kind=spec.word,
            sub=draft.sub,
            base=self._base(spec, draft, full, latest),
            seen=seen,
            t=at,
            body=body,
            att=draft.att,
        )
        if spec.sets:  # within one batch, a later event builds on an earlier one
            event = read(raw)
            latest[fill(spec.sets, event)] = event.id
        return Offer(raw=raw, openings=openings)

    def _base(
        self, spec: Kind, draft: Draft, body: Mapping[str, Any], latest: Mapping[str, str]
    ) -> str | None:
        if not spec.compares or draft.base is not None:
            return draft.base
        key = spec.compares.format_map({**body, "sub": draft.sub, "who": draft.who})
        return latest.get(key) or self.store.look(key) or ""
