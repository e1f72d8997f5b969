"""The counting rule: shares, quorum, ladder, referrals, gates, casting vote."""

from itertools import permutations

import pytest

from planish.reasoning.settling import recount, settle
from planish.records import Circumstances, VotingRules, freeze
from tests.settling.ballots import rungs, verdicts, vote

HOUSE = VotingRules()

# RULE-01: vote vectors under a 75 % share and a quorum of three decided votes. Derived by hand from the rule itself.
CLAIMS = {
    "SSSSS": "stands",
    "SSSSN": "stands",
    "SSSNN": "split",
    "SSSCC": "stands",
    "SSCCC": "no_quorum",
    "SNNNN": "falls",
    "SSSN": "stands",
    "SSN": "split",
    "NNN": "falls",
    "SSNNC": "split",
}

# RULE-02: 0 accept, 1 relabel, 2 remove; a rung is reached with 75 % at or above it and 75 % at or below it.
LADDER = {
    "00000": "accept",
    "00001": "accept",
    "11110": "relabel",
    "11100": "accept..relabel",
    "22221": "remove",
    "22211": "relabel..remove",
    "22210": "accept..remove",
    "21110": "relabel",
    "2111": "relabel",
    "222": "remove",
    "221": "relabel..remove",
}


@pytest.mark.parametrize(("word", "answer"), CLAIMS.items())
def test_a_claim_stands_falls_or_splits_by_its_decided_votes(word, answer):
    (finding,) = settle(verdicts(word), rules=HOUSE).findings
    assert finding.answer == answer
    assert (finding.holds, finding.does_not_hold, finding.cannot_say) == tuple(word.count(w) for w in "SNC")


@pytest.mark.parametrize(("word", "answer"), LADDER.items())
def test_a_rung_needs_the_share_on_both_of_its_sides(word, answer):
    got = settle(rungs(word), rules=HOUSE)
    if ".." in answer:
        ends = answer.replace("..", " and ")
        assert (got.then, got.outcome) == ("talk", None)
        assert [t.sentence for t in got.triggers] == [f"The outcomes proposed lie between {ends}."]
    else:
        assert (got.then, got.outcome, got.triggers) == ("settled", answer, ())


@pytest.mark.parametrize(
    ("word", "outcome"),
    [("22211", "relabel"), ("22210", "relabel"), ("11100", "refer"), ("22100", "refer"), ("221", "relabel")],
)
def test_after_the_second_round_the_milder_level_that_enough_accept_as_a_minimum_decides(word, outcome):
    got = settle(rungs(word, round=2), rules=HOUSE)
    assert got.outcome == outcome
    assert got.then == ("refer" if outcome == "refer" else "settled")


def test_the_dissent_stays_on_record_beside_the_milder_level():
    ballots = [
        *[vote(p, "remove", round=2, reasons=("The cover never belonged.",)) for p in "abc"],
        *[vote(p, "relabel", round=2, reasons=("Say that the cover is later.",)) for p in "de"],
    ]
    got = settle(ballots, rules=HOUSE)
    assert got.reasons == ("Say that the cover is later.",)
    assert got.dissent == ("The cover never belonged.",)


def test_two_ballots_for_refer_are_enough_and_one_is_not():
    assert settle(rungs("000rr"), rules=HOUSE).outcome == "refer"
    assert settle(rungs("0000r"), rules=HOUSE).outcome == "accept"


def test_remove_may_need_a_larger_share_than_the_rest():
    strict = VotingRules(remove_share=0.9)
    assert settle(rungs("22221"), rules=HOUSE).outcome == "remove"
    assert settle(rungs("22221"), rules=strict).then == "talk"
    assert settle(rungs("22221", round=2), rules=strict).outcome == "relabel"
    assert settle(rungs("22222", round=2), rules=strict).outcome == "remove"


def test_a_recusal_takes_the_member_out_of_both_rounds_and_the_quorum_is_counted_again():
    ballots = [*rungs("222"), vote("a", round=2, recused=True)]
    got = settle(ballots, rules=HOUSE, round=1)
    assert got.recused == ("a",)
    assert (got.counted, got.quorate, got.then) == (2, False, "talk")
    out_of_reach = settle(ballots, rules=HOUSE, round=1, case=Circumstances(eligible=2))
    assert (out_of_reach.then, out_of_reach.outcome) == ("refer", "refer")


def test_a_quorum_needs_somebody_competent():
    got = settle(verdicts("SSS", competent=False), rules=HOUSE)
    assert got.findings[0].answer == "no_quorum"
    mixed = [*verdicts("SS", competent=False), vote("z", claims={"date": "S"})]
    assert settle(mixed, rules=HOUSE).findings[0].answer == "stands"
    assert settle(rungs("000", competent=False), rules=HOUSE).then == "talk"


def test_of_two_ballots_of_one_member_the_first_sealed_counts():
    got = settle([*rungs("000"), vote("a", "remove")], rules=HOUSE)
    assert (got.outcome, got.counted) == ("accept", 3)


def test_a_pass_holds_every_claim_that_it_is_silent_about():
    ballots = [*rungs("000"), vote("x", "accept", claims={"date": "N"})]
    assert settle(ballots, rules=HOUSE).findings[0].holds == 3
    silent = VotingRules(pass_means_holds=False)
    assert settle(ballots, rules=silent).findings[0].answer == "no_quorum"


def test_accept_does_not_stand_over_a_claim_that_falls():
    ballots = [vote(p, "accept", claims={"date": "N"}) for p in "abcd"]
    assert settle(ballots, rules=HOUSE).then == "talk"
    again = [vote(p, "accept", round=2, claims={"date": "N"}) for p in "abcd"]
    assert settle(again, rules=HOUSE).outcome == "refer"


def test_a_binding_conflict_takes_accept_off_the_table():
    case = Circumstances(binding=("hinge",))
    first = settle(rungs("0000"), rules=HOUSE, case=case)
    assert (first.then, [t.number for t in first.triggers]) == ("talk", [4])
    assert settle(rungs("0000", round=2), rules=HOUSE, case=case).outcome == "refer"


@pytest.mark.parametrize(("stating", "outcome"), [(3, "accept"), (2, "refer")])
def test_accept_returns_when_enough_of_the_second_round_say_why_the_conflict_does_not_apply(stating, outcome):
    said = [
        vote(p, "accept", round=2, sets_aside=(("hinge", "The hinge is a repair."),))
        for p in "abcd"[:stating]
    ]
    rest = [vote(p, "accept", round=2, sets_aside=(("hinge", "  "),)) for p in "abcd"[stating:]]
    assert settle(said + rest, rules=HOUSE, case=Circumstances(binding=("hinge",))).outcome == outcome


def test_the_law_may_close_relabel():
    case = Circumstances(relabel_forbidden="An altered hallmark is not cured by words.", law_clause="L1")
    assert settle(rungs("1111"), rules=HOUSE, case=case).then == "talk"
    second = settle(rungs("1111", round=2), rules=HOUSE, case=case)
    assert second.outcome == "refer"
    assert "Relabel is not open: An altered hallmark is not cured by words. (clause L1)" in recount(second)
    assert settle(rungs("2222", round=2), rules=HOUSE, case=case).outcome == "remove"


def test_doubt_removes_only_at_the_opening_and_never_without_a_quorum():
    doubting = VotingRules(doubt_removes=True)
    opening = Circumstances(at_opening=True)
    assert settle(rungs("11100", round=2), rules=doubting).outcome == "refer"
    assert settle(rungs("11100", round=2), rules=HOUSE, case=opening).outcome == "refer"
    assert settle(rungs("11100", round=2), rules=doubting, case=opening).outcome == "remove"
    assert settle(rungs("11", round=2), rules=doubting, case=opening).outcome == "refer"


@pytest.mark.parametrize(
    ("cast", "outcome"),
    [("relabel", "relabel"), ("refer", "refer"), ("accept", "refer"), ("remove", "refer"), (None, "refer")],
)
def test_the_casting_vote_chooses_between_relabel_and_refer_only(cast, outcome):
    got = settle(rungs("11100", round=2), rules=HOUSE, case=Circumstances(casting=cast))
    assert got.outcome == outcome


def test_a_casting_vote_opens_nothing_that_the_rule_book_the_quorum_or_the_law_closes():
    cast = Circumstances(casting="relabel")
    assert (
        settle(rungs("11100", round=2), rules=VotingRules(casting_vote="none"), case=cast).outcome == "refer"
    )
    assert settle(rungs("11", round=2), rules=HOUSE, case=cast).outcome == "refer"
    assert settle(rungs("11rr0", round=2), rules=HOUSE, case=cast).outcome == "refer"
    law = Circumstances(casting="relabel", relabel_forbidden="Not by words.")
    assert settle(rungs("11100", round=2), rules=HOUSE, case=law).outcome == "refer"


def test_a_casting_vote_is_not_needed_when_the_count_decides():
    got = settle(rungs("22222", round=2), rules=HOUSE, case=Circumstances(casting="relabel"))
    assert got.outcome == "remove"


def test_with_one_round_only_the_first_is_the_last():
    assert settle(rungs("22211"), rules=VotingRules(rounds=1)).outcome == "relabel"


def test_nothing_to_count_waits_and_a_panel_that_all_stood_aside_refers():
    assert settle([], rules=HOUSE).then == "waiting"
    assert settle([vote("a", recused=True)], rules=HOUSE).outcome == "refer"


def test_who_sealed_first_changes_nothing():
    ballots = [*rungs("2210"), vote("x", recused=True)]
    assert len({settle(list(p), rules=HOUSE) for p in permutations(ballots)}) == 1


def test_the_trace_can_be_recounted_by_hand_and_names_its_clauses():
    rules = VotingRules(clauses=freeze({"share": "7.2", "quorum": "7.1", "refer_ballots": "7.4"}))
    ballots = [vote(p, "relabel", claims={"date": v}) for p, v in zip("abcd", "NNNS", strict=True)]
    got = settle([*ballots, vote("e", recused=True)], rules=rules)
    assert recount(got) == (
        "First round: 4 ballots counted, 1 member recused and not counted. (house default)",
        "Claim date: 1 hold, 3 do not, 0 cannot say; 1 of 4 decided is 25 %; 75 % decides: "
        "the claim falls. (clause 7.2)",
        "0 ballots for refer, 2 are enough. (clause 7.4)",
        "Quorum: 4 proposed an outcome of 3 needed, 4 competent of 1 needed: met. (clause 7.1)",
        "Outcomes: 0 accept, 4 relabel, 0 remove. Of 4: at or above accept 4, relabel 4, remove 0; "
        "at or below accept 0, relabel 4, remove 4. 75 % on both sides gives: relabel. (clause 7.2)",
        "Outcome: relabel. (clause 7.2)",
    )


def test_the_trace_for_those_who_may_not_see_the_split_holds_no_count_of_votes():
    got = settle(rungs("11100", round=2), rules=HOUSE)
    assert recount(got, counts=False) == ("Refer: the outcomes proposed stay split. (house default)",)


def test_a_referral_gives_what_stands_in_the_way_of_accepting_and_keeps_the_rest_apart():
    ballots = [
        vote("a", "accept", reasons=("The wear is right.",)),
        vote("b", "refer", reasons=("Ask for the alloy.",)),
        vote("c", "refer", reasons=("The foot is too light.",)),
        vote("d", "remove", reasons=("Cast marks.",)),
    ]
    got = settle(ballots, rules=HOUSE)
    assert got.reasons == ("Ask for the alloy.", "Cast marks.", "The foot is too light.")
    assert got.dissent == ("The wear is right.",)
