"""Ballots between the log and the count: locked as one opening, opened only to be counted, never shown by name."""

import dataclasses
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from planish.errands.opening.refusing import Refused, refuse
from planish.errands.panel.evidence import claim_key, unsaid_key
from planish.ledger.replay import FairState
from planish.ledger.story import Story
from planish.ledger.upcasting import Happened
from planish.records import Answer, Ballot, Claim, Side, Years
from planish.records.opinions import ConditionFinding, DateOpinion


def to_body(ballot: Ballot) -> dict[str, Any]:
    """The private field `ballot` of a locked ballot."""
    return {
        name: value
        for name, value in dataclasses.asdict(ballot).items()
        if name not in ("object_id", "person")
    }


def from_body(object_id: str, person: str, body: Mapping[str, Any]) -> Ballot:
    """A ballot as it was locked."""
    date = body.get("date")
    return Ballot(
        object_id=object_id,
        person=person,
        round=body.get("round", 1),
        answers=tuple(_answer(answer) for answer in body.get("answers", ())),
        date=DateOpinion(**{**date, "years": Years(**date["years"])}) if date else None,
        conditions=tuple(ConditionFinding(**found) for found in body.get("conditions", ())),
        outcome=body.get("outcome"),
        reasons=tuple(body.get("reasons", ())),
        wording=body.get("wording", ""),
        new_fact=bool(body.get("new_fact", False)),
        competent=bool(body.get("competent", True)),
        sets_aside=tuple((one, why) for one, why in body.get("sets_aside", ())),
    )


def _answer(body: Mapping[str, Any]) -> Answer:
    instead = tuple((str(name), str(words)) for name, words in body.get("instead", ()))
    return Answer(**{**body, "instead": instead})


def sealed_in_order(story: Story) -> tuple[Ballot, ...]:
    """All ballots and recusals of one object, in the order in which the log numbered them. For counting only.

    Refuses while any of them lies covered: a count without them would be another count. A ballot of a second round that
    nobody had called for is kept in the log and left out of the count.
    """
    if covered(story):
        raise refuse_covered(story)
    found = []
    for event, second in _with_second_round(story):
        if event.kind == "ballot.locked" and "ballot" in event.body:
            ballot = from_body(event.sub, event.who, {**event.body["ballot"], "round": event.body["round"]})
            if ballot.round == 1 or second:
                found.append(ballot)
        elif event.kind == "ballot.recused":
            found.append(Ballot(object_id=event.sub, person=event.who, round=1, recused=True))
    return tuple(found)


def refuse_covered(story: Story) -> Refused:
    """The refusal to count while ballots of this object lie covered."""
    return refuse(
        f"object {story.listed.id}",
        "Its ballots lie covered, so they cannot be counted.",
        "Unlock the fair's keys at the desk under Seals, or set PLANISH_PASSPHRASE, then repeat.",
        code="ballots.covered",
        kind="rule",
    )


def covered(story: Story) -> bool:
    """True while a ballot of this object lies covered and the keys are locked."""
    return any("ballot" in event.covered for event in story.events)


def second_round_open(story: Story) -> bool:
    """True while the panel is asked to vote again: the first round was counted, and no outcome came of it so far."""
    return _with_second_round(story)[-1][1] if story.events else False


def _with_second_round(story: Story) -> list[tuple[Happened, bool]]:
    """Each event with whether a second round was open once it had happened."""
    told: list[tuple[Happened, bool]] = []
    is_open = counted = False
    for event in story.events:
        if event.kind == "round.revealed" or event.kind == "examination.reopened":
            counted = counted or event.kind == "round.revealed"
            is_open = counted
        elif event.kind in ("outcome.proposed", "outcome.confirmed", "outcome.final", "appeal.decided"):
            is_open = event.body.get("outcome") == "refer"
        told.append((event, is_open))
    return told


def with_claims(ballot: Ballot, refs: Sequence[Mapping[str, str]], claims: Iterable[Claim]) -> Ballot:
    """The ballot with each answer's claim, given as side, part and words (any may be left out), named by its key.

    An answer that falls on a side of which the label is silent, and says what it should say, is named as unsaid. Any
    other answer that fits no claim of the label is refused.
    """
    claims = list(claims)
    answers = tuple(
        dataclasses.replace(answer, claim=_named(ref, claims, ballot.object_id, answer))
        for answer, ref in zip(ballot.answers, refs, strict=True)
    )
    return dataclasses.replace(ballot, answers=answers)


MAY_BE_UNSAID: tuple[Side, ...] = ("material", "place", "date", "maker", "technique", "state", "measure")
"""Sides that opinions may carry though the label is silent on them."""


def unsaid_keys(claims: Sequence[Claim]) -> dict[str, Side]:
    """Keys of the sides of which the label says nothing, as a ballot may name them."""
    said = {claim.side for claim in claims if not claim.part}
    return {unsaid_key(side): side for side in MAY_BE_UNSAID if side not in said}


def _named(ref: Mapping[str, str], claims: Sequence[Claim], object_id: str, answer: Answer) -> str:
    for claim in claims:
        fits_side = ref.get("side", claim.side) == claim.side and ref.get("part", claim.part) == claim.part
        if fits_side and ref.get("words", "").casefold() in claim.words.casefold():
            return claim_key(claim)
    wanted = [key for key, side in unsaid_keys(claims).items() if side == ref.get("side")]
    if (
        wanted
        and not ref.get("words")
        and answer.verdict == "does_not_hold"
        and (answer.instead or wanted[0].startswith("date"))
    ):
        return wanted[0]
    said = ref.get("words") or ref.get("side") or "nothing"
    known = "; ".join(claim_key(claim) for claim in claims) or "no claim at all"
    raise refuse(
        f"ballot on {object_id}",
        f"The label makes no claim like {said!r}.",
        f"It claims: {known}.",
        code="ballot.no_such_claim",
    )


def may_vote(state: FairState, story: Story, person: str) -> str:
    """Why `person` may not vote on this object, in words; "" when they may. The log asks again when it takes the ballot."""
    known = state.people.get(person)
    if known is None:
        return f"{person} takes no part in this fair."
    if any(cast.who == person for cast in story.recused):
        return "They stepped back from this object."
    if story.listed.stand in known.conflicts or story.listed.id in known.object_conflicts:
        return f"They declared a conflict with stand {story.listed.stand}."
    if not any(person in panel.members for panel in state.panels.values()):
        return "They sit on no panel."
    return ""


def eligible(state: FairState, story: Story) -> int:
    """How many members of the panels that must see the object could still vote on it."""
    wanted = set(story.state.disciplines)
    seats = {
        member
        for panel in state.panels.values()
        if not panel.disciplines or wanted.intersection(panel.disciplines)
        for member in panel.members
    }
    return sum(1 for person in seats if not may_vote(state, story, person))
