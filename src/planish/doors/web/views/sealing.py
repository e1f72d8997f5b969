"""What the API shows of keys, seals, holds and of what waits for a second person."""

from typing import Literal

from planish.doors.web.views.fair import Shown, Stage


class KeysShown(Shown):
    """The fair's keys: made, which sheets were tried, unlocked in this desk; how ballots lie on the disk."""

    made: bool
    id: str = ""
    tried: list[bool] = []
    unlocked: bool
    ballots: Literal["readable", "covered", "open"]


class SheetShown(Shown):
    """One recovery sheet. It is shown this once."""

    number: int
    about: str
    words: list[str]


class SheetsOnce(Shown):
    """Both recovery sheets, told this once."""

    id: str
    sheets: list[SheetShown]


class SheetSaid(Shown):
    """Which sheet was tried, and whether both have been now."""

    sheet: int
    done: bool


class ToSeal(Shown):
    """A label whose words are settled: read it on the object, then seal it."""

    object: str
    stand: str
    number: str
    words: str
    version: int
    stage: Stage


class SealShown(Shown):
    """A sealed label: its check code and where it stands."""

    object: str
    stand: str
    number: str
    words: str
    check: str
    state: str


class SealingShown(Shown):
    """What may be sealed now, and what is sealed."""

    keys: KeysShown
    ready: list[ToSeal]
    sealed: list[SealShown]


class HoldShown(Shown):
    """One hold that is on. `reason` is left out for who may not read it."""

    name: str
    sort: str
    off_floor: bool
    reason: str = ""


class WaitingSecond(Shown):
    """Something that waits for a second person: what, on which object, asked by whom."""

    id: str
    what: Literal["confirm", "final", "reopen", "redact", "revoke_seal"]
    says: str
    object: str
    stand: str
    number: str
    text: str
    reason: str
    by: str
    minutes: int


class SecondsShown(Shown):
    """What waits for you to agree, and what you asked others to agree to."""

    for_you: list[WaitingSecond]
    from_you: list[WaitingSecond]


class SealState(Shown):
    """Where a seal stands: sealed, superseded, revoked, or unknown to this fair."""

    state: Literal["sealed", "superseded", "revoked", "unknown"]
