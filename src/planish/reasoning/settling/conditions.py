"""Condition findings over the panel. Not examined is not absent; a finding of one person stays, as "1 of n"."""

from collections.abc import Iterable
from statistics import median

from planish.records import Ballot, ConditionFinding, ConditionSummary


def summarise(ballots: Iterable[Ballot]) -> tuple[ConditionSummary, ...]:
    """Median and range of those who examined, for each finding on each part, in order of first appearance."""
    gathered: dict[tuple[str, str], list[ConditionFinding]] = {}
    for ballot in ballots:
        for found in ballot.conditions:
            gathered.setdefault((found.term, found.part), []).append(found)
    return tuple(_summary(term, part, found) for (term, part), found in gathered.items())


def _summary(term: str, part: str, found: list[ConditionFinding]) -> ConditionSummary:
    seen = [f.severity for f in found if f.severity is not None]
    return ConditionSummary(
        term=term,
        part=part,
        kind=next((f.kind for f in found if f.kind), ""),
        median=float(median(seen)) if seen else None,
        lowest=min(seen) if seen else None,
        highest=max(seen) if seen else None,
        reported=sum(s > 0 for s in seen),
        examined=len(seen),
        not_examined=len(found) - len(seen),
    )


def in_words(summary: ConditionSummary, *, counts: bool = True) -> str:
    """One sentence on one finding. Without `counts` (for a slip) it says nothing of how many people reported it."""
    where = f" on the {summary.part}" if summary.part else ""
    if summary.examined == 0:
        return f"{summary.term}{where}: not examined."
    low, high = summary.lowest, summary.highest
    spread = f"severity {low}" if low == high else f"severity {low} to {high}, middle {summary.median:g}"
    if not counts:
        return f"{summary.term}{where}: {spread}."
    return f"{summary.term}{where}: {summary.reported} of {summary.examined} who examined it, {spread}."
