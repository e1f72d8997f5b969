"""A day with the keyboard alone: keys and seals, the locked room with its receipts, an appeal, a copy on a stick, the archive."""

from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from tests.browser.fairs import API, Fair, Keys, prepare

pytestmark = pytest.mark.browser
KEY_PASS = "four plain words of the keys"
MORE = {
    "cat": ["member"], "dot": ["member"], "flo": ["appeals"], "gil": ["appeals"], "hal": ["appeals"], "ivy": ["steward"],
}  # fmt: skip
SEALED, REMOVED = "7-002", "7-003"


def judged(fair: Fair, browser: Any) -> None:
    """One object accepted, one removed by two people, through the API: what is walked by keyboard comes after."""
    prepare(fair, browser)
    chair = signed_in(fair, browser, "ada")
    for short, roles in MORE.items():
        body = {"id": short, "name": short.title(), "roles": roles, "disciplines": ["metalware", "kitchen"]}
        post(fair, chair, "/people", body)
        fair.secrets[short] = post(fair, chair, f"/people/{short}/passphrase")["secret"]
    panel = {"members": ["ben", "cat", "dot"], "leader": "ben"}
    assert chair.put(f"{fair.home}{API}/panels/metal", data=panel).ok
    fair.secrets["card 7"] = post(fair, chair, "/stands/7/card")["secret"]
    for short in ("ben", "cat", "dot"):
        member = signed_in(fair, browser, short)
        views = [
            {"object": SEALED, "outcome": "accept"},
            {"object": REMOVED, "outcome": "remove", "reasons": ["the stamp is of 1911"]},
        ]
        post(fair, member, "/ballots", {"ballots": views})
    for one in (SEALED, REMOVED):
        post(fair, chair, f"/objects/{one}/count")
    post(fair, chair, f"/objects/{SEALED}/confirm")
    second = {"person": "ben", "passphrase": fair.secrets["ben"]}
    post(fair, chair, f"/objects/{REMOVED}/confirm", {"second": second})


def signed_in(fair: Fair, browser: Any, person: str) -> Any:
    asking = browser.new_context(extra_http_headers={"Origin": fair.home}).request
    post(fair, asking, "/session", {"person": person, "passphrase": fair.secrets[person]})
    return asking


def post(fair: Fair, asking: Any, path: str, body: dict[str, Any] | None = None) -> Any:
    said = asking.post(f"{fair.home}{API}{path}", data=body or {})
    assert said.ok, (path, said.text())
    return said.json()


def text_of(pdf: bytes) -> str:
    return "".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)


def test_a_day_of_seals_safe_keeping_an_appeal_and_copies_by_keyboard(
    chromium: Any, fair: Fair, pictures: Path, tmp_path: Path
) -> None:
    judged(fair, chromium)
    chair = Keys(chromium, fair.home)
    chair.sign_in("ada", fair.secrets["ada"])
    sheets = make_keys(chair, pictures)
    seal(chair, pictures)
    into_the_locked_room(chair, pictures)
    appeal_at_the_counter(chromium, fair, pictures)
    decide_it(chromium, fair, pictures)
    copies(chair, sheets[1], tmp_path, pictures)
    archive(chair, pictures)
    chair.clean()


def make_keys(chair: Keys, pictures: Path) -> list[str]:
    """Keys made, both sheets typed back from what stands on the page, unlocked."""
    chair.go("Seals", "Seals")
    chair.write("Passphrase of the keys", KEY_PASS)
    chair.write("The same again", KEY_PASS)
    chair.page.keyboard.press("Enter")
    chair.sees("Print this page now")
    chair.page.screenshot(path=pictures / "day-sheets.png", full_page=True)
    sheets = [
        " ".join(chair.page.locator(f"section[aria-label='Sheet {number}'] li").all_inner_texts())
        for number in (1, 2)
    ]
    for number, words in enumerate(sheets, 1):
        chair.back()
        chair.write("The 34 words of a sheet", words)
        chair.press("Try this sheet")
        if number == 1:
            chair.sees("Sheet 1 opens.")
    chair.page.get_by_role("button", name="Unlock").first.wait_for()
    chair.back()
    chair.write("Passphrase of the keys", KEY_PASS)
    chair.page.keyboard.press("Enter")
    chair.page.wait_for_selector("#keys .state:has-text('unlocked')")
    return sheets


def seal(chair: Keys, pictures: Path) -> None:
    chair.back()
    chair.tick("I have read exactly these words")
    chair.press("Seal 1 label")
    chair.sees("1 sealed. Print the cards with their codes.")
    chair.page.screenshot(path=pictures / "day-sealed.png", full_page=True)
    labels = text_of(chair.answer("/papers/labels.pdf").body())
    assert chair.page.locator(".code").first.inner_text() in labels


def into_the_locked_room(chair: Keys, pictures: Path) -> None:
    chair.page.goto(f"{chair.home}/#/object/{REMOVED}")
    chair.sees("No. 3")
    chair.press("More:")
    chair.write("Place", "shelf 2")
    chair.write("Handed over by", "7")
    chair.write("Condition", "dent in the foot, as before")
    chair.press("I take it over")
    chair.sees("in safe-keeping")
    chair.go("Safe-keeping", "Safe-keeping")
    chair.sees("1 in safe-keeping")
    chair.sees("shelf 2")
    chair.page.screenshot(path=pictures / "day-room.png", full_page=True)
    chair.reach("Print receipt")
    receipt = text_of(chair.answer(f"/papers/receipts.pdf?object={REMOVED}").body())
    assert "dent in the foot" in receipt


def appeal_at_the_counter(browser: Any, fair: Fair, pictures: Path) -> None:
    counter = Keys(browser, fair.home, (820, 1180))
    counter.write("Code on your card", fair.secrets["card 7"])
    counter.page.keyboard.press("Enter")
    counter.sees("Rushlight and Daughter")
    counter.press("No. 3:")
    counter.sees("taken off the stand")
    counter.press("Appeal with new evidence")
    counter.write(
        "What was overlooked", "The foot is stamped 1911, the stem is older. Please look at the stem alone."
    )
    counter.write("What is new", "bill of the smith who put the foot on, 1911")
    counter.press("Lodge the appeal")
    counter.sees("your appeal is open")
    counter.page.screenshot(path=pictures / "day-appeal.png", full_page=True)
    counter.clean()


def decide_it(browser: Any, fair: Fair, pictures: Path) -> None:
    heard = Keys(browser, fair.home)
    heard.sign_in("flo", fair.secrets["flo"])
    heard.go("Appeals", "Appeals")
    heard.press("Stand 7, No. 3")
    heard.sees("bill of the smith")
    heard.page.screenshot(path=pictures / "day-hearing.png", full_page=True)
    heard.reach("Flo")
    for _ in range(2):  # the other two stand next to the first
        heard.page.keyboard.press("Space")
        heard.page.keyboard.press("Tab")
    heard.page.keyboard.press("Space")
    heard.write("Reasons", "the bill names the foot and no other part")
    heard.press("This is decided")
    heard.sees("as the appeals panel decided")
    heard.clean()


def copies(chair: Keys, sheet: str, tmp_path: Path, pictures: Path) -> None:
    """A copy is made, tried with sheet 2, and opened in a new folder."""
    stick = tmp_path / "stick"
    stick.mkdir()
    chair.go("Backup and archive", "Safe keeping of the record")
    chair.sees("There is no copy yet.")
    chair.write("Folder", str(stick))
    chair.press("Make a copy now")
    chair.sees("A copy was made.")
    chair.sees("Everything is in it.")
    chair.page.screenshot(path=pictures / "day-copy.png", full_page=True)
    assert [*stick.rglob("*.age")]
    chair.back()
    chair.write("The 34 words of a sheet", sheet)
    chair.press("Open it and read all of it")
    chair.sees("The sheet opens it:")
    chair.back()
    chair.press("Open a copy in a new folder")
    chair.write("The 34 words of the sheet", sheet)
    chair.press("Open it in a new folder")
    chair.sees("The copy is open in a new folder.")
    chair.page.screenshot(path=pictures / "day-restored.png", full_page=True)


def archive(chair: Keys, pictures: Path) -> None:
    chair.back()
    chair.press("Write a signed archive")
    chair.sees("An archive was written.")
    chair.sees("It was read back and is as it was written.")
    chair.sees("by the fair's key")
    chair.page.screenshot(path=pictures / "day-archive.png", full_page=True)
