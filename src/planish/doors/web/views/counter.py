"""What the API shows an exhibitor: own objects, faults with suggested words, and a trial of other words."""

from planish.doors.web.views.desk import QuestionShown
from planish.doors.web.views.fair import Shown, Stage
from planish.doors.web.views.objects import ClaimShown, PaperShown, PictureShown, UnreadShown, WordChangeShown


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
