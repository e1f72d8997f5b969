"""What the API shows at the desk: board, words asked, open cases, safe-keeping, log, search, report."""

from typing import Literal

from planish.doors.web.views.fair import OddCell, Shown, Stage
from planish.doors.web.views.objects import WordChangeShown


class BoardCell(Shown):
    """Objects of one stand and discipline, by column."""

    stand: str
    discipline: str
    unseen: int
    in_hand: int
    questions: int
    done: int


class BoardShown(Shown):
    """The board. Minutes are null while too little is done to tell; low and high hold with 80 % if the speed stays."""

    stands: list[str]
    disciplines: list[str]
    cells: list[BoardCell]
    unseen: int
    in_hand: int
    questions: int
    done: int
    per_hour: float | None = None
    minutes_left: int | None = None
    minutes_low: int | None = None
    minutes_high: int | None = None
    window_minutes: int


class Done(Shown):
    """It is recorded: how many, and the log's newest entry number where the reader may know it."""

    done: int
    words: str = ""


class AgreedWordsShown(Shown):
    """The strongest sentence everybody can carry, next to what hangs; `house` is it in the house form, "" without one."""

    text: str
    house: str
    hung: str
    changed: bool
    changes: list[WordChangeShown]
    steps: list["StepShown"]
    climbs: list["ClimbShown"]
    warnings: list[str]


class StepShown(Shown):
    """What happened to one claim."""

    did: str
    before: str
    after: str
    why: list[str]


class ClimbShown(Shown):
    """One rung up, and the look that would allow it (minutes are a house estimate); found by a house table or by weighing."""

    words: str
    look: str
    minutes: int
    found_by: Literal["house table", "weighing"] = "house table"


class WordingShown(Shown):
    """One label for which other words are asked or agreed."""

    object: str
    stand: str
    number: str
    version: int
    stage: Stage
    hung: str
    asked: str
    changes: list[WordChangeShown]
    why: list[str]


class OpenCaseShown(Shown):
    """What is not settled and what would settle it."""

    object: str
    stand: str
    number: str
    words: str
    open: str
    next: str


class KeptShown(Shown):
    """An object in safe-keeping."""

    object: str
    stand: str
    number: str
    text: str
    place: str
    condition: str
    receipt: str


class QuestionShown(Shown):
    """An open question."""

    number: int
    object: str
    stand: str
    to: str
    words: str
    kind: Literal["renumbered", "other"]


class LogVerified(Shown):
    """What reading the whole log back gave."""

    entries: int
    head: str
    words: str
    whole: bool
    problems: list[OddCell]


class LogLine(Shown):
    """One entry of the log as an auditor reads it: no openings."""

    n: int
    at: str
    kind: str
    sub: str
    who: str
    dev: str
    status: str
    hash: str


class Hit(Shown):
    """Something found."""

    kind: Literal["object", "stand", "person", "fact", "clause"]
    id: str
    title: str
    words: str


class Hits(Shown):
    """What was found; `more` when there is more than is shown."""

    hits: list[Hit]
    more: bool


class RatesShown(Shown):
    """A share with its denominator and 95 % interval."""

    what: str
    of: str
    count: int
    total: int
    low: float
    high: float


class ReportShown(Shown):
    """The report in figures; the whole of it is the paper report.pdf."""

    fair: str
    rulebook: str
    paragraphs: list[str]
    rates: list[RatesShown]
    coverage: list[tuple[str, int]]
    limits: list[str]
