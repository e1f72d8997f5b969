"""Agreed words held against the rule book once more: a change may not break what the label as hung kept."""

from collections.abc import Callable, Iterator
from dataclasses import replace

from planish.errands.opening.wiring import Kit
from planish.errands.panel.checking import Checked, check
from planish.errands.words.grounding import remedies
from planish.records import AgreedWords, Claim, Ground, ListedObject, Problem

ROUNDS = 3
"""How often words are looked at again: each look can only take words away, so few are needed (house default)."""
ASKED = "label.no_"
"""What a label no longer says is asked for by the words themselves."""


def soundly(
    listed: ListedObject, checked: Checked, kit: Kit, once: Callable[[tuple[Ground, ...]], AgreedWords]
) -> AgreedWords:
    """Agree by `once`, with the remedies of every fault that the change itself brought in, until none is left.

    A Flemish flagon cannot stay Georgian: years take the place of the period name. A new fault without a remedy of exact
    words is left as a Problem.
    """
    before = {fault.code for fault in checked.faults}
    more: tuple[Ground, ...] = ()
    agreed = once(more)
    for _ in range(ROUNDS):
        if not agreed.changed:
            return agreed
        again = check(replace(listed, text=agreed.text), kit)
        found = tuple(g for g in _new(again, before, checked, kit) if g not in more)
        if not found:
            return replace(agreed, problems=(*agreed.problems, *_left(again, before)))
        more = (*more, *found)
        agreed = once(more)
    return agreed


def _new(again: Checked, before: set[str], checked: Checked, kit: Kit) -> Iterator[Ground]:
    """Remedies of faults that the label as hung did not have, named by its own claims."""
    clauses = {a.clause for a in again.answers if a.answer == "broken" and a.fault not in before}
    by_id = {claim.id: claim for claim in again.reading.claims}
    for ground in remedies(again, kit):
        claim = _as_hung(by_id[ground.claim], checked) if ground.ref in clauses else None
        if claim is not None:
            yield replace(ground, claim=claim.id)


def _as_hung(claim: Claim, checked: Checked) -> Claim | None:
    """The claim of the label as hung that `claim` was kept from."""
    return next(
        (
            c
            for c in checked.reading.claims
            if (c.side, c.part, c.words) == (claim.side, claim.part, claim.words)
        ),
        None,
    )


def _left(again: Checked, before: set[str]) -> Iterator[Problem]:
    for fault in again.faults:
        if fault.code not in before and not fault.code.startswith(ASKED):
            yield Problem(
                where="agreed words",
                what=f"They bring in what the label as hung did not have: {fault.sentence}",
                remedy=fault.remedy,
                severity=2,
                code="wording.new_fault",
            )
