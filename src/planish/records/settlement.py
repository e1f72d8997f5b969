"""What a panel's ballots came to, with every step of the count, so that anyone can recount it by hand."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from planish.records.frozen import EMPTY
from planish.records.opinions import Finding, Outcome, Severity5
from planish.records.years import Years


@dataclass(frozen=True, slots=True, kw_only=True)
class CountStep:
    """One step of the count. `rule` names it, `clause` is the rule book's number ("" a house default).

    `counts` tells whether the step holds numbers of votes: only those who may see the unnamed split may read it.
    `values` are its figures, in the order in which the sentence for `rule` uses them.
    """

    rule: str
    clause: str = ""
    values: tuple[object, ...] = ()
    counts: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Trigger:
    """Why the panel should talk. `number` 1..7 is the trigger's place in the rule; `sentence` says it in words."""

    number: Literal[1, 2, 3, 4, 5, 6, 7]
    sentence: str
    clause: str = ""
    about: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DateAgreement:
    """How far date opinions of one object agree.

    `between` 0..1: variance between the specialists' means over the variance of their pool. `overlap` 0..1: shared
    mass of the furthest pair. `core`: years inside the stated share of the intervals. `opinions` how many.
    """

    opinions: int
    between: float
    overlap: float
    core: tuple[Years, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ConditionSummary:
    """One condition finding over the panel. Severity 0..4 of those who examined; `median` None if nobody did.

    `reported` of `examined` found it (severity above 0); `not_examined` said that they did not look. A finding of
    one person stays: "1 of n".
    """

    term: str
    part: str = ""
    kind: str = ""
    median: float | None = None
    lowest: Severity5 | None = None
    highest: Severity5 | None = None
    reported: int = 0
    examined: int = 0
    not_examined: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Circumstances:
    """What bears on the count of one object beside its ballots.

    `claims`: every claim to be answered. `eligible`: how many members could still vote (None: as many as did).
    `binding`: ids of undisputed binding contradictions. `evidence`: probability 0..1 of a claim from the object's own
    evidence, by claim. `copy`: probability 0..1 that it is a later copy. `relabel_forbidden`: the law's sentence if
    honest words cannot cure the object, with `law_clause`. `fragile` and `costly`: see second looks. `casting`: the
    chair's casting vote. `at_opening`: the doors open now, so a fair whose doubt removes stops waiting.
    """

    claims: tuple[str, ...] = ()
    eligible: int | None = None
    binding: tuple[str, ...] = ()
    evidence: Mapping[str, float] = field(default_factory=lambda: EMPTY)
    copy: float | None = None
    dates: DateAgreement | None = None
    relabel_forbidden: str = ""
    law_clause: str = ""
    fragile: bool = False
    costly: bool = False
    casting: Outcome | None = None
    at_opening: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Settlement:
    """What the ballots of one object came to.

    `then`: "settled"; "talk" (a trigger fired in the first round, so talk and vote again); "refer" (open, never
    final); "waiting" (nothing to count yet). `outcome` is None while the panel has still to talk.
    `votes` is the unnamed split of proposed outcomes, `counted` how many ballots were counted, `recused` who stood
    aside (the fact, no reason). `reasons` speak for the outcome, `dissent` are the reasons of other ballots; both
    are sorted by their words, so that their order tells nothing. `steps` is the rule trace.
    """

    object_id: str
    round: Literal[1, 2]
    then: Literal["settled", "talk", "refer", "waiting"]
    outcome: Outcome | None
    findings: tuple[Finding, ...] = ()
    votes: tuple[tuple[Outcome, int], ...] = ()
    counted: int = 0
    quorate: bool = False
    recused: tuple[str, ...] = ()
    triggers: tuple[Trigger, ...] = ()
    conditions: tuple[ConditionSummary, ...] = ()
    reasons: tuple[str, ...] = ()
    dissent: tuple[str, ...] = ()
    steps: tuple[CountStep, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelAnswer:
    """What the panel answered, for a reader who may not see how many voted how: no count anywhere.

    `answers` are (claim, answer) pairs, `rule` the steps of the count that hold no number of votes, in words.
    """

    object_id: str
    then: Literal["settled", "talk", "refer", "waiting"]
    outcome: Outcome | None
    answers: tuple[tuple[str, str], ...] = ()
    reasons: tuple[str, ...] = ()
    rule: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """The unnamed split of one round: how many proposed which outcome, and how many answered how on each claim."""

    round: Literal[1, 2]
    outcomes: tuple[tuple[Outcome, int], ...]
    claims: tuple[tuple[str, int, int, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PooledDates:
    """Date opinions of one object pooled year by year.

    `agreement` compares them; `quantiles` are the pool's 10, 50 and 90 % years; `intervals` each opinion's own years,
    unnamed and sorted, so that dissent stays visible. `label` are the years for a reissued label, None when the
    pool has two humps or nothing is left; `why` says so. `conventions` name the settings used.
    """

    agreement: DateAgreement
    quantiles: tuple[int, int, int]
    intervals: tuple[Years, ...]
    label: Years | None
    humps: tuple[Years, ...] = ()
    why: str = ""
    conventions: tuple[str, ...] = ()
