"""Who may see what of a count. Nothing here, and nothing elsewhere, gives anyone another's named ballot."""

from dataclasses import dataclass, replace
from typing import Literal

from planish.reasoning.settling.trace import recount
from planish.reasoning.settling.triggers import without_votes
from planish.records import PanelAnswer, Settlement, Split, VotingRules

Role = Literal[
    "office", "chair", "leader", "member", "steward", "exhibitor", "laboratory", "appeals", "buyer"
]
BALLOTS_TELL = (2, 5, 6, 7)
"""Triggers that hang on what single ballots say of years, severities, new facts, and how near they are to a turn."""
Condition = Literal["when_deciding", "own_locked", "read"]

MAY_SEE_SPLIT: dict[Role, Condition] = {
    "chair": "when_deciding",
    "leader": "own_locked",
    "member": "own_locked",
    "appeals": "read",
}
"""Every role that may ever see the unnamed split, and on what condition; a role that is not here never does."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Viewer:
    """Somebody who looks: in which role, and who (needed for leader and member)."""

    role: Role
    person: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where a round stands for the question who may see its split.

    `closed`: all sealed or the clock ended. `locked`: who sealed a ballot in the round. `recused`: who stood aside.
    `deciding`: the chair is asked for a casting vote. `disturbed`: somebody stood aside after the round was closed, so
    that a second look at the numbers would give away a ballot by subtraction.
    """

    closed: bool
    locked: frozenset[str] = frozenset()
    recused: frozenset[str] = frozenset()
    deciding: bool = False
    disturbed: bool = False


def split_for(viewer: Viewer, settlement: Settlement, standing: Standing, rules: VotingRules) -> Split | None:
    """The unnamed split if this viewer may see it now, else None.

    Never before the round is closed, never for fewer counted ballots than the rule book's floor, never to somebody
    recused, and never again once a late recusal would give a ballot away by subtraction.
    """
    if not standing.closed or standing.disturbed or settlement.counted < rules.split_floor:
        return None
    if not _allowed(viewer, standing):
        return None
    return Split(
        round=settlement.round,
        outcomes=settlement.votes,
        claims=tuple((f.claim, f.holds, f.does_not_hold, f.cannot_say) for f in settlement.findings),
    )


def _allowed(viewer: Viewer, standing: Standing) -> bool:
    condition = MAY_SEE_SPLIT.get(viewer.role)
    if condition is None or viewer.person in standing.recused:
        return False
    if condition == "when_deciding":
        return standing.deciding
    if condition == "own_locked":
        return viewer.person in standing.locked
    return True


def below_floor(settlement: Settlement, rules: VotingRules) -> Settlement:
    """The settlement as it may leave the count: with fewer ballots than the rule book's floor no word of any ballot.

    A reason word for word would tell who wrote it. In its place stands what the panel answered per claim; severities
    and steps of the count go too. With enough ballots nothing changes.
    """
    if settlement.counted >= rules.split_floor or not settlement.counted:
        return settlement
    findings = tuple(replace(f, reasons=()) for f in settlement.findings)
    return replace(
        settlement,
        findings=findings,
        reasons=tuple(f"Not carried: {f.claim}." for f in findings if f.answer == "falls"),
        dissent=(),
        conditions=(),
        triggers=tuple(without_votes(t) for t in settlement.triggers if t.number not in BALLOTS_TELL),
    )


def result_only(settlement: Settlement) -> tuple[str, ...]:
    """The rule's last word, for fewer ballots than the floor: how it ended and by which clause, nothing of the way there."""
    last = [
        step for step in settlement.steps if step.rule in ("outcome", "talk", "doubt_removes", "nobody_left")
    ]
    told = recount(replace(settlement, steps=tuple(last)), counts=False)
    return told or (f"Outcome: {settlement.outcome or settlement.then}.",)


def answer_without_counts(settlement: Settlement) -> PanelAnswer:
    """The panel's answer in the form for everyone who may read it: reasons and rule, no count of votes."""
    return PanelAnswer(
        object_id=settlement.object_id,
        then=settlement.then,
        outcome=settlement.outcome,
        answers=tuple((f.claim, f.answer) for f in settlement.findings),
        reasons=settlement.reasons,
        rule=recount(settlement, counts=False),
    )
