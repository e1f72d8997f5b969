"""What we talk about: the shared nouns of planish, frozen all the way down.

Holds: years, sources, facts, claims, observations, evidence, opinions, outcomes, labels, objects, rule books, problems.
May import: value types of the standard library, nothing else.
Start with `claims.py`, then `observations.py`, then `opinions.py`.

Every record is a frozen, keyword-only dataclass with no behaviour but its own invariants.
Mappings inside a record are read-only views (`freeze`); sequences are tuples.
"""

from planish.records.claims import (
    Claim,
    ClaimValue,
    Conventions,
    DateValue,
    MakerValue,
    MeasuredPart,
    MeasureValue,
    Reading,
    Side,
    Slot,
    Span,
    Strength,
    TermValue,
    Unread,
)
from planish.records.evidence import Contradiction, Event, Evidence, EvidenceItem, Link
from planish.records.facts import Fact, Source, Use
from planish.records.frozen import freeze
from planish.records.lists import ColumnGuess, FieldChange, ListChange, ObjectChange, Question, TakenList
from planish.records.objects import Label, ListedObject, Part, RawRow, State
from planish.records.observations import Observation, Quantity
from planish.records.opinions import Answer, Ballot, ConditionFinding, DateOpinion, Finding, Outcome
from planish.records.problems import Problem, Severity
from planish.records.rulebook import Clause, ClauseAnswer, Discipline, Route, RuleBook, VotingRules
from planish.records.settlement import (
    Circumstances,
    ConditionSummary,
    CountStep,
    DateAgreement,
    PanelAnswer,
    PooledDates,
    Settlement,
    Split,
    Trigger,
)
from planish.records.wording import AgreedWords, Climb, Disclosure, Ground, Step, Unsaid, WordChange
from planish.records.years import Years

__all__ = [
    "AgreedWords",
    "Answer",
    "Ballot",
    "Circumstances",
    "Claim",
    "ClaimValue",
    "Clause",
    "ClauseAnswer",
    "Climb",
    "ColumnGuess",
    "ConditionFinding",
    "ConditionSummary",
    "Contradiction",
    "Conventions",
    "CountStep",
    "DateAgreement",
    "DateOpinion",
    "DateValue",
    "Discipline",
    "Disclosure",
    "Event",
    "Evidence",
    "EvidenceItem",
    "Fact",
    "FieldChange",
    "Finding",
    "Ground",
    "Label",
    "Link",
    "ListChange",
    "ListedObject",
    "MakerValue",
    "MeasureValue",
    "MeasuredPart",
    "ObjectChange",
    "Observation",
    "Outcome",
    "PanelAnswer",
    "Part",
    "PooledDates",
    "Problem",
    "Quantity",
    "Question",
    "RawRow",
    "Reading",
    "Route",
    "RuleBook",
    "Settlement",
    "Severity",
    "Side",
    "Slot",
    "Source",
    "Span",
    "Split",
    "State",
    "Step",
    "Strength",
    "TakenList",
    "TermValue",
    "Trigger",
    "Unread",
    "Unsaid",
    "Use",
    "VotingRules",
    "WordChange",
    "Years",
    "freeze",
]
