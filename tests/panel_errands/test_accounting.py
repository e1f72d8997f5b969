"""One object's whole account: both rounds without names, the rule counted out, the words, what comes next."""

from pathlib import Path

import pytest

from planish.errands.intake.finding import find
from planish.errands.opening.refusing import Refused
from planish.errands.opening.wiring import Fair
from planish.errands.panel import accounting, appealing, examining
from planish.errands.words import labelling
from planish.ledger.journal import Draft
from planish.reasoning.settling import Viewer
from planish.records import Ballot
from tests.panel_errands.fairs import FIRST, SECOND, begun, lock, settle, voted

MEMBER = (Viewer(role="member", person="ben"),)


@pytest.fixture
def fair(tmp_path: Path) -> Fair:
    return begun(tmp_path / "fair")


def disputed(fair: Fair) -> None:
    """9/20: two for accept and three for relabel, then one and four."""
    first = {**dict.fromkeys(FIRST[:3], "relabel"), **dict.fromkeys(FIRST[3:], "accept")}
    lock(fair, "9/20", first, falls="date")
    assert settle(fair, "9/20", confirm=False) == ""
    lock(fair, "9/20", {**dict.fromkeys(FIRST[:4], "relabel"), "eli": "accept"}, round=2, falls="date")
    assert settle(fair, "9/20", confirm=False) == "relabel"


def account(fair: Fair, item: str = "9/20", viewers: tuple[Viewer, ...] = MEMBER) -> accounting.Account:
    return accounting.account(fair, examining.count(fair, find(fair.state, item)), viewers)


def confirm(fair: Fair, item: str = "9/20") -> int:
    return examining.confirm(fair, [find(fair.state, item).listed.id], who="ada", second="ben")


def test_a_disputed_object_shows_trigger_both_rounds_the_rule_and_the_changed_words(fair: Fair) -> None:
    disputed(fair)
    told = account(fair)
    assert [(one.round, one.then) for one in told.rounds] == [(1, "talk"), (2, "relabel")]
    first, second = told.rounds
    assert first.triggers[-1] == "The outcomes proposed lie between accept and relabel. (clause 8.2)"
    assert first.split is not None
    assert second.split is not None
    assert dict(first.split.outcomes) == {"accept": 2, "relabel": 3}
    assert dict(second.split.outcomes) == {"accept": 1, "relabel": 4}
    assert second.rule[-1] == "Outcome: relabel. (clause 8.2)"
    assert any("4 of 5" in line or "1 of 5 decided is 20 %" in line for line in second.rule)
    assert told.agreed is not None
    assert [run.words.strip() for run in told.agreed.changes if run.kind == "added"] == ["style"]
    assert not any(name in repr(told) for name in (*FIRST, "NAME-"))


def test_the_office_reads_the_same_account_without_any_number_of_votes(fair: Fair) -> None:
    disputed(fair)
    told = account(fair, viewers=accounting.AS_OFFICE)
    assert told.rounds[0].triggers[-1] == "The outcomes proposed do not decide it. (clause 8.2)"
    assert told.rounds[0].rule == ("Talk, then vote again: trigger 1. (clause 8.4)",)
    assert told.rounds[0].reasons == ()
    assert told.rounds[1].rule == ("Outcome: relabel. (clause 8.2)",)
    assert told.agreed == account(fair).agreed


def test_once_the_words_are_agreed_the_account_still_shows_what_was_changed(fair: Fair) -> None:
    disputed(fair)
    before = account(fair).agreed
    assert confirm(fair) == 1
    settled = examining.count(fair, find(fair.state, "9/20"))
    labelling.ask(fair, settled, labelling.reword(fair, settled), who="ada")
    labelling.sign(fair, find(fair.state, "9/20").listed.id, for_panel="ada", for_exhibitor="stand 9")
    told = account(fair)
    assert (told.agreed, told.next) == (before, "Decided: relabel.")


def test_somebody_with_a_tie_or_without_a_ballot_in_the_round_reads_as_the_office(fair: Fair) -> None:
    disputed(fair)
    story = find(fair.state, "9/20")
    assert accounting.viewers_of(fair, story, "office") == accounting.AS_OFFICE
    fair.record([Draft(kind="conflict.declared", sub="dov", who="office", body={"stand": "9"})])
    for person in ("dov", "gus", "nobody"):
        told = account(fair, viewers=accounting.viewers_of(fair, story, person))
        assert all(one.split is None for one in told.rounds)


def test_a_second_round_that_nobody_called_for_is_refused_and_counts_for_nothing(fair: Fair) -> None:
    with pytest.raises(Refused, match="No second round is open"):
        lock(fair, "9/21", {"ada": "remove"}, round=2)
    voted(fair, "9/21", "accept", confirm=False)
    with pytest.raises(Refused, match="No second round is open"):
        lock(fair, "9/21", {"ada": "remove"}, round=2)


def test_a_recusal_after_the_proposal_is_counted_before_anything_is_confirmed(fair: Fair) -> None:
    lock(fair, "9/21", {**dict.fromkeys(FIRST[:3], "accept"), "dov": "relabel"}, falls="date")
    assert settle(fair, "9/21", confirm=False) == "accept"
    story = find(fair.state, "9/21")
    examining.lock(fair, [Ballot(object_id=story.listed.id, person="ada", round=1, recused=True)])
    assert confirm(fair, "9/21") == 0  # two against one: no longer three quarters
    examining.propose(fair, [examining.count(fair, find(fair.state, "9/21"))])
    state = find(fair.state, "9/21").state
    assert (state.examination, state.outcome) == ("opinions_in", "")


def test_a_recount_never_overwrites_what_is_decided(fair: Fair) -> None:
    lock(fair, "9/21", {**dict.fromkeys(FIRST[:3], "accept"), "dov": "relabel"}, falls="date")
    assert settle(fair, "9/21") == "accept"
    story = find(fair.state, "9/21")
    away = [Ballot(object_id=story.listed.id, person=p, round=1, recused=True) for p in ("ada", "ben", "eli")]
    examining.lock(fair, away)
    assert examining.propose(fair, [examining.count(fair, find(fair.state, "9/21"))]) == 0
    told = account(fair, "9/21")
    assert find(fair.state, "9/21").state.outcome == "accept"
    assert told.next.startswith(
        "Decided as accept; the ballots that stand now give refer. To change it, reopen it"
    )


def test_a_casting_vote_stays_while_no_ballot_comes_after_it(fair: Fair) -> None:
    split = {**dict.fromkeys(FIRST[:3], "accept"), "dov": "relabel", "eli": "remove"}
    lock(fair, "9/21", split)
    settle(fair, "9/21", confirm=False)
    lock(fair, "9/21", split, round=2)
    assert settle(fair, "9/21", confirm=False) == "refer"
    examining.propose(fair, [examining.count(fair, find(fair.state, "9/21"), casting="relabel")])
    assert find(fair.state, "9/21").state.outcome == "relabel"
    assert settle(fair, "9/21", confirm=False) == "relabel"
    story = find(fair.state, "9/21")
    examining.lock(fair, [Ballot(object_id=story.listed.id, person="ada", round=1, recused=True)])
    assert examining.cast_before(find(fair.state, "9/21")) is None


def test_after_an_appeal_the_account_names_the_outcome_in_force(fair: Fair) -> None:
    disputed(fair)
    confirm(fair)
    story = find(fair.state, "9/20")
    appealing.lodge(fair, story, words="Look again.", evidence=(("", "a bill"),), who="stand:9")
    story = find(fair.state, "9/20")
    appealing.decide(fair, story, outcome="accept", reasons=("The bill names it.",), members=SECOND, who="cy")
    assert account(fair).next == "Decided on appeal: accept."


def test_a_referral_that_a_second_round_repeats_stands_as_a_referral(fair: Fair) -> None:
    lock(fair, "9/21", {**dict.fromkeys(FIRST[:2], "refer"), **dict.fromkeys(FIRST[2:], "accept")})
    assert settle(fair, "9/21", confirm=False) == "refer"
    lock(fair, "9/21", {**dict.fromkeys(FIRST[:2], "refer"), **dict.fromkeys(FIRST[2:], "accept")}, round=2)
    assert settle(fair, "9/21", confirm=False) == "refer"
    story = find(fair.state, "9/21")
    assert (story.state.examination, story.revealed) == ("proposed", (1, 2))
