"""The steward's side: a tablet paired on the desk's own page, and a card that is decided there."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.browser.fairs import PASS
from tests.floor.hall import Hall
from tests.floor.tablet import PIN, Tablet

pytestmark = pytest.mark.browser
New = Callable[..., Tablet]


@pytest.fixture
def desk(chromium: Any, hall: Hall) -> Any:
    """The chair's page."""
    context = chromium.new_context(viewport={"width": 1366, "height": 900}, reduced_motion="reduce")
    page = context.new_page()
    page.goto(hall.home)
    page.get_by_label("Short name").fill("ada")
    page.get_by_role("textbox", name="Passphrase").fill(PASS)
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Sign out").wait_for()
    yield page
    context.close()


def keep(page: Any, name: str) -> None:
    folder = Path(__file__).parents[2] / "out" / "floor"
    folder.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=folder / f"{name}.png", full_page=True)


def test_a_steward_pairs_a_tablet_on_the_desks_page_by_comparing_four_words(
    desk: Any, hall: Hall, tablet: New
) -> None:
    desk.goto(f"{hall.home}/#/devices")
    desk.get_by_role("button", name="Show a code").click()
    typed = desk.locator(".secret").first.inner_text()
    desk.wait_for_function("() => document.querySelector('img.pairing').naturalWidth > 0")
    keep(desk, "desk-code")
    ben = tablet()
    ben.open()
    ben.page.get_by_label("Code").fill(typed.lower())
    ben.press("Pair")
    ben.page.wait_for_selector(".four-words li")
    words = ben.page.locator(".four-words li").all_inner_texts()
    asking = desk.get_by_role("region", name="A tablet asks to be paired")
    asking.wait_for()
    assert asking.locator(".secret").inner_text().split(" · ") == words
    asking.get_by_label("Whose tablet").select_option("ben")
    keep(desk, "desk-waiting")
    desk.get_by_role("button", name="Yes, the words are the same").click()
    ben.sees("Choose your PIN")
    ben.page.get_by_label("PIN, eight figures").fill(PIN)
    ben.page.get_by_label("The PIN again").fill(PIN)
    ben.press("Set the PIN")
    ben.sees("My round")
    desk.get_by_text("nothing waits on it").first.wait_for()
    keep(desk, "desk-tablets")
    ben.clean()


def test_an_easy_pin_and_two_that_differ_are_refused_in_words(hall: Hall, tablet: New) -> None:
    ben = tablet()
    code = hall.post("/devices/codes")["code"]
    ben.open(f"#/pair/{code}")
    ben.press("Pair")
    ben.page.wait_for_selector(".four-words li")
    waiting = hall.get("/devices")["waiting"][0]
    hall.post(f"/devices/waiting/{waiting['pairing']}/yes", {"person": "ben"})
    ben.sees("Choose your PIN")
    for one, two, said in (("27182818", "27182819", "not the same"), ("1234", "1234", "eight figures")):
        ben.page.get_by_label("PIN, eight figures").fill(one)
        ben.page.get_by_label("The PIN again").fill(two)
        ben.press("Set the PIN")
        ben.sees(said)
    ben.page.get_by_label("PIN, eight figures").fill("11111111")
    ben.page.get_by_label("The PIN again").fill("11111111")
    ben.press("Set the PIN")
    ben.page.get_by_role("alert").wait_for()
    assert "My round" not in ben.text()
    ben.clean()


def test_a_code_works_once_and_a_steward_can_say_no(hall: Hall, tablet: New) -> None:
    ben, finder = tablet(), tablet()
    code = hall.post("/devices/codes")["code"]
    ben.open(f"#/pair/{code}")
    ben.press("Pair")
    ben.page.wait_for_selector(".four-words li")
    finder.open(f"#/pair/{code}")
    finder.press("Pair")
    finder.page.get_by_role("alert").wait_for()
    assert finder.page.locator(".four-words li").count() == 0
    waiting = hall.get("/devices")["waiting"][0]
    hall.post(f"/devices/waiting/{waiting['pairing']}/no")
    ben.sees("The steward said no.")
    assert ben.kept()["dev"] == ""


def test_a_card_is_decided_at_the_desk_and_the_tablet_is_told(desk: Any, hall: Hall, tablet: New) -> None:
    ben, cleo = tablet(), tablet()
    ben.pair("ben")
    cleo.pair("cleo")
    hall.line.cut()
    ben.asks_words("7-003", "Brass candlestick, 1911, in the style of George I", "Seamless tube.")
    cleo.asks_words("7-003", "Brass candlestick in George I style", "Cast in one piece.")
    hall.line.mend()
    for one in (ben, cleo):
        one.sent(1, seconds=60)
    loser = next(one for one in (ben, cleo) if one.rows("events")[0]["status"] == "stale")
    desk.goto(f"{hall.home}/#/cards")
    desk.get_by_text("What stands:").wait_for()
    keep(desk, "desk-cards")
    desk.get_by_role("button", name="Keep both beside each other").click()
    desk.get_by_text("No card is open.").wait_for()
    loser.go("#/work")
    loser.sees("Decided: beside", seconds=60)
    loser.clean()
