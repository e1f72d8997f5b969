"""Who may sit, said as a fact without a reason; quorum within reach; an appeals panel without the first panel."""

from planish.reasoning.seating import Specialist, appeals_panel, eligible
from planish.records import VotingRules

RULES = VotingRules()
PEOPLE = [
    Specialist(person="a", skills=("metalware",)),
    Specialist(person="b", skills=("metalware",), conflicts=("17",)),
    Specialist(person="c", skills=("clocks",)),
    Specialist(person="d", skills=("metalware",), present=False),
    Specialist(person="e", skills=("clocks",)),
    Specialist(person="f", skills=("clocks",)),
]


def test_conflict_recusal_and_absence_keep_a_seat_empty_without_saying_why():
    got = eligible(PEOPLE, stand="17", discipline="metalware", rules=RULES, recused=("c",))
    assert {s.person: s.why_not for s in got.seats} == {
        "a": "",
        "b": "does not sit for this stand",
        "c": "stood aside",
        "d": "not here",
        "e": "",
        "f": "",
    }
    assert got.sitting == ("a", "e", "f")
    assert got.quorum_in_reach


def test_a_quorum_out_of_reach_is_said_in_words():
    got = eligible(PEOPLE, stand="17", discipline="metalware", rules=RULES, recused=("c", "e"))
    assert (got.quorum_in_reach, got.why) == (False, "2 may sit, 3 are needed.")
    got = eligible(PEOPLE, stand="17", discipline="metalware", rules=RULES, recused=("a",))
    assert (got.quorum_in_reach, got.why) == (False, "0 competent in metalware, 1 needed.")


def test_nobody_of_the_first_panel_hears_the_appeal():
    got = appeals_panel(PEOPLE, stand="3", discipline="metalware", rules=RULES, first_panel=("a", "c"))
    assert got.sitting == ("b", "e", "f")
    assert {s.why_not for s in got.seats if s.person in "ac"} == {"sat on the first panel"}
    got = appeals_panel(PEOPLE, stand="17", discipline="metalware", rules=RULES, first_panel=("a", "c"))
    assert not got.quorum_in_reach
