"""An exhibitor mends every fault of a list with the keyboard alone, and sees nothing that is not theirs."""

from pathlib import Path
from typing import Any

import pytest

from tests.browser.fairs import Fair, Keys, prepare

pytestmark = pytest.mark.browser
OWN_WORDS = {
    "11": "Electroplate teapot, English, c.1880. Height 15 cm",
    "12": "Brass candlestick in George I style, English, c.1911. Height 20 cm",
    "14": "Copper kettle, English, c.1820. Height 28 cm",
}


def to_mend(counter: Keys) -> list[dict[str, Any]]:
    return [line for line in counter.answer("/counter").json()["lines"] if line["to_mend"]]


def mend(counter: Keys, line: dict[str, Any]) -> str:
    """Take the suggestion where one is made, else write own words; again until nothing is left."""
    counter.back()
    counter.press(f"No. {line['number']}:")
    counter.sees("What to mend")
    offered = counter.page.get_by_role("button", name="Take these words").count()
    if offered:
        counter.press("Take these words")
        counter.page.wait_for_function("() => !document.body.innerText.includes('Take these words')")
    if not counter.page.locator(".well").count():
        counter.back()
        counter.write("The label", OWN_WORDS[line["number"]])
        counter.press("Put these words on the label")
    counter.sees("Nothing to mend in these words.")
    counter.back()
    counter.press("All of your objects")
    counter.page.wait_for_selector("h1:has-text('Tolliver Copper')")
    return "suggested" if offered else "own"


def test_an_exhibitor_mends_every_fault_of_a_list_without_help(
    chromium: Any, fair: Fair, pictures: Path
) -> None:
    prepare(fair, chromium)
    counter = Keys(chromium, fair.home, (820, 1180))
    counter.write("Code on your card", fair.secrets["card"])
    counter.page.keyboard.press("Enter")
    counter.sees("Tolliver Copper")
    wanted = to_mend(counter)
    assert {line["number"] for line in wanted} >= {"11", "12", "14"}
    counter.page.screenshot(path=pictures / "counter-before.png", full_page=True)
    ways = [mend(counter, line) for line in wanted]
    assert to_mend(counter) == []
    counter.page.reload()
    counter.sees("labels read well.")
    assert "suggested" in ways, "no fault of this list came with words to take over"
    counter.clean()


def test_a_counter_shows_no_other_stand_no_name_and_no_page_of_the_desk(chromium: Any, fair: Fair) -> None:
    prepare(fair, chromium)
    counter = Keys(chromium, fair.home)
    counter.write("Code on your card", fair.secrets["card"])
    counter.page.keyboard.press("Enter")
    counter.sees("Tolliver Copper")
    own = counter.answer("/counter").json()["lines"][0]["id"]
    for page in ("", f"own/{own}", "board", "objects", "people", "log", "object/7-001", "own/7-001"):
        counter.page.goto(f"{fair.home}/#/{page}")
        counter.page.wait_for_timeout(250)
        shown = counter.page.content()
        for hidden in ("Rushlight", "Ben Arkle", "Ada Pell", "Search everything", "reeded rim"):
            assert hidden not in shown, (page, hidden)
    counter.clean()
