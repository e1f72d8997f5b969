"""A store that lives as long as the process: for tests, and for a rehearsal that leaves nothing behind."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import islice
from typing import Any

from planish.ledger import chain
from planish.ledger.accepting import accept, prepare
from planish.ledger.store import DeviceHead, Entry, Head, Offer, Result


class MemoryStore:
    """Keeps the promise of `store.Store` in plain lists; nothing is durable."""

    def __init__(self, *, fair: str, epoch: str) -> None:
        self.fair = fair
        self.safe_n = 0
        self._epoch = epoch
        self._entries: list[Entry] = []
        self._ids: dict[str, int] = {}
        self._last: dict[str, DeviceHead] = {}
        self._keys: dict[str, str] = {}

    def append(self, batch: Sequence[Offer], *, recv_ms: int, epoch: str | None = None) -> list[Result]:
        """See `Store.append`."""
        prepared = [prepare(offer, self.fair) for offer in batch]
        if epoch is not None and epoch != self._epoch:
            return [
                Result(status="epoch", epoch=self._epoch, last=self.last_of(event.dev).seq if event else 0)
                for _, event, _ in prepared
            ]
        return [accept(self, one, recv_ms) for one in prepared]

    def entries(self, after: int = 0) -> Iterator[Entry]:
        """See `Store.entries`."""
        yield from self._entries[after:]

    def entry_of(self, event_id: str) -> Entry | None:
        """See `Store.entry_of`."""
        n = self._ids.get(event_id)
        return None if n is None else self._entries[n - 1]

    def entries_of(self, dev: str, after: int = 0, most: int = 500) -> list[Entry]:
        """See `Store.entries_of`."""
        own = (entry for entry in self._entries if entry.event.dev == dev and entry.event.seq > after)
        return [*islice(own, most)]

    def head(self) -> Head:
        """See `Store.head`."""
        if not self._entries:
            return Head(n=0, hash=chain.genesis(self.fair), recv_ms=0, epoch=self._epoch)
        last = self._entries[-1]
        return Head(n=last.n, hash=last.hash, recv_ms=last.recv_ms, epoch=self._epoch)

    def last_of(self, dev: str) -> DeviceHead:
        """See `Store.last_of`."""
        return self._last.get(dev, DeviceHead())

    def look(self, key: str) -> str | None:
        """See `Store.look`."""
        return self._keys.get(key)

    def standing(self) -> Mapping[str, str]:
        """See `Store.standing`."""
        return dict(self._keys)

    def redact(self, event_ids: Sequence[str], path: str = "") -> int:
        """See `Store.redact`."""
        gone = 0
        for event_id in event_ids:
            entry = self.entry_of(event_id)
            if entry is None:
                continue
            left = {name: one for name, one in entry.openings.items() if path and name != path}
            gone += len(entry.openings) - len(left)
            self._entries[entry.n - 1] = replace(entry, openings=left)
        return gone

    def keep_safe(self, n: int) -> None:
        """See `Store.keep_safe`."""
        self.safe_n = max(self.safe_n, min(n, len(self._entries)))

    def renew(self, epoch: str) -> None:
        """See `Store.renew`."""
        self._epoch = epoch

    def columns(self) -> Iterator[tuple[Any, ...]]:
        """Read from the events themselves: there is no separate index to go wrong."""
        for entry in self._entries:
            event = entry.event
            yield (entry.n, event.dev, event.seq, event.id, event.kind, event.sub, event.who)

    def soundness(self) -> list[str]:
        """Memory has no engine to ask."""
        return []

    def close(self) -> None:
        """See `Store.close`."""

    def raw_of(self, event_id: str) -> tuple[int, bytes] | None:
        """See `Page.raw_of`."""
        entry = self.entry_of(event_id)
        return None if entry is None else (entry.n, entry.raw)

    def put(self, key: str, value: str) -> None:
        """See `Page.put`."""
        self._keys[key] = value

    def write(self, entry: Entry) -> None:
        """See `Page.write`."""
        event = entry.event
        self._entries.append(entry)
        self._ids[event.id] = entry.n
        self._last[event.dev] = DeviceHead(seq=event.seq, digest=chain.digest(entry.raw).hex())
