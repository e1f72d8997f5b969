"""Claims that cannot all be true: which of them moves, and what the rest may still say."""

from collections.abc import Callable, Mapping, Sequence

from planish.records import Claim, ClaimValue, DateValue, Finding, Ground

Against = Mapping[str, Sequence[Ground]]


def clash_by_clash(
    claims: Sequence[Claim],
    findings: Mapping[str, Finding],
    grounds: Sequence[Ground],
    carried: Mapping[str, Sequence[ClaimValue]],
    *,
    moves: Callable[[Finding], bool],
) -> tuple[dict[str, Sequence[ClaimValue]], Against]:
    """What is carried for each claim and the grounds against it, once every clash has been looked at.

    A clash is answered as soon as one of its claims moves by the panel's finding: the others stay as they hang, since
    the smallest change is asked. Where the panel said nothing, all of them move; two of one side and part are carried
    together as what both entail, in the place of the first.
    """
    by_id = {claim.id: claim for claim in claims}
    moving = {name for name, finding in findings.items() if name in by_id and moves(finding)}
    against: dict[str, list[Ground]] = {}
    kept = dict(carried)
    for (kind, ref), group in _together(grounds).items():
        names = list(dict.fromkeys(ground.claim for ground in group))
        fallen = moving.intersection(names)
        if kind == "contradiction" and ref and fallen:
            group = [ground for ground in group if ground.claim in fallen]
        elif kind == "contradiction" and ref and len(names) > 1:
            _carry_together([by_id[name] for name in names if name in by_id], kept)
        for ground in group:
            against.setdefault(ground.claim, []).append(ground)
    return kept, against


def _together(grounds: Sequence[Ground]) -> dict[tuple[str, str], list[Ground]]:
    groups: dict[tuple[str, str], list[Ground]] = {}
    for ground in grounds:
        groups.setdefault((ground.kind, ground.ref), []).append(ground)
    return groups


def _carry_together(claims: Sequence[Claim], carried: dict[str, Sequence[ClaimValue]]) -> None:
    first = claims[0] if claims else None
    alike = first is not None and all((c.side, c.part) == (first.side, first.part) for c in claims)
    dated = any(isinstance(claim.value, DateValue) for claim in claims)
    if first is not None and alike and not dated and not any(carried.get(claim.id) for claim in claims):
        carried[first.id] = [claim.value for claim in claims]
