"""Without network: the app opens from cold, work goes on, and everything is at the desk once when the line is back."""

from collections.abc import Callable
from typing import Any

import pytest

from tests.floor.hall import Hall
from tests.floor.tablet import PIN, Tablet

pytestmark = pytest.mark.browser
New = Callable[..., Tablet]


def ready(tablet: Tablet) -> None:
    """Wait until the worker has the whole app."""
    tablet.page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")


def test_the_app_opens_from_cold_without_network_and_hands_in_what_was_done(hall: Hall, tablet: New) -> None:
    ben = tablet()
    ben.pair("ben")
    ready(ben)
    ben.page.close()
    hall.line.cut()
    cold = Tablet(ben.context, hall)
    cold.open()
    cold.unlock()
    cold.passes("7-001")
    cold.views("7-003", "Relabel", "The drawn tube has no seam.")
    cold.sees("on this tablet only")
    cold.release()
    assert [(one["kind"], one["status"]) for one in cold.rows("events")] == [
        ("ballot.locked/1", "waiting"),
        ("ballot.locked/1", "waiting"),
    ]
    hall.line.mend()
    assert {one["status"] for one in cold.sent(2, seconds=60)} == {"ok"}
    cold.sees("All at the desk")
    cold.clean()


def test_a_lost_answer_makes_no_second_event(hall: Hall, tablet: New) -> None:
    ben = tablet()
    ben.pair("ben")
    lost: list[str] = []

    def lose(route: Any) -> None:
        """The desk hears and answers, and the tablet never gets the answer."""
        lost.append(route.fetch().json()["results"][0]["status"])
        route.abort("connectionreset")

    ben.context.route("**/api/v1/push", lose)
    ben.views("8-002", "Refer", "The date is cast in and sharp.")
    ben.until(lambda: len(lost) >= 2, "the tablet does not try again")
    assert lost[:2] == ["ok", "have"]
    assert [one["status"] for one in ben.rows("events")] == ["waiting"]
    ben.context.unroute("**/api/v1/push")
    (own,) = ben.sent(1)
    assert own["status"] == "have"
    assert len(hall.entries(ben.kept()["dev"])) == 1
    ben.clean()


def test_the_desk_killed_in_mid_work_loses_nothing_and_doubles_nothing(own_hall: Hall, tablet: New) -> None:
    hall = own_hall
    ben = tablet(hall)
    dev = ben.pair("ben")
    for n in (1, 2, 3):
        ben.go(f"#/where/7-00{n}")
        ben.press("Needs a key")
        hall.kill()
        hall.start()
    own = ben.sent(3, seconds=90)
    assert {one["status"] for one in own} <= {"ok", "have"}
    assert [entry["seq"] for entry in hall.entries(dev)] == [1, 2, 3]
    ben.clean()


def test_two_pages_of_one_tablet_give_distinct_numbers_and_send_once(hall: Hall, tablet: New) -> None:
    one = tablet()
    dev = one.pair("ben")
    two = Tablet(one.context, hall)
    two.open()
    two.unlock()
    hall.line.cut()
    for n in (1, 2, 3):
        one.go(f"#/where/9-00{n}")
        two.go(f"#/where/12-00{n}")
        one.page.get_by_role("button", name="Needs a key").click(no_wait_after=True)
        two.page.get_by_role("button", name="Not found on the stand").click(no_wait_after=True)
        for page in (one.page, two.page):
            page.wait_for_function("() => !location.hash.startsWith('#/where/')")
    assert [own["seq"] for own in one.rows("events")] == [1, 2, 3, 4, 5, 6]
    hall.line.mend()
    one.sent(6, seconds=60)
    two.sent(6, seconds=20)
    assert [entry["seq"] for entry in hall.entries(dev)] == [1, 2, 3, 4, 5, 6]
    one.clean()
    two.clean()


def test_a_draft_comes_back_after_a_reload_and_after_the_pin(tablet: New) -> None:
    ben = tablet()
    ben.pair("ben")
    ben.go("#/ballot/10-004")
    ben.page.get_by_label("What you saw that decides it").fill("Worn edges show a thin even skin")
    ben.until(lambda: ben.rows("typed"), "what is typed is not kept")
    ben.page.reload()
    ben.page.wait_for_selector("input.pin")
    ben.page.get_by_label("PIN, eight figures").fill(PIN)
    ben.press("Unlock")
    ben.sees("Your view of No. 4")
    ben.page.wait_for_function(
        "() => document.querySelector('textarea').value === 'Worn edges show a thin even skin'"
    )
    ben.clean()


def test_a_wrong_pin_opens_nothing_and_five_make_the_tablet_wait(hall: Hall, tablet: New) -> None:
    ben = tablet()
    ben.pair("ben")
    ben.go("#/work")
    ben.press("Lock this tablet")
    hall.line.cut()
    for _ in range(5):
        ben.page.get_by_label("PIN, eight figures").fill("31415926")
        ben.press("Unlock")
        ben.sees("That is not the PIN.")
    ben.page.get_by_label("PIN, eight figures").fill(PIN)
    ben.press("Unlock")
    ben.sees("Wait five minutes.")
    assert "My round" not in ben.text()
    ben.clean()
