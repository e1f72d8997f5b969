"""What tablets, and the desk's pages about tablets, are shown."""

from typing import Any, Literal

from planish.doors.web.views.fair import Shown
from planish.doors.web.views.objects import ObjectShown

Pairs = Literal["waiting", "yes", "no", "gone"]
How = Literal["paired", "lost", "stolen", "retired"]


class CodeShown(Shown):
    """A code for one tablet, shown once: the address, its QR picture (SVG text), and what can be typed."""

    code: str
    qr: str
    typed: str
    url: str
    seconds: int


class AskedShown(Shown):
    """What an asking tablet is told: the four words to compare, and the desk's public key to remember."""

    pairing: str
    words: list[str]
    desk_key: str
    fair: str
    fair_name: str


class PairingShown(Shown):
    """Where the pairing of this tablet stands."""

    state: Pairs
    dev: str = ""
    fair: str = ""
    person: str = ""
    needs_pin: bool = False
    words: list[str] = []


class WaitingShown(Shown):
    """A tablet that waits for a yes at the desk. `again` is the tablet it says it was."""

    pairing: str
    words: list[str]
    name: str
    again: str
    at: str
    signs: bool
    checks: dict[str, Any]


class TabletShown(Shown):
    """A tablet as the desk knows it. `queue` events wait on it, as it said when it was last seen."""

    dev: str
    name: str
    state: How
    signs: bool
    people: list[str]
    paired: str
    seen: str
    seen_s: int
    queue: int
    oldest_s: int
    pictures: int
    behind: int
    handed_in: str
    checks: dict[str, Any]


class AlarmShown(Shown):
    """Something about a tablet that a person should see."""

    at: str
    dev: str
    code: str
    words: str


class TabletsShown(Shown):
    """All tablets, those that wait, and alarms."""

    tablets: list[TabletShown]
    waiting: list[WaitingShown]
    alarms: list[AlarmShown]


class HeadShown(Shown):
    """The newest entry: its number and the chain's hash."""

    n: int
    hash: str


class PersonOnTablet(Shown):
    """Somebody who may unlock a tablet."""

    id: str
    name: str
    pin: bool


class DeviceShown(Shown):
    """What a tablet may know of itself and the desk with nobody unlocked."""

    dev: str
    name: str
    state: How
    fair: str
    fair_name: str
    people: list[PersonOnTablet]
    who: str
    epoch: str
    head: HeadShown
    safe_n: int
    last_seq: int
    last_digest: str
    now_ms: int
    tls: bool
    proto: list[int]


class UnlockedShown(Shown):
    """Who is unlocked."""

    who: str
    name: str
    roles: list[str]


class FileTaken(Shown):
    """What became of a tablet's file: events that were not here, that were, that became cards, that were not taken.

    `why` says what stopped the rest, "" when nothing did.
    """

    dev: str
    fresh: int
    known: int
    cards: int
    left: int
    why: str


class HelloShown(Shown):
    """The desk's signature over the nonce."""

    sig: str
    desk_key: str


class ResultShown(Shown):
    """What became of one event."""

    id: str
    status: Literal["ok", "have", "stale", "held", "denied", "gap", "clash", "epoch", "refused"]
    n: int
    why: str
    last: int
    epoch: str


class PushShown(Shown):
    """One result per event. A stolen tablet is told `taken` and nothing else."""

    proto: int
    epoch: str
    results: list[ResultShown]
    head: HeadShown
    safe_n: int
    now_ms: int


class CursorShown(Shown):
    """What to ask for next."""

    after: int
    hash: str
    from_: str


class EntryShown(Shown):
    """One entry; for whoever may not see it, `n` and `leaf` and nothing else."""

    n: int
    leaf: str
    at: int | None = None
    status: str | None = None
    raw: str | None = None
    open: list[dict[str, str]] | None = None


class CardShown(Shown):
    """An event that was recorded and not applied, with what stands in its place."""

    id: str
    n: int
    status: str
    kind: str
    sub: str
    who: str
    dev: str
    at: str
    why: str
    yours: dict[str, Any]
    stands: dict[str, Any] | None = None
    closed: str = ""
    late: str = ""


class FloorObject(ObjectShown):
    """An object on a tablet: also whether it is in one's round, whether a key is needed, and the bases of changes."""

    mine: bool
    key: Literal["", "has", "needs"]
    bases: dict[str, str]
    n: int


class PullShown(Shown):
    """Entries in order, objects as they are now, and where to go on."""

    epoch: str
    entries: list[EntryShown]
    objects: list[FloorObject]
    gone: list[str]
    cards: list[CardShown]
    next: CursorShown
    more: bool
    head: HeadShown
    safe_n: int
    now_ms: int
    again: bool
    redacted: list[dict[str, str]]


class OwnShown(Shown):
    """A tablet's own entries, given back after its store was wiped."""

    events: list[dict[str, Any]]
    more: bool


class HeadsAgreed(Shown):
    """Whether all heads a tablet remembers are in the log as it lies now; `against` are the numbers that are not."""

    agree: bool
    against: list[int]


class RoundStand(Shown):
    """One stand of a round."""

    id: str
    number: str
    zone: str
    exhibitor: str
    objects: list[str]
    done: int
    left: int


class RoundShown(Shown):
    """Who walks where."""

    fair: dict[str, str]
    panels: list[dict[str, Any]]
    people: list[dict[str, str]]
    stands: list[RoundStand]


class BlobShown(Shown):
    """How much of a picture the desk has."""

    have: int
    whole: bool
