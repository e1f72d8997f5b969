"""What would let the label say more: one rung up from the agreed words, and the smallest look that would allow it."""

from collections.abc import Callable, Mapping, Sequence

from planish.reasoning.wording.lattice import Trees, entails, slots, weaker
from planish.records import Claim, ClaimValue, Climb, Conventions, DateValue, MakerValue, Step


def climbs(
    claims: Sequence[Claim],
    steps: Sequence[Step],
    looks: Mapping[str, tuple[str, int]],
    words: Callable[[Claim, ClaimValue], str],
    trees: Trees,
    conventions: Conventions,
) -> tuple[Climb, ...]:
    """For every weakened or left-out claim the next stronger rung between the agreed words and the label as hung.

    Years that were replaced or left out climb to narrower years, which only the look itself can name. A claim left out
    while another of its side and part stands has nowhere to climb: the label says it already in other words.
    """
    found = []
    dated = any(isinstance(step.value, DateValue) for step in steps)
    for claim, step in zip(claims, steps, strict=True):
        look = looks.get(claim.side)
        if step.did not in ("weakened", "left_out", "reworded") or look is None:
            continue
        if step.did == "left_out" and _said_otherwise(claim, claims, steps):
            continue
        if isinstance(claim.value, DateValue) and step.did != "weakened":
            said = _years_to_come(step, dated)
        else:
            rung = _one_up(claim, step.value, trees, conventions) if step.did != "reworded" else None
            said = words(claim, rung) if rung is not None else ""
        if said and said != step.after:
            found.append(Climb(claim=claim.id, words=said, look=look[0], minutes=look[1]))
    return tuple(found)


def _said_otherwise(claim: Claim, claims: Sequence[Claim], steps: Sequence[Step]) -> bool:
    alike = {claim.side, "mark"} if claim.side == "material" else {claim.side}
    return claim.side != "date" and any(
        other.side in alike and other.part == claim.part and step.did != "left_out"
        for other, step in zip(claims, steps, strict=True)
        if other.id != claim.id
    )


def _years_to_come(step: Step, dated: bool) -> str:
    if isinstance(step.value, DateValue):
        return f"narrower years than {step.after}"
    return "" if dated or step.value is not None else "a date"


def _one_up(
    claim: Claim, agreed: ClaimValue | None, trees: Trees, conventions: Conventions
) -> ClaimValue | None:
    below = weaker(claim.value, tree=claim.side, trees=trees, circa=conventions.circa_years)

    def above(rung: ClaimValue) -> bool:
        if agreed is None:
            return True
        stronger = entails(rung, agreed, tree=claim.side, trees=trees)
        return stronger and not entails(agreed, rung, tree=claim.side, trees=trees)

    rungs = [r for r in (claim.value, *below) if above(r) and (_says(r) or not isinstance(r, MakerValue))]
    return min(reversed(rungs), key=_says, default=None)


def _says(rung: ClaimValue) -> int:
    """How much a rung claims of a maker, so that the least is taken first; other rungs come in order."""
    return sum(slot != "open" for slot in slots(rung)) if isinstance(rung, MakerValue) else 0
