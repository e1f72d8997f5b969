"""A chair's whole small fair with the keyboard alone: from an empty folder to the printed report."""

from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from tests.browser.fairs import LIST, PASS, Fair, Keys

pytestmark = pytest.mark.browser
MEMBERS = {"ben": "Ben Arkle", "cat": "Cat Brough", "dot": "Dot Cairns"}


def set_up(chair: Keys, fair: Fair) -> None:
    chair.write("Set-up code", fair.code)
    chair.reach("Rule book to begin with")
    chair.page.keyboard.type("Saltmere")  # its quorum is three
    chair.write("Name of the fair", "Little Marsh Fair")
    chair.write("Your name", "Ada Pell")
    chair.write("Short name", "ada")
    chair.write("Passphrase", PASS)
    chair.press("Make the fair")
    chair.sees("Seven steps")


def add_people(chair: Keys, fair: Fair) -> None:
    chair.go("People", "People")
    for short, name in MEMBERS.items():
        chair.back()
        chair.write("Name", name)
        chair.write("Short name", short)
        chair.tick("kitchen")
        chair.tick("metalware")
        chair.tick("pewter")
        chair.press("Add")
        chair.page.wait_for_function(
            "name => document.querySelector('.once strong')?.innerText === name", arg=short
        )
        fair.secrets[short] = chair.page.inner_text(".secret")


def form_panel(chair: Keys) -> None:
    chair.go("Panels", "Panels")
    chair.write("Name of the panel", "metal")
    for name in MEMBERS.values():
        chair.tick(name)
    chair.press("Form the panel")
    chair.sees("Formed.")


def add_stand(chair: Keys, folder: Path) -> None:
    chair.go("Stands and lists", "Stands and lists")
    chair.write("Stand number", "7")
    chair.write("Exhibitor", "Rushlight and Daughter")
    chair.press("Add the stand")
    chair.sees("Rushlight and Daughter")
    sent = folder.parent / "list of stand 7.csv"
    sent.write_text(LIST, encoding="utf-8")
    chair.reach("Take a list in for stand 7")
    chosen = chair.page.evaluate_handle("document.activeElement").as_element()
    chosen.set_input_files(sent)  # the window that chooses a file is the system's, not the page's
    chair.sees("is read and waits for your yes")
    chair.press("Take it in: 3 objects")
    chair.sees("The list is taken in")
    chair.press("See the objects")
    chair.sees("1 to 3 of 3")


def judge(browser: Any, fair: Fair, short: str) -> None:
    """Pass two, and find the date of the third wrong."""
    member = Keys(browser, fair.home)
    member.sign_in(short, fair.secrets[short])
    member.go("My round", "My round")
    member.sees("3 wait for your view.")
    for number in ("1", "2"):
        member.back()
        member.press(f"Pass number {number}")
        member.sees(f"{3 - int(number)} wait for your view.")
    member.back()
    member.press("Undo: Number 2 passed")
    member.sees("2 wait for your view.")
    member.back()
    member.press("Pass number 2")
    member.page.wait_for_function("() => !document.querySelector('.passing')?.innerText", timeout=15_000)
    member.back()
    member.press("Another view of number 3")
    member.reach("Accept")
    member.page.keyboard.press("ArrowDown")  # Relabel
    member.press("On the words, one by one")
    member.reach("holds")
    member.press("When it was made")
    member.write("Earliest year", "1905")
    member.write("Latest year", "1920")
    member.write("What you saw", "the stamp on the foot is of 1911")
    member.write("Words you could sign", "Brass candlestick in George I style, English, 1911. Height 20 cm")
    member.press("Lock")
    member.sees("It is at the desk.")
    assert "1911" not in member.page.inner_text("main"), "a locked ballot is a blank"
    member.clean()


def settle(chair: Keys, number: int, outcome: str) -> None:
    chair.go("Objects", "Objects")
    chair.page.wait_for_selector("td a")
    chair.reach(chair.page.locator("td a").nth(number - 1).inner_text()[:20])
    chair.page.keyboard.press("Enter")
    chair.sees("Close the round and count")
    chair.press("Close the round and count")
    chair.sees(f"Confirm: {outcome}")
    chair.back()
    chair.press("Confirm:")
    chair.sees("Appeal time is over")


def test_a_chair_runs_a_small_fair_from_an_empty_folder_to_the_printed_report(
    chromium: Any, fair: Fair, pictures: Path
) -> None:
    chair = Keys(chromium, fair.home)
    set_up(chair, fair)
    add_people(chair, fair)
    form_panel(chair)
    add_stand(chair, fair.folder)
    for short in MEMBERS:
        judge(chromium, fair, short)
    settle(chair, 1, "Accept")
    settle(chair, 2, "Accept")
    settle(chair, 3, "Relabel")
    chair.back()
    chair.press("Words")
    chair.sees("What everybody can carry")
    chair.press("Ask for these words")
    chair.sees("Both sides have signed")
    chair.page.screenshot(path=pictures / "words.png", full_page=True)
    chair.back()
    chair.press("Both sides have signed")
    chair.sees("These words hang")
    chair.go("Report", "Report")
    chair.sees("Little Marsh Fair")
    chair.reach("Open the printed report")
    printed = chair.answer("/papers/report.pdf")
    text = "".join(page.extract_text() for page in PdfReader(BytesIO(printed.body())).pages)
    assert "Little Marsh Fair" in text
    chair.clean()
