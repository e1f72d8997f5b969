"""What the API shows of one object: its words, claims, faults, looks, counts, history."""

from typing import Literal

from planish.doors.web.views.fair import ExaminationWord, Shown, Stage
from planish.doors.web.views.sealing import HoldShown


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
    more: dict[str, str] = {}
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


class BesideShown(Shown):
    """Something written at the same time as another's, kept beside it, that does not count."""

    n: int
    at: str
    what: str
    words: str
    why: str


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
    holds: list[HoldShown]
    seal: str = ""
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
    beside: list[BesideShown] = []
    on_outcome: str = ""
    on_label: str = ""
    raw: dict[str, str] | None = None
    hidden: list[str] = []
    may: list[str] = []
