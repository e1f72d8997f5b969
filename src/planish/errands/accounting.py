"""The whole account of one object: both rounds without names, the rule counted out, the words, what would say more."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from planish.errands.examining import Settled, ballots_of, circumstances, disturbed
from planish.errands.labelling import reword
from planish.errands.wiring import OFFICE, Fair
from planish.ledger.story import Story
from planish.reasoning.settling import recount, settle
from planish.reasoning.settling.seeing import Role, Standing, Viewer, split_for
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


def account(fair: Fair, settled: Settled, viewer: Viewer) -> Account:
    """Everything that `viewer` may read of one counted object. Writes nothing."""
    story = fair.state.objects[settled.story.listed.id]
    rounds = _rounds(fair, settled)
    last = settled.settlement
    agreed = reword(fair, settled) if last.outcome in ("relabel", "refer") else None
    return Account(
        object_id=story.listed.id,
        number=f"{story.listed.stand}/{story.listed.number}",
        words=settled.evident.checked.listed.text,
        rounds=tuple(_round_account(fair, story, one, viewer) for one in rounds),
        outcome=last.outcome or last.then,
        next=NEXT[last.then],
        clashes=tuple(clash.sentence for clash in settled.evident.clashes),
        agreed=agreed,
    )


def _rounds(fair: Fair, settled: Settled) -> Sequence[Settlement]:
    """The first round counted again where a second was held, then the last."""
    last = settled.settlement
    if last.round == 1:
        return [last]
    ballots = ballots_of(fair, settled.story)
    case = circumstances(fair, settled.story, settled.evident, None)
    first = settle(
        [b for b in ballots if b.round == 1 or b.recused], rules=fair.rules.voting, case=case, round=1
    )
    return [first, last]


def _round_account(fair: Fair, story: Story, one: Settlement, viewer: Viewer) -> RoundAccount:
    standing = _standing(fair, story, one)
    split = split_for(viewer, one, standing, fair.rules.voting)
    said = [f"{t.sentence}{f' {t.about}.' if t.about else ''}" for t in one.triggers]
    return RoundAccount(
        round=one.round,
        then=one.outcome or one.then,
        triggers=tuple(f"{s}{_clause(t.clause)}" for s, t in zip(said, one.triggers, strict=True)),
        rule=recount(one, counts=split is not None),
        reasons=one.reasons,
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
    return "The split is for members who locked a ballot in this round, the appeals panel, and the chair when deciding."


def viewer_of(fair: Fair, story: Story, person: str) -> Viewer:
    """Who looks: the person named in the widest role they hold; the office stands in for the panel's leader."""
    if person == OFFICE:
        return Viewer(role="leader", person=_leader_who_voted(fair, story))
    known = fair.state.people.get(person)
    held = known.roles if known is not None else ()
    role: Role = next((role for role in ROLES if role in held), "office")
    leads = any(panel.leader == person for panel in fair.state.panels.values())
    return Viewer(role="leader" if leads and role in ("office", "member") else role, person=person)


def _leader_who_voted(fair: Fair, story: Story) -> str:
    voted = {cast.who for cast in story.ballots}
    return next((p.leader for p in fair.state.panels.values() if p.leader in voted), "")
