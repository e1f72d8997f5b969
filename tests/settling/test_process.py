"""The whole panel process, told as stories and then driven at random."""

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from planish.reasoning.settling import Viewer, open_panel
from planish.records import Circumstances, VotingRules
from tests.settling.ballots import rungs, vote

RULES = VotingRules()
LEADER = Viewer(role="leader", person="a")


def sealed(panel, ballots):
    for ballot in ballots:
        panel, _ = panel.seal(ballot)
    return panel


def test_a_clear_first_round_settles_when_the_last_ballot_is_sealed():
    panel = sealed(open_panel("17-4", "abcd", rules=RULES), rungs("000"))
    assert (panel.phase, panel.settlement, panel.waiting_for) == ("first", None, ("d",))
    panel, taken = panel.seal(vote("d", "accept"))
    assert (taken, panel.phase, panel.settlement.outcome) == ("counted", "done", "accept")


def test_a_split_talks_votes_again_and_then_refers():
    panel = sealed(open_panel("17-4", "abcde", rules=RULES), rungs("11100"))
    assert panel.phase == "talk"
    panel = sealed(panel.talk_held(), rungs("11100", round=2))
    assert (panel.phase, panel.settlement.outcome, panel.chair_decides) == ("done", "refer", True)
    assert panel.cast("accept").settlement.outcome == "refer"
    chosen = panel.cast("relabel")
    assert chosen.settlement.outcome == "relabel"
    last = chosen.history[-1]
    assert (last.before, last.after, last.reason) == (
        "refer",
        "relabel",
        "the chair cast the vote that the rule book gives",
    )


def test_the_rarest_opinion_is_read_out_first_without_names():
    ballots = [vote(p, "remove", reasons=("Cast marks.",)) for p in "abc"]
    ballots += [vote("d", "accept", reasons=("The wear is right.",)), vote("e", "remove")]
    ballots[-1] = vote("e", "relabel", reasons=("Cover later.",))
    panel = sealed(open_panel("17-4", "abcde", rules=RULES), ballots)
    assert panel.talk_sheet() == ("The wear is right.", "Cover later.", "Cast marks.")


@pytest.mark.parametrize(
    ("role", "person", "sees"),
    [
        ("office", "", False),
        ("chair", "", False),
        ("leader", "a", True),
        ("member", "b", True),
        ("member", "e", False),
        ("steward", "", False),
        ("exhibitor", "", False),
        ("laboratory", "", False),
        ("appeals", "", True),
        ("buyer", "", False),
    ],
)
def test_the_unnamed_split_is_seen_only_where_the_matrix_allows(role, person, sees):
    first = sealed(open_panel("17-4", "abcde", rules=RULES), rungs("1100"))
    viewer = Viewer(role=role, person=person)
    assert first.split_for(viewer) is None
    assert (first.clock_ends().split_for(viewer) is not None) is sees


def test_the_chair_sees_the_split_only_while_asked_for_the_casting_vote():
    panel = sealed(open_panel("17-4", "abcde", rules=RULES), rungs("11100"))
    chair = Viewer(role="chair", person="h")
    assert panel.split_for(chair) is None
    panel = sealed(panel.talk_held(), rungs("11100", round=2))
    assert dict(panel.split_for(chair).outcomes) == {"accept": 2, "relabel": 3}
    assert panel.cast("relabel").split_for(chair) is None


def test_no_split_is_shown_for_fewer_than_the_floor_or_to_anyone_who_stood_aside():
    two = sealed(open_panel("17-4", "ab", rules=RULES), rungs("00"))
    assert two.split_for(LEADER) is None
    panel = sealed(open_panel("17-4", "abcd", rules=RULES), rungs("0000"))
    assert panel.split_for(LEADER) is not None
    assert panel.recuse("b").split_for(Viewer(role="member", person="b")) is None


def test_a_recusal_after_the_count_counts_again_and_never_gives_the_ballot_away_by_subtraction():
    panel = sealed(open_panel("17-4", "abcd", rules=RULES), rungs("0001"))
    assert panel.settlement.outcome == "accept"
    after = panel.recuse("a")
    assert (after.phase, after.settlement.outcome) == ("talk", None)
    assert after.history[-1].reason == "a member stood aside after the count, so it was counted again"
    assert after.split_for(Viewer(role="leader", person="d")) is None


def test_a_lost_quorum_refers():
    panel = sealed(open_panel("17-4", "abc", rules=RULES), rungs("000"))
    assert panel.recuse("c").settlement.outcome == "refer"


def test_a_resend_is_a_no_op_and_a_second_other_ballot_does_not_count():
    panel = sealed(open_panel("17-4", "abc", rules=RULES), rungs("0"))
    again, taken = panel.seal(vote("a", "accept"))
    assert (again, taken) == (panel, "already_sealed")
    other, taken = panel.seal(vote("a", "remove"))
    assert taken == "first_stands"
    assert other.own("a") == (vote("a", "accept"),)


def test_a_late_ballot_is_kept_for_its_author_and_not_counted():
    panel = sealed(open_panel("17-4", "abcd", rules=RULES), rungs("000")).clock_ends()
    late, taken = panel.seal(vote("d", "remove"), told_at="1970-01-01")
    assert taken == "late"
    assert late.settlement == panel.settlement
    assert late.own("d") == (vote("d", "remove"),)


def test_an_outsider_a_recused_member_and_another_object_do_not_count():
    panel = open_panel("17-4", "abc", rules=RULES).recuse("c")
    assert panel.seal(vote("z", "accept"))[1] == "not_a_member"
    assert panel.seal(vote("c", "accept"))[1] == "recused"
    assert panel.seal(vote("a", "accept", round=2))[1] == "wrong_round"


def test_doors_that_open_on_doubt_remove_where_the_rule_book_says_so():
    doubting = VotingRules(doubt_removes=True)
    panel = sealed(open_panel("17-4", "abcde", rules=doubting), rungs("11100"))
    panel = sealed(panel.talk_held(), rungs("11100", round=2))
    opened = panel.open_doors()
    assert (panel.settlement.outcome, opened.settlement.outcome) == ("refer", "remove")
    assert opened.history[-1].reason == "the doors opened"


class Panel(RuleBasedStateMachine):
    """Anything in any order: late ballots, recusals, lost quorum, double submission, nonsense clocks."""

    def __init__(self):
        super().__init__()
        self.panel = open_panel("17-4", "abcde", rules=VotingRules(doubt_removes=True))
        self.highest = 1
        self.seen = 0

    @rule(
        who=st.sampled_from("abcdefz"),
        outcome=st.sampled_from(["accept", "relabel", "remove", "refer", None]),
        round=st.sampled_from([1, 2]),
        claim=st.sampled_from("SNC"),
        clock=st.sampled_from(["", "1970-01-01T00:00", "2099-12-31", "25:61", "yesterday"]),
        new=st.booleans(),
    )
    def somebody_seals(self, who, outcome, round, claim, clock, new):
        secret = f"reason-of-{who}-{outcome}"
        ballot = vote(who, outcome, round=round, claims={"date": claim}, reasons=(secret,), new_fact=new)
        before = self.panel
        self.panel, taken = self.panel.seal(ballot, told_at=clock)
        if taken == "already_sealed":
            assert self.panel == before

    @rule(who=st.sampled_from("abcdez"))
    def somebody_stands_aside(self, who):
        self.panel = self.panel.recuse(who)

    @rule(clock=st.sampled_from(["", "0000", "9999-99-99"]))
    def the_clock_ends(self, clock):
        self.panel = self.panel.clock_ends(told_at=clock)

    @rule()
    def the_panel_talks(self):
        self.panel = self.panel.talk_held()

    @rule(outcome=st.sampled_from(["accept", "relabel", "remove", "refer"]))
    def the_chair_casts(self, outcome):
        called_for = self.panel.chair_decides
        before = self.panel.settlement
        self.panel = self.panel.cast(outcome)
        if not called_for or outcome in ("accept", "remove"):
            assert self.panel.settlement == before

    @rule()
    def a_conflict_is_found(self):
        self.panel = self.panel.learn(Circumstances(binding=("hinge",)), "a thread was measured")

    @precondition(lambda self: len(self.panel.history) > 6)
    @rule()
    def the_doors_open(self):
        self.panel = self.panel.open_doors()

    @invariant()
    def the_round_never_goes_back(self):
        assert self.panel.round >= self.highest
        self.highest = self.panel.round

    @invariant()
    def an_outcome_never_changes_without_a_recorded_reason(self):
        current = None
        for entry in self.panel.history:
            if entry.what == "counted":
                assert entry.reason
                assert entry.before == current
                current = entry.after
        assert current == (None if self.panel.settlement is None else self.panel.settlement.outcome)
        assert [e.number for e in self.panel.history] == list(range(1, len(self.panel.history) + 1))

    @invariant()
    def no_ballot_leaks(self):
        panel = self.panel
        assert "reason-of-" not in repr(panel) if panel.settlement is None else True
        assert "_sealed" not in repr(panel)
        assert "reason-of-" not in " ".join(e.what + e.reason for e in panel.history)
        for role in ("office", "steward", "exhibitor", "laboratory", "buyer"):
            assert panel.split_for(Viewer(role=role, person="a")) is None
        for who in "abcdez":
            split = panel.split_for(Viewer(role="member", person=who))
            if split is None:
                continue
            assert panel.phase in ("talk", "done")
            assert who not in panel.recused
            assert any(b.person == who and b.round == split.round for b in panel.own(who))
            assert sum(n for _, n in split.outcomes) <= panel.settlement.counted >= RULES.split_floor
            assert not panel.disturbed
        answer = panel.answer()
        assert answer is None or not any(
            "hold," in line or "counted" in line or "Of " in line for line in answer.rule
        )

    @invariant()
    def recused_members_count_for_nothing(self):
        if self.panel.settlement is not None:
            assert self.panel.settlement.counted <= len(self.panel.active)

    def teardown(self):
        """However it went, ending the clock twice around a talk brings it to an end with an outcome."""
        end = self.panel.clock_ends().talk_held().clock_ends()
        assert end.phase == "done"
        assert end.settlement.outcome in ("accept", "relabel", "remove", "refer")


Panel.TestCase.settings = settings(max_examples=150, stateful_step_count=30, deadline=None)
test_the_panel_process_holds_whatever_happens = Panel.TestCase
