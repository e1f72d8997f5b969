"""Opinions, their locked form, and what a panel makes of them."""

from dataclasses import dataclass
from typing import Literal

from planish.records.years import Years

Verdict = Literal["holds", "does_not_hold", "cannot_say"]
Outcome = Literal["accept", "relabel", "remove", "refer"]
Severity5 = Literal[0, 1, 2, 3, 4]
"""0 none, 1 minor, 2 moderate, 3 serious, 4 compromises identity. Not examined is absent, not 0."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """One specialist's answer on one claim: `claim` is its id, `reason` speaks of the object, never of a person.

    `instead` says what they would sign in its place, as (name, words) pairs: qualifier "attributed to", term
    "electroplate", name of a maker, or words ("eleven and one to match"). Empty when they carry nothing.
    """

    claim: str
    verdict: Verdict
    reason: str = ""
    instead: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class DateOpinion:
    """Years in the order asked: earliest and latest plausible, best, and how sure (0.5..0.95) the truth is inside."""

    years: Years
    best: int | None = None
    sure: float = 0.8
    blind: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ConditionFinding:
    """A condition finding with its severity; severity None means not examined."""

    term: str
    part: str = ""
    severity: Severity5 | None = None
    kind: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ballot:
    """One specialist's own view of one object in one round, or a recusal (a fact without a reason).

    `abides` lists binding contradictions for which the specialist says why they do not apply, as (contradiction id, why).
    """

    object_id: str
    person: str
    round: Literal[1, 2]
    recused: bool = False
    answers: tuple[Answer, ...] = ()
    date: DateOpinion | None = None
    conditions: tuple[ConditionFinding, ...] = ()
    outcome: Outcome | None = None
    reasons: tuple[str, ...] = ()
    wording: str = ""
    new_fact: bool = False
    competent: bool = True
    sets_aside: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """The panel's answer per claim, with the unnamed count and the words of the rule that gave it."""

    claim: str
    answer: Literal["stands", "falls", "split", "no_quorum", "open"]
    holds: int
    does_not_hold: int
    cannot_say: int
    rule: str
    clause: str = ""
    reasons: tuple[str, ...] = ()
