"""What is printed: each paper as a record, so that paper, screen and data say the same thing.

No paper for an exhibitor holds a name of a specialist or a count of opinions.
"""

from dataclasses import dataclass

from planish.records.wording import WordChange


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelCard:
    """One label to hang: heading, the rest of the words, the line at the foot (stand, number, version).

    `code` is the text of its seal's QR code and `check` the code to type; both empty until it is sealed.
    """

    heading: str
    body: str
    foot: str
    price: str = ""
    code: str = ""
    check: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """What an exhibitor is told of one object: outcome, reasons about the object, clause, what to do, until when."""

    fair: str
    stand: str
    number: str
    words: str
    outcome: str
    reasons: tuple[str, ...]
    clauses: tuple[str, ...]
    to_do: str
    appeal: str
    slip_number: str
    new_words: str = ""
    changes: tuple[WordChange, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLine:
    """One object on a stand sheet: number, words, questions from paper, which panels, room for marks by hand."""

    number: str
    words: str
    panels: tuple[str, ...]
    questions: tuple[str, ...] = ()
    outcome: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StandSheet:
    """All objects of one stand, in stand order."""

    fair: str
    stand: str
    exhibitor: str
    lines: tuple[SheetLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WordingLine:
    """One change of words: asked and agreed, with the changed words marked, and room for two initials."""

    stand: str
    number: str
    hung: str
    agreed: str
    changes: tuple[WordChange, ...]
    why: tuple[str, ...]
    more: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Receipt:
    """For an object taken off the floor: what, condition on hand-over, where it is kept, two initials."""

    fair: str
    number: str
    stand: str
    words: str
    condition: str
    kept_at: str
    returned: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenCase:
    """An object that is not settled: what is open and what would settle it."""

    stand: str
    number: str
    words: str
    open: str
    next: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AppealBundle:
    """What an appeals panel reads of one object. It has no place for a ballot, a count or a name of the first panel.

    `words` as they hung, `asked` with `changes`; `outcome`, `reasons`, `clauses` of the first panel; `grounds` and
    `new_evidence` of the exhibitor, `not_new` what the first panel had; `late` why it is heard after the window;
    `seen` and `readings` of the looks; `clashes`; `pictures` by view; `like_cases` and `alarms`; `members` who must hear it.
    """

    fair: str
    number: str
    words: str
    outcome: str
    reasons: tuple[str, ...]
    clauses: tuple[str, ...]
    grounds: str
    new_evidence: tuple[str, ...]
    asked: str = ""
    changes: tuple[WordChange, ...] = ()
    late: str = ""
    not_new: tuple[str, ...] = ()
    seen: tuple[str, ...] = ()
    readings: tuple[str, ...] = ()
    clashes: tuple[str, ...] = ()
    pictures: tuple[str, ...] = ()
    like_cases: tuple[str, ...] = ()
    alarms: tuple[str, ...] = ()
    members: int = 3
    clause: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate:
    """A share with its denominator and 95 % Wilson interval."""

    what: str
    of: str
    count: int
    total: int
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Featured:
    """One case shown in the report: words, outcome, sentences, and its year ribbon (SVG, with a text that says the same)."""

    title: str
    words: str
    outcome: str
    sentences: tuple[str, ...]
    ribbon: str
    ribbon_words: str
    sources: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """The end-of-fair report."""

    fair: str
    day: str
    rulebook: str
    paragraphs: tuple[str, ...]
    rates: tuple[Rate, ...]
    coverage: tuple[tuple[str, int], ...]
    reasons: tuple[tuple[str, int], ...]
    stands: tuple[tuple[str, int, int, int, int, int], ...]
    featured: tuple[Featured, ...]
    sources: tuple[str, ...]
    limits: tuple[str, ...]
