"""Who gets a second look, what the list must not give away, and what may have been missed."""

from pathlib import Path

import pytest
from click.testing import CliRunner

from planish.doors.cli import looks
from planish.errands.intake.finding import find
from planish.errands.opening.refusing import Refused
from planish.errands.opening.wiring import Fair
from planish.errands.panel import second_looks
from planish.errands.telling.reporting import anything
from planish.reasoning.trending.rates import none_seen_upper
from tests.panel_errands.fairs import FIRST, begun, lock, settle, voted


@pytest.fixture
def fair(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Fair:
    monkeypatch.setenv("PLANISH_NOW", "2026-10-15T09:10:00")
    return begun(tmp_path / "fair")


def four_to_one(fair: Fair, item: str, most: str, other: str) -> None:
    lock(fair, item, {**dict.fromkeys(FIRST[:4], most), FIRST[4]: other}, falls="date")
    assert settle(fair, item) == most


def numbers(plan: second_looks.SecondLooks) -> list[str]:
    return [look.number for look in plan.looks]


def test_only_objects_whose_chance_of_a_mistake_pays_for_the_look_are_picked(fair: Fair) -> None:
    voted(fair, "7/15", "accept")
    four_to_one(fair, "9/21", "accept", "relabel")  # P = .025: below the .06 from which a look pays
    four_to_one(fair, "9/20", "relabel", "accept")  # P = .32
    assert numbers(second_looks.second_looks(fair, capacity=5)) == ["9/20"]


def test_the_days_capacity_cuts_the_list_where_it_saves_least(fair: Fair) -> None:
    # Beta-binomial at rho .3, base rate 10 %, accuracy .8: 4 of 5 against is P = .32, 5 of 5 is .72 (own computation)
    four_to_one(fair, "9/20", "relabel", "accept")
    voted(fair, "7/14", "relabel", falls="date")
    whole = second_looks.second_looks(fair, capacity=9, sees=anything)
    saving = {look.number: look.reckoned.saving for look in whole.looks if look.reckoned}
    best = max(saving, key=lambda number: saving[number])
    assert numbers(second_looks.second_looks(fair, capacity=1)) == [best]
    assert second_looks.second_looks(fair, capacity=0).looks == ()
    assert second_looks.second_looks(fair, capacity=0).would_pay == len(saving)


def test_the_list_says_nothing_of_votes_to_whoever_may_not_see_the_split(fair: Fair) -> None:
    four_to_one(fair, "9/20", "relabel", "accept")
    (look,) = second_looks.second_looks(fair, capacity=5).looks
    assert look.reckoned is None
    (seen,) = second_looks.second_looks(fair, capacity=5, sees=anything).looks
    assert seen.reckoned is not None
    assert seen.reckoned.chance == "20-40 %"


def test_below_the_floor_nothing_is_ranked_at_all(fair: Fair) -> None:
    lock(fair, "9/20", {"ada": "relabel", "ben": "relabel"}, falls="date")
    settle(fair, "9/20", confirm=False)
    assert second_looks.second_looks(fair, capacity=5).would_pay == 0


def test_drawn_and_picked_objects_stand_in_one_list_in_stand_order(fair: Fair) -> None:
    four_to_one(fair, "9/20", "relabel", "accept")
    for item in ("7/15", "7/16", "9/21"):
        voted(fair, item, "accept")
    drawn = second_looks.draw(fair, size=2, seed=3, who="cy")
    assert drawn == second_looks.missing.blind_sample(
        [find(fair.state, n).listed.id for n in ("7/15", "7/16", "9/21")], 2, 3
    )
    plan = second_looks.second_looks(fair, capacity=5)
    assert numbers(plan) == sorted(numbers(plan))
    assert {look.object_id for look in plan.looks} == {*drawn, find(fair.state, "9/20").listed.id}
    assert not any(
        "lot" in word or "draw" in word for look in plan.looks for word in (look.words, look.number)
    )


def test_the_lot_is_written_down_so_that_anybody_can_draw_it_again(fair: Fair) -> None:
    for item in ("7/15", "7/16", "9/21"):
        voted(fair, item, "accept")
    (one,) = second_looks.draw(fair, size=1, seed=11, who="cy")
    events = [e for e in fair.state.objects[one].events if e.kind == "second_look.asked"]
    assert events[0].body == {"by": "draw", "why": "drawn by lot, 1 of 3 passed, seed 11"}
    with pytest.raises(Refused, match="nothing to draw"):
        second_looks.draw(fair, size=5, seed=1, who="cy", among="passed") and second_looks.draw(
            fair, size=5, seed=1, who="cy"
        )


def test_whoever_looked_the_first_time_does_not_look_again(fair: Fair) -> None:
    voted(fair, "7/15", "accept")
    with pytest.raises(Refused, match="looked at it the first time"):
        second_looks.done(fair, find(fair.state, "7/15"), found="nothing", who="ben")
    with pytest.raises(Refused, match="nothing says which"):
        second_looks.done(fair, find(fair.state, "7/15"), found="fault", who="gus")
    second_looks.done(fair, find(fair.state, "7/15"), found="nothing", who="gus")


def test_a_clean_audit_says_what_it_still_allows_of_everything_passed(fair: Fair) -> None:
    for item in ("7/15", "7/16", "9/21"):
        voted(fair, item, "accept")
    assert "nothing can be said" in second_looks.second_looks(fair, capacity=0).missed.sentence
    for one in second_looks.draw(fair, size=2, seed=3, who="cy"):
        second_looks.done(fair, fair.state.objects[one], found="nothing", who="gus")
    told = second_looks.second_looks(fair, capacity=0).missed
    assert (told.sample, told.passed, told.found) == (2, 3, 0)
    assert told.high == pytest.approx(3 * none_seen_upper(2))
    assert told.sentence.startswith("Nothing was found in 2 looked at again. That still allows up to 77.6 %")


def test_a_look_picked_for_its_cost_says_nothing_of_the_rest(fair: Fair) -> None:
    four_to_one(fair, "9/21", "accept", "relabel")
    second_looks.done(fair, find(fair.state, "9/21"), found="fault", words="the foot is new", who="gus")
    assert second_looks.second_looks(fair, capacity=5).missed.sample == 0


def test_a_sample_among_everything_seen_compares_two_blind_searches(fair: Fair) -> None:
    for item, outcome in (("7/15", "accept"), ("7/16", "accept"), ("7/14", "relabel"), ("9/20", "relabel")):
        voted(fair, item, outcome, falls="date" if outcome == "relabel" else "")
    drawn = second_looks.draw(fair, size=4, seed=3, who="cy", among="seen")
    faulty = {find(fair.state, n).listed.id for n in ("7/14", "7/16")}
    for one in drawn:
        found = "fault" if one in faulty else "nothing"
        second_looks.done(fair, fair.state.objects[one], found=found, words="the foot is new", who="gus")
    both = second_looks.second_looks(fair, capacity=0).missed.both
    assert both is not None
    assert (both.found, both.total) == (3, 3 * 3 / 2 - 1)  # first 2, second 2, both 1: (2+1)(2+1)/(1+1) - 1


def test_an_hour_too_fast_is_named_by_panel_and_never_by_person(fair: Fair) -> None:
    for item in ("7/15", "7/16", "9/21"):
        voted(fair, item, "accept")
    brisk = second_looks.Assumed(most_per_hour=2)
    (warning,) = second_looks.second_looks(fair, capacity=0, assumed=brisk).pace
    assert (warning.panel, warning.hour) == ("metals", "2026-10-15 09:00 UTC")
    assert warning.sentence == "3 objects, faster than 2 an hour; look again at some."
    assert not any(name in str(warning) for name in FIRST)


def test_the_command_draws_records_and_prints_what_a_clean_audit_allows(fair: Fair) -> None:
    for item in ("7/15", "7/16", "9/21"):
        voted(fair, item, "accept")
    folder = str(fair.folder)
    fair.close()
    run = CliRunner().invoke
    assert run(looks.command, ["--fair", folder, "--draw", "3", "--seed", "5", "--by", "cy"]).exit_code == 0
    done = run(looks.command, ["--fair", folder, "--done", "7/15", "--found", "nothing", "--by", "gus"])
    assert "Nothing was found in 1 looked at again. That still allows up to 95.0 %" in done.output
    assert "lot, 3 of 3" not in done.output
