"""What the API shows of like cases, second looks and appeals: objects and reasons, never a ballot, a count or a vote."""

from typing import Literal

from planish.doors.web.views.fair import Shown
from planish.doors.web.views.objects import WordChangeShown


class LikeShown(Shown):
    """An object that was treated for the same fault."""

    object: str
    number: str
    words: str
    outcome: str
    reasons: list[str]
    different: list[str]


class LikeCasesShown(Shown):
    """How the same faults as on one object were treated elsewhere at this fair."""

    faults: list[str]
    cases: list[LikeShown]
    unlike: list[str]


class UnlikeShown(Shown):
    """Two like cases with unlike outcomes."""

    one: str
    other: str
    outcomes: tuple[str, str]
    sentence: str
    noted: bool


class LookAgainShown(Shown):
    """An object to look at again. Why it is here is not told: whoever looks again looks blind."""

    object: str
    number: str
    words: str
    done: bool
    may_look: bool
    chance: str = ""


class PaceShown(Shown):
    """An hour of a panel in which faults may have slipped through."""

    panel: str
    hour: str
    sentence: str


class SecondLooksShown(Shown):
    """The plan. Pace, what may have been missed and the assumptions are for those who lead."""

    looks: list[LookAgainShown]
    capacity: int
    would_pay: int | None = None
    referred: int | None = None
    pace: list[PaceShown] = []
    missed: list[str] = []
    assumptions: list[str] = []


class AppealLine(Shown):
    """One appeal, open or decided."""

    object: str
    stand: str
    number: str
    words: str
    grounds: str
    decided: str


class EvidenceLine(Shown):
    """One piece of evidence named by the exhibitor; `new` is False for what the first panel had."""

    words: str
    new: bool


class AppealShown(Shown):
    """Where an appeal stands, and what the appeals panel reads. `may_hear` are ids of people who may hear it, `names` theirs.

    `round` and `sealed`: the hearing's round and how many views are in; `claims` what a view may say does not hold;
    `talk` and `rule`: what counting the round just now gave, without counts.
    """

    object: str
    stand: str
    number: str
    words: str
    outcome: str
    until: str
    clause: str
    lodged: str
    late: str
    evidence: list[EvidenceLine]
    decided: str
    why_not: list[str]
    may_hear: list[str]
    names: dict[str, str] = {}
    needed: int
    short: str
    asked_changes: list[WordChangeShown] = []
    reasons: list[str] = []
    clauses: list[str] = []
    seen: list[str] = []
    readings: list[str] = []
    clashes: list[str] = []
    like_cases: list[str] = []
    unlike: list[str] = []
    round: int = 0
    sealed: int = 0
    own_sealed: bool = False
    claims: list[str] = []
    talk: list[str] = []
    rule: list[str] = []
    may: list[Literal["lodge", "vote", "count", "decide"]] = []
