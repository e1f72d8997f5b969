"""Taking one event into the log: the same rules for every store, inside its transaction.

At least once from the sender, exactly once in effect: a known id with the same bytes is `have`, with other bytes
`clash`; a device's numbers follow each other without a gap; the openings must match before anything is acknowledged.
"""

from collections.abc import Callable

from planish.ledger import chain
from planish.ledger.commitments import committed, fault
from planish.ledger.events import Event, MalformedEventError, parse, read
from planish.ledger.judging import Judgement, Look, Sets, judge, judge_released, keeps, keys_set, known_device
from planish.ledger.signatures import signed
from planish.ledger.store import Entry, Offer, Page, Result

ParsedOffer = tuple[Offer, Event | None, str]


def prepare(offer: Offer, fair: str) -> ParsedOffer:
    """Everything slow, before the transaction: parse, and check the openings. The word is what is wrong, or ""."""
    try:
        event = parse(offer.raw)
    except MalformedEventError as error:
        return offer, None, f"{error}."
    if event.fair != fair:
        return offer, event, f"The event belongs to the fair {event.fair!r}, this log to {fair!r}."
    if offer.by and event.dev != offer.by:
        return offer, event, "The event names another device than the one that hands it in."
    wrong = fault(event, offer.openings)
    return offer, event, f"{wrong}." if wrong else ""


def accept(page: Page, prepared: ParsedOffer, recv_ms: int) -> Result:
    """Record one event, or say why not. Never raises for what a sender may do."""
    offer, event, wrong = prepared
    if event is None:
        return Result(status="refused", why=wrong)
    known = _known(page, event) or _out_of_order(page, event) or _unsigned(page, offer, event)
    if known is not None:
        return known
    if wrong and not _lacks_only_what_was_deleted(page, offer, event):
        return Result(status="refused", why=wrong, id=event.id)
    judged = judge(event, page.look)
    if event.name == "held.released" and judged.status == "ok":
        judged = _released(page, event, judged)
    n = _write(page, offer, event, judged, recv_ms)
    return Result(status=judged.status, n=n, why=judged.why, id=event.id)


def keys_of(entry: Entry, *, look: Look, raw_of: Callable[[str], tuple[int, bytes] | None]) -> Sets:
    """The keys an entry set when it was recorded, given the keys as they were before: what a rebuild puts again.

    The recorded status decides, not today's rules: what was applied then stays applied.
    """
    event = entry.event
    if entry.status == "held":
        return ((f"held:{event.id}", str(entry.n)),)
    if entry.status != "ok":
        return ()
    sets = keys_set(event, look)
    if event.name == "held.released":
        found = raw_of(event.sub)
        sets += () if found is None else keys_set(read(found[1]), look)
    return sets


def _known(page: Page, event: Event) -> Result | None:
    found = page.raw_of(event.id)
    if found is not None:
        if found[1] == event.raw:
            return Result(status="have", n=found[0], id=event.id)
        why = f"Entry {found[0]} has the same id and other bytes; nothing was overwritten."
        return Result(status="clash", why=why, id=event.id)
    if not known_device(event, page.look):
        why = f"The device {event.dev!r} is not known here; keep the event and pair the device."
        return Result(status="refused", why=why, id=event.id)
    return None


def _out_of_order(page: Page, event: Event) -> Result | None:
    last = page.last_of(event.dev)
    if event.seq > last.seq + 1:
        return Result(
            status="gap", last=last.seq, id=event.id, why=f"Number {last.seq + 1} of this device is missing."
        )
    if event.seq <= last.seq:
        why = f"Number {event.seq} of this device is already another event; nothing was overwritten."
        return Result(status="clash", why=why, id=event.id, last=last.seq)
    if event.dprev != last.digest:
        why = f"The event does not follow number {last.seq} of this device as it lies here."
        return Result(status="clash", why=why, id=event.id, last=last.seq)
    return None


def _unsigned(page: Page, offer: Offer, event: Event) -> Result | None:
    """A device paired with a key signs; bytes that it did not sign are nobody's, and the tablet keeps them."""
    key = page.look(f"key:{event.dev}")
    if not key or signed(key, event.raw, offer.sig):
        return None
    why = f"The signature is not that of the device {event.dev!r}; keep the event and pair the device again."
    return Result(status="refused", why=why, id=event.id)


def _lacks_only_what_was_deleted(page: Page, offer: Offer, event: Event) -> bool:
    """A tablet drops a text whose deletion it was told of; after a restore it hands the event in again without it."""
    if event.fair != page.fair or (offer.by and event.dev != offer.by):
        return False
    lacking = committed(event).keys() - {opening.path for opening in offer.openings}
    gone = frozenset(path for path in lacking if not keeps(event.id, path, page.look))
    return bool(gone) and not fault(event, offer.openings, gone)


def _released(page: Page, event: Event, judged: Judgement) -> Judgement:
    """A release counts only when the held event, judged again now, may count."""
    found = page.raw_of(event.sub)
    if found is None or page.look(f"held:{event.sub}") is None:
        return Judgement(status="denied", why="There is no held event with this id.")
    again = judge_released(parse(found[1]), _Seen(page, f"released:{event.sub}", event.id))
    if again.status != "ok":
        return Judgement(status=again.status, why=again.why)
    return Judgement(status="ok", sets=(*judged.sets, *again.sets))


class _Seen:
    """Looks in the page, with one key already set."""

    def __init__(self, page: Page, key: str, value: str) -> None:
        self._page, self._key, self._value = page, key, value

    def __call__(self, key: str) -> str | None:
        return self._value if key == self._key else self._page.look(key)


def _write(page: Page, offer: Offer, event: Event, judged: Judgement, recv_ms: int) -> int:
    head = page.head()
    n, at = head.n + 1, max(head.recv_ms, recv_ms)
    leaf = chain.leaf(n=n, recv_ms=at, dev=event.dev, seq=event.seq, status=judged.status, raw=event.raw)
    entry = Entry(
        n=n,
        recv_ms=at,
        status=judged.status,
        raw=event.raw,
        leaf=leaf,
        hash=chain.link(head.hash, leaf),
        openings={one.path: one for one in offer.openings if keeps(event.id, one.path, page.look)},
        sig=offer.sig if page.look(f"key:{event.dev}") else b"",
    )
    entry.__dict__["event"] = event  # parsed already
    page.write(entry)
    for key, value in judged.sets:
        page.put(key, value)
    if judged.status == "held":
        page.put(f"held:{event.id}", str(n))
    return n
