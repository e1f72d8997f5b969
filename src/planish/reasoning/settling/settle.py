"""Sealed ballots -> what the panel decided, with every step of the count."""

from collections.abc import Sequence
from typing import Literal

from planish.reasoning.settling import ladder
from planish.reasoning.settling.claims import count_claims
from planish.reasoning.settling.conditions import summarise
from planish.reasoning.settling.shares import clause_of, reaches
from planish.reasoning.settling.triggers import triggers
from planish.records import (
    Ballot,
    Circumstances,
    CountStep,
    Outcome,
    Settlement,
    Trigger,
    VotingRules,
)

NOTHING_ELSE = Circumstances()

Why = Literal["", "refer_ballots", "no_quorum", "split", "claims", "binding", "law"]
"""Why the count alone does not settle the object; "" when it does."""


def settle(
    ballots: Sequence[Ballot],
    *,
    rules: VotingRules,
    case: Circumstances = NOTHING_ELSE,
    round: Literal[1, 2] | None = None,
) -> Settlement:
    """Settle one object from its sealed ballots of both rounds, in the order in which they were sealed.

    The last round held is counted (or `round` if given). A recusal in either round takes all ballots of that
    member out of the count. Of two ballots of one member in one round the first sealed counts. Same input, same
    answer; the order of different members' ballots changes nothing but the order of claims in the record.
    """
    recused = tuple(sorted({b.person for b in ballots if b.recused}))
    voting = [b for b in ballots if b.person not in recused] if recused else ballots
    held: Literal[1, 2] = round if round is not None else _last_round(ballots)
    counted = _first_sealed(voting, held)
    object_id = ballots[0].object_id if ballots else ""
    steps = [
        CountStep(rule="round", clause=clause_of(rules, "rounds"), values=(held, len(counted), len(recused)))
    ]
    if not counted:
        nobody = bool(recused) and not case.eligible
        then: Literal["refer", "waiting"] = "refer" if nobody else "waiting"
        if nobody:
            steps.append(CountStep(rule="nobody_left", clause=clause_of(rules, "quorum"), counts=False))
        outcome: Outcome | None = "refer" if nobody else None
        return Settlement(
            object_id=object_id, round=held, then=then, outcome=outcome, recused=recused, steps=tuple(steps)
        )
    count = _Count(counted, rules, case, held, steps)
    return count.settlement(object_id, recused)


def _last_round(ballots: Sequence[Ballot]) -> Literal[1, 2]:
    return 2 if any(b.round == 2 for b in ballots) else 1


def _first_sealed(ballots: Sequence[Ballot], held: int) -> list[Ballot]:
    first: dict[str, Ballot] = {}
    for ballot in ballots:
        if ballot.round == held and ballot.person not in first:
            first[ballot.person] = ballot
    return list(first.values())


class _Count:
    """One count under way: what has been counted and the steps so far. Lives for one call of `settle`."""

    def __init__(
        self,
        ballots: list[Ballot],
        rules: VotingRules,
        case: Circumstances,
        held: Literal[1, 2],
        steps: list[CountStep],
    ) -> None:
        self.ballots, self.rules, self.case, self.held, self.steps = ballots, rules, case, held, steps
        self.last = held >= rules.rounds
        self.findings, counted = count_claims(ballots, case.claims, rules)
        steps.extend(counted)
        self.votes = ladder.tally(ballots)
        self.quorate = self.votes.on_ladder >= rules.quorum and self.votes.competent >= rules.competent_needed

    def settlement(self, object_id: str, recused: tuple[str, ...]) -> Settlement:
        """Count, look for triggers, decide, and write it down."""
        proposed, why = self._proposal()
        conditions = summarise(self.ballots)
        fired = triggers(
            self.findings,
            self._split_sentence(why),
            conditions,
            self.case,
            self.rules,
            new_fact=any(b.new_fact for b in self.ballots),
        )
        then, outcome = self._decide(proposed, why, fired)
        return Settlement(
            object_id=object_id,
            round=self.held,
            then=then,
            outcome=outcome,
            findings=self.findings,
            votes=self._votes(),
            counted=len(self.ballots),
            quorate=self.quorate,
            recused=recused,
            triggers=fired,
            conditions=conditions,
            reasons=_reasons(self.ballots, outcome, same=True),
            dissent=_reasons(self.ballots, outcome, same=False),
            steps=tuple(self.steps),
        )

    def _votes(self) -> tuple[tuple[Outcome, int], ...]:
        v = self.votes
        named = (("accept", v.accept), ("relabel", v.relabel), ("remove", v.remove), ("refer", v.refer))
        return tuple([one for one in named if one[1]])  # type: ignore[misc]

    def _note(self, rule: str, clause: str, *values: object, counts: bool = True) -> None:
        number = self.rules.clauses.get(clause, "")
        self.steps.append(CountStep(rule=rule, clause=number, values=values, counts=counts))

    def _proposal(self) -> tuple[Outcome | None, Why]:
        """What the ballots propose, and why it does not settle the object, if it does not."""
        votes, rules = self.votes, self.rules
        self._note("refer_ballots", "refer_ballots", votes.refer, rules.refer_ballots)
        if votes.refer >= rules.refer_ballots:
            return None, "refer_ballots"
        self._note("quorum", "quorum", votes.on_ladder, rules.quorum, votes.competent, rules.competent_needed)
        if not self.quorate:
            return None, "no_quorum"
        proposed = ladder.level(votes, rules)
        self._note("ladder", "share", *votes.rungs, rules.share, rules.remove_share, proposed or "split")
        if proposed is None and self.last:
            proposed = ladder.minimum(votes, rules)
            self._note("minimum", "share", proposed, rules.share)
            if proposed == "accept":
                return None, "split"
        if proposed is None:
            return None, "split"
        return proposed, self._gate(proposed)

    def _gate(self, proposed: Outcome) -> Why:
        """What forbids an outcome that the ballots propose: open claims, a binding conflict, the law."""
        if proposed == "relabel" and self.case.relabel_forbidden:
            self._law()
            return "law"
        if proposed != "accept":
            return ""
        if not self._binding_set_aside():
            return "binding"
        not_standing = tuple(f.claim for f in self.findings if f.answer != "stands")
        if not_standing:
            self._note("accept_needs_claims", "accept_needs_claims", not_standing, counts=False)
            return "claims"
        return ""

    def _law(self) -> None:
        law = CountStep(
            rule="law", clause=self.case.law_clause, values=(self.case.relabel_forbidden,), counts=False
        )
        self.steps.append(law)

    def _binding_set_aside(self) -> bool:
        """True when every binding conflict is set aside, with a reason, by enough of the second round."""
        clear = True
        for conflict in self.case.binding:
            stated = sum(any(c == conflict and why.strip() for c, why in b.sets_aside) for b in self.ballots)
            enough = self.held == 2 and reaches(stated, len(self.ballots), self.rules.binding_share)
            values = (conflict, stated, len(self.ballots), self.rules.binding_share, enough)
            self._note("binding", "binding_share", *values)
            clear = clear and enough
        return clear

    def _split_sentence(self, why: Why) -> str:
        if why == "split":
            mildest, strictest = ladder.ends(self.votes)
            return f"The outcomes proposed lie between {mildest} and {strictest}."
        sentences: dict[str, str] = {
            "no_quorum": "Too few proposed outcomes for a quorum.",
            "claims": "The outcome proposed is accept, and not every claim stands.",
            "law": "The outcome proposed is relabel, and the law does not let honest words cure this object.",
        }
        return sentences.get(why, "")

    def _decide(
        self, proposed: Outcome | None, why: Why, fired: Sequence[Trigger]
    ) -> tuple[Literal["settled", "talk", "refer"], Outcome | None]:
        if why == "refer_ballots":
            return self._refer(why)
        if why == "no_quorum" and self.case.eligible is not None and self.case.eligible < self.rules.quorum:
            self._note("quorum_out_of_reach", "quorum", self.case.eligible, self.rules.quorum, counts=False)
            return self._refer(why)
        if not self.last and (why or fired):
            self._note("talk", "rounds", tuple(t.number for t in fired), counts=False)
            return "talk", None
        if why == "":
            self._note("outcome", "share", proposed, counts=False)
            return "settled", proposed
        return self._casting(why)

    def _casting(self, why: Why) -> tuple[Literal["settled", "refer"], Outcome | None]:
        """The chair may choose between relabel and refer, never into accept, never into remove, never against law."""
        cast = self.case.casting
        if cast is None:
            return self._refer(why)
        allowed = self.rules.casting_vote == "relabel_or_refer" and why in ("split", "claims", "binding")
        if allowed and cast == "relabel" and not self.case.relabel_forbidden:
            self._note("casting", "casting_vote", cast, counts=False)
            self._note("outcome", "casting_vote", cast, counts=False)
            return "settled", "relabel"
        if cast == "refer":
            self._note("casting", "casting_vote", cast, counts=False)
        else:
            self._note("casting_refused", "casting_vote", cast, counts=False)
        return self._refer(why)

    def _refer(self, why: Why) -> tuple[Literal["settled", "refer"], Outcome]:
        """Refer, or remove at the opening of a fair where doubt removes. Too few votes never remove anything."""
        self._note("refer", "refer_ballots" if why == "refer_ballots" else "rounds", why, counts=False)
        if self.rules.doubt_removes and self.case.at_opening and why != "no_quorum":
            self._note("doubt_removes", "doubt_removes", counts=False)
            return "settled", "remove"
        return "refer", "refer"


def _reasons(ballots: Sequence[Ballot], outcome: Outcome | None, *, same: bool) -> tuple[str, ...]:
    """Reasons for the outcome (`same`) or for another.

    Before an outcome every reason is for the talk; a referral gives those that stand in the way of accepting it.
    """
    if outcome is None:
        ballots = ballots if same else ()
    elif outcome == "refer":
        ballots = [b for b in ballots if (b.outcome != "accept") is same]
    else:
        ballots = [b for b in ballots if (b.outcome == outcome) is same]
    return tuple(sorted({r for b in ballots for r in b.reasons}))
