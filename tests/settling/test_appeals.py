"""Appeals: window and form, a bundle without ballots, a replacement with reasons."""

from planish.reasoning.settling import settle
from planish.reasoning.settling.appeals import Appeal, Replacement, bundle, check_appeal, replaces
from planish.records import VotingRules
from tests.settling.ballots import rungs, vote

RULES = VotingRules(appeal_hours=6)
FIRST = settle(rungs("2222"), rules=RULES)
GOOD = Appeal(
    object_id="17-4", grounds="The bill names it.", lodged_at=12.0, new_evidence=(("bill", "Bill of 1781."),)
)


def codes(appeal, known=()):
    return [p.code for p in check_appeal(appeal, 8.0, RULES, known=known)]


def test_an_appeal_in_time_with_grounds_and_something_new_may_be_heard():
    assert codes(GOOD) == []


def test_a_late_empty_or_stale_appeal_is_told_what_is_missing():
    late = Appeal(object_id="17-4", grounds=" ", lodged_at=14.5)
    assert codes(late) == ["appeal.late", "appeal.grounds", "appeal.nothing_new"]
    assert codes(GOOD, known=("bill",)) == ["appeal.nothing_new"]


def test_the_bundle_holds_the_answer_and_no_count():
    got = bundle(GOOD, FIRST, like_cases=("3-9 (3): remove",))
    assert (got.first.outcome, got.like_cases) == ("remove", ("3-9 (3): remove",))
    assert "4" not in " ".join(got.first.rule)


def test_the_outcome_replaces_with_reasons_and_never_by_the_first_panel():
    heard = [vote(p, "relabel", reasons=("The bill fits the marks.",)) for p in "xyz"]
    second = settle(heard, rules=RULES)
    got = replaces(FIRST, second, RULES, first_panel="abcd", heard_by="xyz")
    assert got == Replacement(
        object_id="17-4", before="remove", after="relabel", reasons=("The bill fits the marks.",)
    )
    assert replaces(FIRST, second, RULES, first_panel="abcd", heard_by="axy").code == "appeal.same_panel"
    bare = settle([vote(p, "relabel") for p in "xyz"], rules=RULES)
    assert replaces(FIRST, bare, RULES, first_panel="abcd", heard_by="xyz").code == "appeal.no_reasons"
    open_ = settle(rungs("0011"), rules=RULES)
    assert replaces(FIRST, open_, RULES, first_panel="abcd", heard_by="xyz").code == "appeal.open"
