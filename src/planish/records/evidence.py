"""What bears on a claim: weighed evidence items, sentences for or against, and the smallest clashes."""

from dataclasses import dataclass
from typing import Literal

from planish.records.problems import Severity
from planish.records.years import Years

Event = Literal[
    "body_made",
    "part_made",
    "finish_applied",
    "decorated",
    "inscribed",
    "mark_struck",
    "repair",
    "designed",
    "cast",
    "printed",
    "registered",
    "published",
    "exhibited",
    "remade",
    "copied",
    "imported",
    "retailed",
    "exported",
    "label",
]
"""Things that happen to an object, each with its own year. `label` bounds what a word on a label can mean.

`remade`: the thing itself made anew (a bell recast); `copied`: another thing made after it, which is not the work.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class EvidenceItem:
    """One quantified statement about the year of one event of one part (statistics: see docs/weighing.md).

    `windows` is a union of spans; more than one is never called an interval. `curve` gives (year, relative
    likelihood) points instead, straight lines between. `doubt` is the chance that the item does not tell the truth
    about this event of this part. `group` and `within_group` (correlation 0..1) temper dependent items.
    `binding` items are physical and cannot be imitated backwards; the rest are imitable.
    `hard` items may contradict on their own. `facts`, `observations` and `claims` are ids it rests on.
    """

    id: str
    sentence: str
    part: str = ""
    event: Event = "body_made"
    windows: tuple[Years, ...] = ()
    curve: tuple[tuple[int, float], ...] = ()
    doubt: float = 0.05
    binding: bool = False
    hard: bool = False
    group: str = ""
    within_group: float = 0.5
    strength: Literal["decisive", "strong", "moderate", "weak"] = "moderate"
    facts: tuple[str, ...] = ()
    observations: tuple[str, ...] = ()
    claims: tuple[str, ...] = ()
    limits: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """Two events of one part in their order: `earlier` cannot come after `later`.

    `stay` (0..1) is the chance that both fell in the same year. "made" stands for the making of body or part.
    """

    earlier: str
    later: str
    stay: float = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """For or against one claim, in one sentence, with what it rests on."""

    claim: str
    bearing: Literal["for", "against", "neutral"]
    sentence: str
    items: tuple[str, ...] = ()
    facts: tuple[str, ...] = ()
    observations: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Contradiction:
    """The smallest set that cannot all hold: drop any one member and the rest agree.

    `sentence` says "these two cannot both be true: ..."; `ways_out` the alternatives ("either ... or ...").
    `hard` is True when every member is hard. Members are ids of claims, observations and facts. `severity` is how
    soon the words must be put right (see `Problem`).
    """

    id: str
    sentence: str
    claims: tuple[str, ...] = ()
    items: tuple[str, ...] = ()
    facts: tuple[str, ...] = ()
    observations: tuple[str, ...] = ()
    ways_out: tuple[str, ...] = ()
    hard: bool = False
    fault: str = ""
    severity: Severity = 2
