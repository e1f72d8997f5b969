"""Each of the seven reasons to talk, alone, named in words; and condition findings."""

import pytest

from planish.reasoning.settling import settle
from planish.reasoning.settling.conditions import in_words, summarise
from planish.records import Circumstances, ConditionFinding, DateAgreement, VotingRules, freeze
from tests.settling.ballots import rungs, verdicts, vote

RULES = VotingRules()


def fired(ballots, **case):
    return [(t.number, t.sentence) for t in settle(ballots, rules=RULES, case=Circumstances(**case)).triggers]


def test_a_split_claim_and_a_claim_without_quorum_trigger_talk():
    ballots = [
        vote(p, "relabel", claims={"date": v, "maker": "C"}) for p, v in zip("abcd", "SSNN", strict=True)
    ]
    assert fired(ballots) == [
        (1, "Views on this claim lie between the two shares that decide it."),
        (1, "Too few decided views on this claim."),
    ]


@pytest.mark.parametrize(
    ("between", "overlap", "talks"), [(0.6, 0.1, True), (0.4, 0.1, False), (0.6, 0.3, False)]
)
def test_years_far_apart_trigger_talk(between, overlap, talks):
    dates = DateAgreement(opinions=4, between=between, overlap=overlap)
    assert [n for n, _ in fired(rungs("0000"), dates=dates)] == ([2] if talks else [])


@pytest.mark.parametrize(
    ("word", "chance", "talks"),
    [("SSSS", 0.05, True), ("SSSS", 0.5, False), ("NNNN", 0.95, True), ("NNNN", 0.5, False)],
)
def test_evidence_against_the_vote_triggers_talk(word, chance, talks):
    ballots = [vote(p, "relabel", claims={"date": v}) for p, v in zip("abcd", word, strict=True)]
    assert [n for n, _ in fired(ballots, evidence=freeze({"date": chance}))] == ([3] if talks else [])


def test_a_binding_conflict_or_the_chance_of_a_copy_triggers_talk():
    assert [n for n, _ in fired(rungs("1111"), binding=("hinge",))] == [4]
    assert [n for n, _ in fired(rungs("1111"), copy=0.21)] == [4]
    assert fired(rungs("1111"), copy=0.2) == []


def severities(kind, *levels):
    return [
        vote(p, "relabel", conditions=(ConditionFinding(term="hinge", severity=s, kind=kind),))
        for p, s in zip("abcd", levels, strict=False)
    ]


def test_severities_far_apart_on_what_matters_trigger_talk():
    assert fired(severities("structural", 0, 2, 1)) == [(5, "Severity of hinge is read from 0 to 2.")]
    assert fired(severities("structural", 1, 2, 1)) == []
    assert fired(severities("polish", 0, 4, 1)) == []


def test_not_examined_is_neither_absent_nor_a_severity():
    assert fired(severities("structural", None, 2, 2)) == []
    (found,) = summarise(severities("structural", None, 2, 0))
    assert (found.median, found.lowest, found.highest) == (1.0, 0, 2)
    assert (found.reported, found.examined, found.not_examined) == (1, 2, 1)
    assert in_words(found) == "hinge: 1 of 2 who examined it, severity 0 to 2, middle 1."
    assert in_words(found, counts=False) == "hinge: severity 0 to 2, middle 1."
    (none,) = summarise(severities("structural", None))
    assert in_words(none) == "hinge: not examined."


def test_a_new_fact_and_a_fragile_costly_suggestion_trigger_talk():
    assert [n for n, _ in fired([*rungs("111"), vote("z", "relabel", new_fact=True)])] == [6]
    assert [n for n, _ in fired(rungs("1111"), fragile=True, costly=True)] == [7]
    assert fired(rungs("1111"), fragile=True) == []


def test_triggers_do_not_stop_the_second_round():
    got = settle(rungs("1111", round=2), rules=RULES, case=Circumstances(copy=0.9))
    assert (got.then, got.outcome, [t.number for t in got.triggers]) == ("settled", "relabel", [4])
    assert settle(verdicts("SS", round=2), rules=RULES).then == "refer"
