"""Appeals: the window, the form, who may hear, what is attached, and an outcome that replaces with reasons.

Times are hours since the fair's own start, as the desk numbers them; a tablet's clock decides nothing. A bundle never
holds a ballot: its type has no place for one.
"""

from collections.abc import Collection
from dataclasses import dataclass

from planish.reasoning.settling.seeing import answer_without_counts
from planish.reasoning.settling.shares import clause_of
from planish.records import Outcome, PanelAnswer, Problem, Settlement, VotingRules


@dataclass(frozen=True, slots=True, kw_only=True)
class Appeal:
    """An exhibitor's appeal: the object, the grounds in words, and the new evidence by id with one line each."""

    object_id: str
    grounds: str
    lodged_at: float
    new_evidence: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Bundle:
    """What the appeals panel gets: the first answer without counts, new evidence, readings, like cases; no ballot."""

    object_id: str
    first: PanelAnswer
    grounds: str
    new_evidence: tuple[tuple[str, str], ...]
    like_cases: tuple[str, ...] = ()
    label: str = ""
    readings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Replacement:
    """An outcome that replaces another, with its reasons; the first stays on record."""

    object_id: str
    before: Outcome | None
    after: Outcome
    reasons: tuple[str, ...]
    clause: str = ""


def check_appeal(
    appeal: Appeal, told_at: float, rules: VotingRules, *, known: Collection[str] = ()
) -> tuple[Problem, ...]:
    """What stands in the way of an appeal: too late, no grounds, nothing new. Empty when it may be heard.

    `told_at` is when the exhibitor got the slip; `known` are ids of evidence that the first panel had.
    """
    where, problems = f"appeal on object {appeal.object_id}", []
    late = appeal.lodged_at - told_at - rules.appeal_hours
    clause = clause_of(rules, "appeal_hours") or "house default"
    if late > 1e-9:
        problems.append(
            Problem(
                where=where,
                what=f"came {late:.1f} hours after the window of {rules.appeal_hours:g} hours ({clause}).",
                remedy="Ask the fair office whether it may still be heard.",
                code="appeal.late",
            )
        )
    if not appeal.grounds.strip():
        problems.append(
            Problem(
                where=where,
                what="gives no grounds.",
                remedy="Say what was overlooked.",
                code="appeal.grounds",
            )
        )
    if not any(evidence not in known for evidence, _ in appeal.new_evidence):
        problems.append(
            Problem(
                where=where,
                what="lists no evidence that the panel had not seen.",
                remedy="List each new paper, picture or reading.",
                code="appeal.nothing_new",
            )
        )
    return tuple(problems)


def bundle(
    appeal: Appeal,
    first: Settlement,
    *,
    known: Collection[str] = (),
    like_cases: tuple[str, ...] = (),
    label: str = "",
    readings: tuple[str, ...] = (),
) -> Bundle:
    """Everything the appeals panel reads. Evidence already `known` to the first panel is not called new."""
    return Bundle(
        object_id=appeal.object_id,
        first=answer_without_counts(first),
        grounds=appeal.grounds,
        new_evidence=tuple(e for e in appeal.new_evidence if e[0] not in known),
        like_cases=like_cases,
        label=label,
        readings=readings,
    )


def replaces(
    first: Settlement,
    second: Settlement,
    rules: VotingRules,
    *,
    first_panel: Collection[str],
    heard_by: Collection[str],
) -> Replacement | Problem:
    """The appeals panel's outcome in place of the first, or why it cannot replace it."""
    where = f"appeal on object {first.object_id}"
    again = sorted(set(first_panel) & set(heard_by))
    if again:
        return Problem(
            where=where,
            what=f"{len(again)} of those who heard it sat on the first panel.",
            remedy="Hear it again with a panel that did not.",
            code="appeal.same_panel",
        )
    if second.object_id != first.object_id or second.outcome is None:
        return Problem(
            where=where, what="has no outcome yet.", remedy="Settle the appeal first.", code="appeal.open"
        )
    if not second.reasons:
        return Problem(
            where=where, what="gives no reasons.", remedy="Write down the reasons.", code="appeal.no_reasons"
        )
    return Replacement(
        object_id=first.object_id,
        before=first.outcome,
        after=second.outcome,
        reasons=second.reasons,
        clause=clause_of(rules, "appeal_members"),
    )
