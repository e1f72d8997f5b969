"""What comes out: every answer of the API as a model. No model for an exhibitor has a field for a name or a count."""

from typing import Literal

from pydantic import BaseModel, ConfigDict

Stage = Literal["draft", "as_hung", "asked", "agreed", "printed", "checked", "sealed", "superseded"]
ExaminationWord = Literal[
    "listed", "presented", "examining", "opinions_in", "proposed", "confirmed", "final", "unlisted", "not_found",
    "not_seen", "paper_due", "referred", "withdrawn", "under_appeal", "reopened",
]  # fmt: skip


class Shown(BaseModel):
    """An answer."""

    model_config = ConfigDict(from_attributes=True)


class ProblemBody(Shown):
    """Where, what, why it matters, the way out; `code` is a stable plain word for programs."""

    code: str
    where: str
    what: str
    why: str = ""
    remedy: str


class Failure(Shown):
    """Every answer that is not a success has this shape."""

    problem: ProblemBody


class OddCell(Shown):
    """Something in a list that should be looked at."""

    code: str
    severity: int
    where: str
    what: str
    why: str = ""
    remedy: str
    found: str = ""


class Me(Shown):
    """Who is signed in. `stand` is set for an exhibitor, `panels` for members."""

    id: str
    name: str
    kind: Literal["person", "card"]
    roles: list[str]
    stand: str = ""
    panels: list[str] = []
    may: list[str]


class SessionNow(Shown):
    """Whether a fair was made, and who is signed in."""

    begun: bool
    set_up_needed: bool
    fair: str = ""
    me: Me | None = None


class RuleBookOnFile(Shown):
    """A rule book that comes with planish."""

    id: str
    fair: str
    version: str


class SetUpNow(Shown):
    """What set-up needs to know."""

    needed: bool
    fair_begun: bool
    rulebooks: list[RuleBookOnFile]


class FairShown(Shown):
    """The fair."""

    id: str
    name: str
    opens: str = ""
    rulebook: str
    rulebook_version: str
    stands: int
    objects: int
    panels: int
    disciplines: list[str]


class ClauseShown(Shown):
    """A numbered clause."""

    number: str
    text: str
    check: str
    severity: int


class SettingShown(Shown):
    """A switch or voting rule: its value in words, its clause, or that it is a house default."""

    name: str
    value: str
    clause: str = ""
    house_default: bool = False


class RulesShown(Shown):
    """A rule book."""

    id: str
    fair: str
    version: str
    clauses: list[ClauseShown]
    voting: list[SettingShown]
    switches: list[SettingShown]
    datelines: dict[str, int]
    definitions: dict[str, str]


class RuleDifference(Shown):
    """Where two rule books differ."""

    what: str
    left: str
    right: str


class PersonShown(Shown):
    """Somebody who takes part. `conflicts` are stand ids."""

    id: str
    name: str
    roles: list[str]
    disciplines: list[str]
    conflicts: list[str] = []
    object_conflicts: list[str] = []
    signs_in: bool = False


class PanelShown(Shown):
    """Who sits together."""

    id: str
    members: list[str]
    leader: str
    disciplines: list[str]


class StandShown(Shown):
    """A stand."""

    id: str
    number: str
    zone: str
    exhibitor: str
    objects: int
    has_card: bool = False


class SecretOnce(Shown):
    """A passphrase or card code. It is told this once and kept only as a digest."""

    who: str
    secret: str


class ColumnShown(Shown):
    """What one column was taken for."""

    sheet: str
    letter: str
    heading: str
    field: str
    confidence: float
    why: str


class RowShown(Shown):
    """One object as it would be taken in."""

    number: str
    text: str
    fields: dict[str, str] = {}


class ChangeShown(Shown):
    """One field of one object that reads differently now."""

    object: str
    number: str
    field: str
    before: str
    after: str


class IntakeShown(Shown):
    """A list on its way in. `state` reading → ready → taking → taken, or failed, undone; `done` of `total` rows."""

    id: str
    stand: str
    file: str
    state: Literal["reading", "ready", "taking", "taken", "failed", "undone"]
    done: int
    total: int
    columns: list[ColumnShown] = []
    fields: list[str] = []
    first_rows: list[RowShown] = []
    objects: int = 0
    same: int = 0
    added: int = 0
    changed: list[ChangeShown] = []
    removed: list[RowShown] = []
    questions: list[str] = []
    problems: list[OddCell] = []
    may_undo: bool = False


class ObjectLine(Shown):
    """One object in a list."""

    id: str
    stand: str
    number: str
    text: str
    examination: ExaminationWord
    outcome: str
    label: Stage
    disciplines: list[str]
    whereabouts: str
    faults: int
    worst: int | None = None
    mine: Literal["", "locked", "stepped_back"] = ""


class ObjectPage(Shown):
    """A page of objects. `next` is the offset of the next page, null on the last."""

    total: int
    offset: int
    next: int | None = None
    items: list[ObjectLine]


class ClaimShown(Shown):
    """What some of the label's words claim. `start` and `end` are offsets in the text, `key` names it in a ballot."""

    id: str
    key: str
    side: str
    words: str
    start: int
    end: int
    says: str
    part: str = ""
    strength: str


class UnreadShown(Shown):
    """Words that were not read."""

    words: str
    start: int
    end: int


class FactShown(Shown):
    """A dated fact with its source and how it is vouched for."""

    id: str
    statement: str
    years: str
    earliest: int | None = None
    latest: int | None = None
    bounds: str
    use: str
    hardness: str
    source: str
    verified: str
    witness: str
    family: str = ""
    jurisdiction: str = ""
    caveats: list[str] = []


class FaultShown(Shown):
    """One thing a label gets wrong: severity 1 off the floor now, 2 before opening, 3 today, 4 advice."""

    code: str
    severity: int
    sentence: str
    remedy: str
    clause: str
    clause_text: str = ""
    claims: list[str]
    facts: list[FactShown]


class ClashShown(Shown):
    """Things that cannot all be true."""

    id: str
    sentence: str
    claims: list[str]
    ways_out: list[str]
    hard: bool
    binding: bool
    facts: list[FactShown]


class ClauseAnswerShown(Shown):
    """What one clause says of the label."""

    clause: str
    answer: Literal["met", "broken", "cannot_tell"]
    sentence: str
    remedy: str = ""


class FigureShown(Shown):
    """A figure."""

    name: str
    amount: float
    unit: str
    uncertainty: float


class ObservationShown(Shown):
    """What was seen or measured, and what that tells."""

    id: str
    kind: str
    part: str
    words: str
    values: list[FigureShown]
    terms: list[str]
    instrument: str
    spot: str
    surface: str
    sentences: list[str]
    cautions: list[str]
    by: str = ""


class WordChangeShown(Shown):
    """One run of words."""

    kind: Literal["same", "removed", "added"]
    words: str


class LabelShown(Shown):
    """One version of the words."""

    version: int
    text: str
    stage: Stage
    price: str = ""


class OwnBallot(Shown):
    """One's own ballot of one round, as locked."""

    round: int
    late: bool
    outcome: str
    answers: list["OwnAnswer"]
    earliest: int | None = None
    latest: int | None = None
    reasons: list[str]
    wording: str


class OwnAnswer(Shown):
    """One's own answer on a claim."""

    claim: str
    verdict: str
    reason: str


class SplitShown(Shown):
    """The unnamed split of a closed round."""

    round: int
    outcomes: dict[str, int]
    claims: list["ClaimSplit"]


class ClaimSplit(Shown):
    """How many answered how on one claim."""

    claim: str
    holds: int
    does_not_hold: int
    cannot_say: int


class AnswerShown(Shown):
    """What the count gave, without any number of votes."""

    then: Literal["settled", "talk", "refer", "waiting"]
    outcome: str
    answers: list["ClaimAnswered"]
    reasons: list[str]
    rule: list[str]
    triggers: list[str] = []


class ClaimAnswered(Shown):
    """The panel's answer on one claim."""

    claim: str
    answer: str


class CountShown(Shown):
    """A count: the answer, and the split where the reader may see it now."""

    answer: AnswerShown
    split: SplitShown | None = None
    trace: list[str] = []
    split_withheld: str = ""


class HistoryLine(Shown):
    """One thing that happened, in words."""

    n: int
    at: str
    what: str
    words: str = ""


class MoveShown(Shown):
    """One move."""

    n: int
    at: str
    from_: str
    to: str
    place: str
    given_by: str
    taken_by: str
    condition: str


class PictureShown(Shown):
    """A picture; `url` serves the re-encoded copy."""

    digest: str
    url: str
    view: str = ""
    part: str = ""


class PaperShown(Shown):
    """A paper on file."""

    sort: str
    words: str


class ObjectShown(Shown):
    """One object as its reader may see it. `hidden` names what there may be and is not shown now, and until when."""

    id: str
    stand: str
    number: str
    exhibitor: str = ""
    text: str
    price: str | None = None
    examination: ExaminationWord
    outcome: str
    label_stage: Stage
    label_version: int
    whereabouts: str
    place: str
    trade: str
    holds: list[str]
    may_be_shown: bool
    disciplines: list[str]
    labels: list[LabelShown] = []
    claims: list[ClaimShown] = []
    unread: list[UnreadShown] = []
    faults: list[FaultShown] = []
    clauses: list[ClauseAnswerShown] = []
    clashes: list[ClashShown] = []
    date_sentence: str = ""
    ribbon_url: str = ""
    ribbon_words: str = ""
    observations: list[ObservationShown] = []
    pictures: list[PictureShown] = []
    papers: list[PaperShown] = []
    reasons: list[str] = []
    clauses_of_outcome: list[str] = []
    own_ballots: list[OwnBallot] = []
    stepped_back: bool = False
    round: Literal[1, 2] = 1
    may_vote: str | None = None
    answer: AnswerShown | None = None
    split: SplitShown | None = None
    recused: list[str] | None = None
    moves: list[MoveShown] = []
    history: list[HistoryLine] = []
    alarms: list[str] = []
    raw: dict[str, str] | None = None
    hidden: list[str] = []
    may: list[str] = []


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
    """The strongest sentence everybody can carry, next to what hangs."""

    text: str
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
    """One rung up, and the look that would allow it (minutes are a house estimate)."""

    words: str
    look: str
    minutes: int


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


class CounterFault(Shown):
    """Something to mend in a label, in plain words."""

    severity: int
    urgency: str
    sentence: str
    remedy: str
    clause: str
    clause_text: str
    claims: list[str]
    sources: list[str]


class CounterLine(Shown):
    """One of the exhibitor's own objects."""

    id: str
    number: str
    text: str
    to_mend: int
    worst: int | None = None
    stage: Stage
    outcome: str
    says: str


class CounterObject(Shown):
    """One of the exhibitor's own objects in full: no name, no count, no opinion."""

    id: str
    stand: str
    number: str
    text: str
    price: str
    version: int
    stage: Stage
    may_correct: bool
    claims: list[ClaimShown]
    unread: list[UnreadShown]
    faults: list[CounterFault]
    suggestion: str
    suggestion_changes: list[WordChangeShown]
    outcome: str
    says: str
    reasons: list[str]
    clauses: list[str]
    to_do: str
    appeal: str
    may_appeal: bool
    asked: str
    asked_changes: list[WordChangeShown]
    asked_why: list[str]
    may_agree: bool
    whereabouts: str
    pictures: list[PictureShown]
    papers: list[PaperShown]
    questions: list[QuestionShown]


class CounterShown(Shown):
    """The exhibitor's own stand."""

    fair: str
    stand: str
    exhibitor: str
    objects: int
    clean: int
    to_mend: int
    lists_taken: int
    questions: list[QuestionShown]
    lines: list[CounterLine]


class CounterTry(Shown):
    """What the check says of words not yet handed in."""

    text: str
    claims: list[ClaimShown]
    unread: list[UnreadShown]
    faults: list[CounterFault]
