"""A recusal alone settles nothing while others may still vote."""

from planish.reasoning.settling import settle
from planish.records import Ballot, Circumstances, VotingRules

RECUSED = [Ballot(object_id="7-001", person="p4", round=1, recused=True)]


def test_after_one_recusal_the_panel_waits_for_the_others() -> None:
    found = settle(RECUSED, rules=VotingRules(), case=Circumstances(eligible=3))
    assert (found.then, found.outcome) == ("waiting", None)


def test_when_nobody_is_left_the_object_is_referred() -> None:
    found = settle(RECUSED, rules=VotingRules(), case=Circumstances(eligible=0))
    assert (found.then, found.outcome) == ("refer", "refer")
