"""The narrow way through: pair, walk the round, pass an object, see where the work is."""

from collections.abc import Callable

import pytest

from tests.floor.hall import Hall
from tests.floor.tablet import Tablet

pytestmark = pytest.mark.browser
New = Callable[..., Tablet]


def test_a_tablet_is_paired_and_a_pass_gets_its_three_ticks(hall: Hall, tablet: New) -> None:
    ben = tablet()
    dev = ben.pair("ben")
    ben.page.locator(".stand-card").first.click()
    ben.sees("Stand 7")
    ben.press("First object")
    ben.sees("Pewter plate with a reeded rim")
    ben.press("Pass")
    ben.sees("No. 1 passes, on this tablet")
    ben.sees("No. 2")
    ben.release()
    own = ben.sent(1)
    assert [one["status"] for one in own] == ["ok"]
    ben.go("#/work")
    ben.sees(f"at the desk, no. {own[0]['n']}.")
    assert [one["dev"] for one in hall.get("/devices")["tablets"]] == [dev]
    ben.clean()


def test_a_pass_is_taken_back_within_ten_seconds_and_leaves_nothing(tablet: New) -> None:
    ben = tablet()
    ben.pair("ben")
    ben.passes("8-001")
    ben.page.locator(".undo button").click()
    ben.page.wait_for_selector(".undo", state="detached")
    ben.until(lambda: not ben.rows("pending"), "what was taken back is still held")
    ben.later(11)
    assert ben.rows("events") == []
    ben.go("#/stand/8")
    assert ben.text().count("to see") == 6
    ben.clean()


def test_the_rest_of_a_shelf_passes_in_two_taps_with_its_count(tablet: New) -> None:
    ben = tablet()
    ben.pair("ben")
    ben.go("#/stand/9")
    ben.press("The rest of this shelf passes")
    ben.sees("From No. 1 to No. 6: 6 objects.")
    ben.press("Yes, these 6 pass")
    ben.release()
    own = ben.sent(6)
    assert [one["seq"] for one in own] == [1, 2, 3, 4, 5, 6]
    assert {one["status"] for one in own} == {"ok"}
    ben.go("#/stand/9")
    assert ben.text().count("seen by you") == 6
    ben.clean()


def test_the_second_look_comes_after_the_round_is_closed_and_shows_no_names(hall: Hall, tablet: New) -> None:
    hands = {person: tablet() for person in ("ben", "cleo", "dora", "gil")}
    for person, outcome in zip(hands, ("Relabel", "Remove", "Refer", "Accept"), strict=True):
        hands[person].pair(person)
        hands[person].views("10-001", outcome, "MARKREASON the foot is later.")
    for hand in hands.values():
        hand.sent(1)
    ben = hands["ben"]
    ben.go("#/object/10-001")
    assert "Second view" not in ben.text()
    hall.post("/objects/10-001/count")
    ben.sees("Second view", seconds=60)
    ben.sees("Round 1, without names")
    assert not any(name in ben.text() for name in ("Cleo", "Dora", "Gil", "MARKREASON"))
    ben.views("10-001", "Relabel", "Foot later, after talk.")
    own = ben.sent(2)
    assert [one["status"] for one in own] == ["ok", "ok"]
    ben.clean()
