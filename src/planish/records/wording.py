"""Words agreed: what was kept, weakened, left out or added, why, and what would let the label say more."""

from dataclasses import dataclass, field
from typing import Literal

from planish.records.claims import Claim, ClaimValue, Side, Span
from planish.records.problems import Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """Why a claim cannot stand as written: a finding, a contradiction or a clause, in one sentence about the object.

    `ref` is the id of the finding's claim, the contradiction or the clause. `keeps_out` True means the claim must go
    or change before anything else is asked; False means that `instead` is only used when the claim falls all the same.
    `instead` are exact words that the remedy gives for it ("Georgian style"), `value` what they claim when they claim
    a value of their own.
    """

    claim: str
    kind: Literal["finding", "contradiction", "clause"]
    ref: str
    sentence: str
    keeps_out: bool = True
    instead: str = ""
    value: ClaimValue | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Disclosure:
    """Something the label must say: words as they should stand, the part, and where the duty comes from.

    `told_by` are words that already disclose it when the label says them of the same part.
    """

    words: str
    part: str = ""
    ref: str = ""
    sentence: str = ""
    told_by: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Unsaid:
    """A side on which the label is silent, the values that opinions carry for it, and why it has to be said."""

    side: Side
    values: tuple[ClaimValue, ...] = ()
    why: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """What happened to one claim: its words before and after. `value` is None when the claim was left out or new."""

    claim: str
    did: Literal["kept", "weakened", "left_out", "added", "reworded"]
    before: str
    after: str
    value: ClaimValue | None = None
    span: Span | None = None
    why: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Climb:
    """One rung up from the agreed words, and the smallest look that would allow it (minutes are a house estimate).

    `found_by` tells on what the look rests: "house table" (trade custom, no source) or "weighing" of the object's own case.
    """

    claim: str
    words: str
    look: str
    minutes: int
    found_by: Literal["house table", "weighing"] = "house table"


@dataclass(frozen=True, slots=True)
class WordChange:
    """One run of words: the same in both, only in the old label, or only in the new."""

    kind: Literal["same", "removed", "added"]
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AgreedWords:
    """The strongest sentence that every finding and all hard evidence carry, next to the label as hung.

    `house` is the same label in the rule book's house form, empty when none reads back as the very same claims.
    """

    text: str
    house: str = ""
    claims: tuple[Claim, ...] = ()
    steps: tuple[Step, ...] = ()
    changes: tuple[WordChange, ...] = ()
    climbs: tuple[Climb, ...] = ()
    warnings: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = field(default=())

    @property
    def changed(self) -> bool:
        """True when any word differs from the label as hung."""
        return any(change.kind != "same" for change in self.changes)
