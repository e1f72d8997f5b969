"""The whole account of one object: both rounds without names, the rule counted out, the words, what would say more.

How much of it depends on who reads. The office (and anybody at the desk's command line) reads triggers, outcome, reasons and
the steps that hold no count; the unnamed split and the count itself go to those whom `access` and the rule book allow, and
below the rule book's floor to nobody.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from planish.errands.opening.wiring import OFFICE, Fair
from planish.errands.panel.examining import (
    DECIDED,
    Settled,
    as_voted_on,
    ballots_of,
    circumstances,
    count,
    disturbed,
    uncounted,
)
from planish.errands.words.labelling import reword
from planish.ledger.story import Story
from planish.reasoning.settling import recount, settle
from planish.reasoning.settling.seeing import Role, Standing, Viewer, below_floor, split_for
from planish.reasoning.settling.triggers import without_votes
from planish.records import AgreedWords, Settlement, Split

CHAIR_MAY = ("split", "claims", "binding")
"""Reasons to refer in which the chair may cast a vote."""
ROLES: tuple[Role, ...] = ("appeals", "chair", "leader", "member")


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundAccount:
    """One round as it may be read: why the panel should talk, the rule step by step, the unnamed split or why it is not shown."""

    round: Literal[1, 2]
    then: str
    triggers: tuple[str, ...]
    rule: tuple[str, ...]
    reasons: tuple[str, ...]
    split: Split | None = None
    withheld: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """One object from the label as hung to the words that everyone can sign. Holds no name and no ballot."""

    object_id: str
    number: str
    words: str
    rounds: tuple[RoundAccount, ...]
    outcome: str
    next: str
    clashes: tuple[str, ...]
    agreed: AgreedWords | None


NEXT = {
    "talk": "Talk, then a second round, each in private.",
    "waiting": "Waiting for ballots.",
    "refer": "Open: refer it to a second look, another panel or the chair.",
    "settled": "Confirm the outcome, then ask the words.",
}


def _next(story: Story, last: Settlement) -> str:
    state = story.state
    if state.examination not in DECIDED:
        return NEXT[last.then]
    if story.outcomes and story.outcomes[-1].kind == "appeal.decided":
        return f"Decided on appeal: {state.outcome}."
    if last.outcome == state.outcome:
        return f"Decided: {state.outcome}."
    return (
        f"Decided as {state.outcome}; the ballots that stand now give {last.outcome or last.then}. "
        "To change it, reopen it: the chair and a second person, with a reason."
    )


AS_OFFICE = (Viewer(role="office"),)


def account(fair: Fair, settled: Settled, viewers: Sequence[Viewer] = AS_OFFICE) -> Account:
    """Everything that a reader in the roles of `viewers` may read of one counted object. Writes nothing.

    The words are those on which the panel voted, whatever was agreed and hung since.
    """
    story = fair.state.objects[settled.story.listed.id]
    voted_on = as_voted_on(story)
    if voted_on.labels != story.labels:
        settled = count(fair, voted_on, casting=settled.casting)
    rounds = _rounds(fair, settled)
    last = settled.settlement
    agreed = reword(fair, settled) if last.outcome in ("relabel", "refer") else None
    return Account(
        object_id=story.listed.id,
        number=f"{story.listed.stand}/{story.listed.number}",
        words=settled.evident.checked.listed.text,
        rounds=tuple(_round_account(fair, story, one, viewers) for one in rounds),
        outcome=last.outcome or last.then,
        next=_next(story, last),
        clashes=tuple(clash.sentence for clash in settled.evident.clashes),
        agreed=agreed,
    )


def _rounds(fair: Fair, settled: Settled) -> Sequence[Settlement]:
    """The first round counted again where a second was held, then the last."""
    last = settled.settlement
    if last.round == 1:
        return [last]
    ballots = ballots_of(fair, settled.story)
    sealed = [b for b in ballots if b.round == 1 or b.recused]
    case = circumstances(fair, settled.story, settled.evident, None, sealed)
    return [below_floor(settle(sealed, rules=fair.rules.voting, case=case, round=1), fair.rules.voting), last]


def _round_account(fair: Fair, story: Story, one: Settlement, viewers: Sequence[Viewer]) -> RoundAccount:
    rules, standing = fair.rules.voting, _standing(fair, story, one)
    seen = (split_for(viewer, one, standing, rules) for viewer in viewers)
    split = next((found for found in seen if found is not None), None)
    triggers = one.triggers if split is not None else tuple(dict.fromkeys(map(without_votes, one.triggers)))
    told = split is not None or one.outcome is not None
    return RoundAccount(
        round=one.round,
        then=one.outcome or one.then,
        triggers=tuple(
            f"{t.sentence}{f' {t.about}.' if t.about else ''}{_clause(t.clause)}" for t in triggers
        ),
        rule=recount(one) if split is not None else uncounted(one, rules),
        reasons=one.reasons if told else (),
        split=split,
        withheld="" if split is not None else _withheld(fair, one, standing),
    )


def _clause(number: str) -> str:
    return f" (clause {number})" if number else " (house default)"


def _standing(fair: Fair, story: Story, one: Settlement) -> Standing:
    away = frozenset(cast.who for cast in story.recused)
    locked = frozenset(cast.who for cast in story.standing_ballots(one.round))
    why = next((step.values[0] for step in one.steps if step.rule == "refer"), "")
    deciding = fair.rules.voting.casting_vote != "none" and why in CHAIR_MAY
    return Standing(
        closed=one.round in story.revealed,
        locked=locked,
        recused=away,
        deciding=deciding,
        disturbed=disturbed(story),
    )


def _withheld(fair: Fair, one: Settlement, standing: Standing) -> str:
    floor = fair.rules.voting.split_floor
    if not standing.closed:
        return "The round is not closed, so its split is not shown."
    if standing.disturbed:
        return "A member stepped back after the round was closed; the split would give a ballot away."
    if one.counted < floor:
        return f"The split is not shown below {floor} ballots."
    return (
        "The split and the count are for members who locked a ballot in this round, the appeals panel, and the chair when "
        "deciding."
    )


def viewers_of(fair: Fair, story: Story, person: str) -> tuple[Viewer, ...]:
    """In which roles somebody who proved to be `person` reads this object. Ask `proving.prove` first.

    A tie to the stand takes away what the panel's roles give; the office never reads more than the office.
    """
    known = fair.state.people.get(person)
    if known is None or person == OFFICE:
        return AS_OFFICE
    tied = story.listed.stand in known.conflicts or story.listed.id in known.object_conflicts
    held = {"chair" if role == "deputy" else role for role in known.roles}
    return (
        tuple(
            Viewer(role=role, person=person)
            for role in ROLES
            if role in held and not (tied and role in ("leader", "member"))
        )
        or AS_OFFICE
    )
