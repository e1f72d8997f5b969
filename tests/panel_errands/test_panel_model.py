"""A panel's whole day at the desk, driven at random: nothing leaks, nothing changes without a record, it always ends.

Ballots come late, twice, from people who stepped back, have a tie, or sit on no panel, for a round that is not open, from
tablets whose clocks tell nonsense; members recuse themselves after voting; the quorum is lost; the chair casts, confirms,
reopens, lets late ballots in; an appeal is lodged and decided.
"""

import secrets
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from planish.doors.papers.lists import read_list
from planish.errands.intake import listing
from planish.errands.intake.finding import find
from planish.errands.intake.relisting import compare_lists
from planish.errands.opening.refusing import Refused
from planish.errands.opening.wiring import Fair
from planish.errands.panel import accounting, appealing, examining
from planish.errands.panel.ballots import to_body
from planish.errands.people import gathering
from planish.facts.rulebooks import load_rulebook
from planish.ledger import chain
from planish.ledger.commitments import commit_body
from planish.ledger.events import compose
from planish.ledger.identity import uuid7
from planish.ledger.journal import Draft, Journal
from planish.ledger.kinds import KINDS
from planish.ledger.memory import MemoryStore
from planish.ledger.store import DeviceHead, Offer
from planish.records import Answer, Ballot
from tests.panel_errands.fairs import FIRST, LISTS, PEOPLE, SECOND
from tests.panel_errands.test_secrecy import COUNT, MARKER

ITEM, DATE = "9/20", "date: c.1890"
ANYBODY = st.sampled_from([*FIRST, "gus", "jo", "cy", "nobody"])
OUTCOMES = st.sampled_from(["accept", "relabel", "remove", "refer"])
CLOCKS = st.sampled_from([0, 1, 1_700_000_000_000, 253_402_300_799_000])


class Tablet:
    """A paired tablet that writes ballots by itself and hands them in whenever it likes, its clock wrong."""

    def __init__(self, fair: Fair) -> None:
        self.fair, self.head, self.made = fair, DeviceHead(), 0
        fair.record([Draft(kind="device.paired", sub="tablet", who="office", body={})])

    def hand_in(self, ballot: Ballot, clock: int) -> None:
        store = self.fair.journal.store
        full = {"round": ballot.round, "panel": "metals", "ballot": to_body(ballot)}
        body, openings = commit_body(full, KINDS["ballot.locked"].private, lambda: secrets.token_bytes(32))
        raw = compose(
            fair=store.fair, dev="tablet", seq=self.head.seq + 1, dprev=self.head.digest,
            id=uuid7(1_700_000_000_000, secrets.token_bytes(10)), who=ballot.person, kind="ballot.locked/1",
            sub=ballot.object_id, seen=("", 0), t=clock, body=body,
        )  # fmt: skip
        offer = Offer(raw=raw, openings=openings)
        (result,) = store.append([offer], recv_ms=1_700_000_000_000)
        (again,) = store.append([offer], recv_ms=1_700_000_000_001)  # sent twice: a resend is a no-op
        assert result.stored
        assert again.n in (result.n, 0)
        self.head = DeviceHead(seq=self.head.seq + 1, digest=chain.digest(raw).hex())
        self.fair._state = None


def small_fair() -> Fair:
    """A fair in memory."""
    store = MemoryStore(fair="saltmere", epoch="e1")
    journal = Journal(store, dev="desk", now=lambda: 1_700_000_000_000, chance=secrets.token_bytes)
    fair = Fair(None, journal, load_rulebook("saltmere")[0])  # type: ignore[arg-type]
    fair.record([Draft(kind="fair.begun", sub="saltmere", who="office", body={"name": "Saltmere"})])
    gathering.gather(fair, PEOPLE)
    for stand, text in LISTS.items():
        taken = read_list(text.encode(), name=f"stand-{stand}.csv")
        listing.take(fair, stand, taken, compare_lists(listing.on_file(fair, stand), taken))
    return fair


class PanelDay(RuleBasedStateMachine):
    """One object before one panel."""

    @initialize()
    def begin(self) -> None:
        self.fair = small_fair()
        self.tablet = Tablet(self.fair)
        self.id = find(self.fair.state, ITEM).listed.id
        self.outcome, self.seen, self.marks = "", 0, 100
        self.secret: set[str] = set()
        self.passes: set[str] = set()

    @property
    def story(self):  # type: ignore[no-untyped-def]
        return self.fair.state.objects[self.id]

    def attempt(self, what: Any, *given: Any, **more: Any) -> None:
        """Do it, or be told in words why not; anything but a refusal is a fault."""
        told: tuple[Any, ...] = ()
        try:
            what(*given, **more)
        except Refused as refused:
            told = refused.problems
        assert all(problem.what and problem.remedy for problem in told)

    def ballot(self, who: str, outcome: str, round_: int, falls: bool) -> Ballot:
        self.marks += 1
        mark, secret = f"QZMARK{self.marks}", f"QZMARK{self.marks + 400}"
        self.secret.add(secret)
        if outcome == "accept":
            self.passes.add(mark)
        verdict = "does_not_hold" if falls and outcome != "accept" else "holds"
        return Ballot(
            object_id=self.id, person=who, round=round_, outcome=outcome, reasons=(mark,), wording=secret,  # type: ignore[arg-type]
            answers=(Answer(claim=DATE, verdict=verdict, reason=secret if outcome == "accept" else mark),),  # type: ignore[arg-type]
        )  # fmt: skip

    @rule(who=ANYBODY, outcome=OUTCOMES, round_=st.sampled_from([1, 2]), falls=st.booleans())
    def somebody_locks(self, who: str, outcome: str, round_: int, falls: bool) -> None:
        self.attempt(examining.lock, self.fair, [self.ballot(who, outcome, round_, falls)])

    @rule(outcome=OUTCOMES, round_=st.sampled_from([1, 2]))
    def the_panel_locks(self, outcome: str, round_: int) -> None:
        for who in FIRST[:4]:
            self.attempt(examining.lock, self.fair, [self.ballot(who, outcome, round_, outcome != "accept")])

    @rule(who=ANYBODY, outcome=OUTCOMES, round_=st.sampled_from([1, 2]), clock=CLOCKS)
    def a_tablet_hands_in(self, who: str, outcome: str, round_: int, clock: int) -> None:
        self.tablet.hand_in(self.ballot(who, outcome, round_, falls=True), clock)

    @rule(who=st.sampled_from(FIRST))
    def somebody_stands_aside(self, who: str) -> None:
        self.attempt(
            examining.lock, self.fair, [Ballot(object_id=self.id, person=who, round=1, recused=True)]
        )

    @rule(casting=st.sampled_from([None, None, "relabel", "refer"]))
    def the_desk_counts(self, casting: Any) -> None:
        self.attempt(examining.propose, self.fair, [examining.count(self.fair, self.story, casting=casting)])

    @rule(second=st.sampled_from(["ben", "ada"]))
    def the_leader_confirms(self, second: str) -> None:
        self.attempt(examining.confirm, self.fair, [self.id], who="ada", second=second)

    @precondition(lambda self: any(card.sub == self.id for card in self.fair.state.cards))
    @rule()
    def the_chair_lets_a_held_ballot_in(self) -> None:
        held = next(card for card in self.fair.state.cards if card.sub == self.id)
        if held.status == "held":
            self.attempt(self.fair.record, [Draft(kind="held.released", sub=held.id, who="cy", body={})])

    @precondition(lambda self: self.story.state.examination == "confirmed")
    @rule()
    def the_chair_reopens(self) -> None:
        body = {"reason": "a reading came", "second": "ada"}
        self.attempt(self.fair.record, [Draft(kind="examination.reopened", sub=self.id, who="cy", body=body)])

    @rule()
    def the_exhibitor_appeals(self) -> None:
        new = (("", "a bill"),)
        self.attempt(
            appealing.lodge,
            self.fair,
            self.story,
            words="Look again.",
            evidence=new,
            who="stand:9",
            late="let in",
        )

    @precondition(lambda self: self.story.state.examination == "under_appeal")
    @rule(outcome=OUTCOMES, members=st.sampled_from([SECOND, FIRST[:3], (*SECOND[:2], "ada")]))
    def the_appeals_panel_decides(self, outcome: str, members: tuple[str, ...]) -> None:
        before = self.story.state.outcome
        self.attempt(
            appealing.decide,
            self.fair,
            self.story,
            outcome=outcome,
            reasons=("The bill names it.",),
            members=members,
            who="cy",
        )
        if set(members) & set(FIRST):
            assert self.story.state.outcome == before

    @invariant()
    def an_outcome_changes_only_with_a_record_that_says_why(self) -> None:
        story = self.story
        fresh = [e for e in story.events if e.n > self.seen]
        if story.state.outcome != self.outcome:
            why = [
                e
                for e in fresh
                if e.kind in ("outcome.proposed", "outcome.confirmed", "appeal.decided", "round.revealed")
            ]
            assert why, [e.kind for e in fresh]
            for event in why:
                assert event.body.get("reasons") or event.kind != "appeal.decided"
                assert event.body.get("trace") or event.kind != "outcome.proposed"
        self.outcome, self.seen = story.state.outcome, max((e.n for e in story.events), default=0)

    @invariant()
    def what_is_decided_changes_only_by_reopening_or_on_appeal(self) -> None:
        decided = ""
        for event in self.story.events:
            if event.kind in ("outcome.confirmed", "appeal.decided"):
                decided = event.body["outcome"]
            elif event.kind == "examination.reopened":
                decided = ""
            elif event.kind == "outcome.proposed":
                assert not decided
        if decided:
            assert self.story.state.outcome == decided

    @invariant()
    def the_office_reads_no_count_and_only_reasons_for_the_outcome(self) -> None:
        settled = examining.count(self.fair, self.story)
        told = accounting.account(self.fair, settled)
        said = repr([(r.rule, r.triggers, r.reasons, r.split, r.withheld) for r in told.rounds])
        assert not COUNT.search(said)
        assert all(one.split is None for one in told.rounds)
        if settled.settlement.counted < self.fair.rules.voting.split_floor:
            assert not MARKER.search(repr(told.rounds[-1]))
        assert not any(person in said for person in FIRST)
        shown = set(MARKER.findall(repr(told)))
        assert not shown & self.secret
        if settled.settlement.outcome != "accept":
            assert not shown & self.passes

    @invariant()
    def a_member_sees_a_split_only_of_a_closed_round_with_an_own_ballot_in_it(self) -> None:
        settled = examining.count(self.fair, self.story)
        for who in (*FIRST, "gus", "jo"):
            told = accounting.account(self.fair, settled, accounting.viewers_of(self.fair, self.story, who))
            for one in told.rounds:
                if one.split is None:
                    assert not COUNT.search(repr(one.rule))
                    continue
                assert one.round in self.story.revealed
                assert who in {cast.who for cast in self.story.standing_ballots(one.round)}
                assert sum(n for _, n in one.split.outcomes) >= self.fair.rules.voting.split_floor

    @invariant()
    def the_log_holds_no_ballot_readable(self) -> None:
        tail = [entry.raw for entry in self.fair.journal.entries(max(0, self.fair.state.n - 6))]
        assert not MARKER.search(b" ".join(tail).decode())

    @invariant()
    def a_second_round_counts_only_ballots_that_came_once_it_was_called_for(self) -> None:
        if examining.count(self.fair, self.story).settlement.round == 2:
            shown = min(e.n for e in self.story.events if e.kind == "round.revealed")
            assert all(
                any(
                    cast.who == b.person and cast.round == 2 and cast.n > shown for cast in self.story.ballots
                )
                for b in examining.ballots_of(self.fair, self.story)
                if b.round == 2
            )

    @invariant()
    def recused_tied_and_outside_people_count_for_nothing(self) -> None:
        ballots = [b for b in examining.ballots_of(self.fair, self.story) if not b.recused]
        away = {cast.who for cast in self.story.recused}
        counted = examining.count(self.fair, self.story).settlement.counted
        assert counted <= len({b.person for b in ballots} - away)
        assert not {b.person for b in ballots} & {"cy", "nobody"}

    def teardown(self) -> None:
        """However it went: two counts with a second round between them come to an end, with an outcome or nobody to ask."""
        if not hasattr(self, "fair"):
            return
        for round_ in (1, 2):
            if self.story.state.examination in examining.DECIDED:
                return
            examining.propose(self.fair, [examining.count(self.fair, self.story)])
            for who in FIRST:
                self.attempt(examining.lock, self.fair, [self.ballot(who, "relabel", round_, True)])
        last = examining.count(self.fair, self.story)
        examining.propose(self.fair, [last])
        assert last.settlement.then in ("settled", "refer"), last.settlement.then
        assert self.story.state.outcome in ("accept", "relabel", "remove", "refer")


PanelDay.TestCase.settings = settings(
    max_examples=30,
    stateful_step_count=20,
    deadline=None,
    suppress_health_check=list(HealthCheck),
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
)
test_a_panels_day_never_leaks_never_changes_unsaid_and_always_ends = pytest.mark.filterwarnings("ignore")(
    PanelDay.TestCase
)
