"""What would let the label say more: one rung up from the agreed words, and the smallest look that would allow it."""

from collections.abc import Callable, Mapping, Sequence

from planish.reasoning.wording.lattice import Trees, entails, weaker
from planish.records import Claim, ClaimValue, Climb, Conventions, DateValue, Step


def climbs(
    claims: Sequence[Claim],
    steps: Sequence[Step],
    looks: Mapping[str, tuple[str, int]],
    words: Callable[[Claim, ClaimValue], str],
    trees: Trees,
    conventions: Conventions,
) -> tuple[Climb, ...]:
    """For every weakened or left-out claim the next stronger rung between the agreed words and the label as hung.

    Years that were replaced or left out climb to narrower years, which only the look itself can name.
    """
    found = []
    dated = any(isinstance(step.value, DateValue) for step in steps)
    for claim, step in zip(claims, steps, strict=True):
        look = looks.get(claim.side)
        if step.did not in ("weakened", "left_out", "reworded") or look is None:
            continue
        if isinstance(claim.value, DateValue) and step.did != "weakened":
            said = _years_to_come(step, dated)
        else:
            rung = _one_up(claim, step.value, trees, conventions) if step.did != "reworded" else None
            said = words(claim, rung) if rung is not None else ""
        if said and said != step.after:
            found.append(Climb(claim=claim.id, words=said, look=look[0], minutes=look[1]))
    return tuple(found)


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

    rungs = [rung for rung in (claim.value, *below) if above(rung)]
    return rungs[-1] if rungs else None
