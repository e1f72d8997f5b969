"""Every page at phone, tablet and laptop size and in both themes: no barrier that axe finds, nothing that runs off the side.

Rules: WCAG 2.2 A and AA as axe-core checks them. Kept screens are in out/screens, to be looked at.
"""

from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.browser.fairs import Fair, Keys, prepare

pytestmark = pytest.mark.browser
SIZES = {"phone": (360, 640), "tablet": (820, 1180), "laptop": (1366, 768)}
DESK = (
    "board", "objects", "object/7-003", "open", "questions", "wording", "like", "again", "appeals", "appeal/7-003", "seals",
    "seconds", "safe", "print", "walk", "rules", "people", "panels", "stands", "devices", "cards", "report", "record",
    "facts?words=hinge", "log", "account", "search?q=pewter", "nowhere",
)  # fmt: skip
PANEL = ("round", "round?stand=7", "ballot/7-001")
OPTIONS = {"runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}}


def look(keys: Keys, page: str, name: str, pictures: Path) -> list[str]:
    """What is wrong with one page."""
    keys.page.goto(f"{keys.home}/#/{page}")
    keys.page.wait_for_selector("h1")
    keys.page.wait_for_function("() => !document.body.innerText.includes('Fetching …')")
    keys.page.screenshot(path=pictures / f"{name}.png", full_page=True)
    found = Axe().run(keys.page, options=OPTIONS).response["violations"]
    wrong = [f"{page}: {one['id']} at {one['nodes'][0]['target']}" for one in found]
    off = keys.page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    small = keys.page.evaluate(
        "[...document.querySelectorAll('main *')].filter(e => e.childElementCount === 0 && e.textContent.trim()"
        " && !e.closest('svg, .aloud') && parseFloat(getComputedStyle(e).fontSize) < 18).length"
    )
    return [
        *wrong,
        *([f"{page}: runs {off} px off the side"] if off > 0 else []),
        *([f"{page}: small type"] if small else []),
    ]


def look_at_all(keys: Keys, pages: tuple[str, ...], name: str, pictures: Path) -> None:
    wrong = []
    for page in pages:
        plain = page.replace("/", "-").replace("?", "-").replace("=", "-") or "start"
        wrong += look(keys, page, f"{name}-{plain}", pictures)
    assert wrong == []
    keys.clean()


@pytest.mark.parametrize("size", SIZES)
def test_every_page_of_the_desk_has_no_barrier(chromium: Any, fair: Fair, pictures: Path, size: str) -> None:
    prepare(fair, chromium)
    keys = Keys(chromium, fair.home, SIZES[size])
    look_at_all_signed_out(keys)
    keys.sign_in("ada", fair.secrets["ada"])
    look_at_all(keys, DESK, size, pictures)


def look_at_all_signed_out(keys: Keys) -> None:
    assert Axe().run(keys.page, options=OPTIONS).response["violations"] == []


def test_the_pages_of_a_panel_and_of_an_auditor_have_no_barrier(
    chromium: Any, fair: Fair, pictures: Path
) -> None:
    prepare(fair, chromium)
    member = Keys(chromium, fair.home, SIZES["tablet"])
    member.sign_in("ben", fair.secrets["ben"])
    look_at_all(member, PANEL, "panel", pictures)
    auditor = Keys(chromium, fair.home)
    auditor.sign_in("eve", fair.secrets["eve"])
    look_at_all(auditor, ("log",), "auditor", pictures)


@pytest.mark.parametrize("size", SIZES)
def test_the_counter_has_no_barrier(chromium: Any, fair: Fair, pictures: Path, size: str) -> None:
    prepare(fair, chromium)
    keys = Keys(chromium, fair.home, SIZES[size])
    keys.write("Code on your card", fair.secrets["card"])
    keys.page.keyboard.press("Enter")
    keys.sees("Tolliver Copper")
    own = keys.answer("/counter").json()["lines"][0]["id"]
    look_at_all(keys, ("", f"own/{own}"), f"counter-{size}", pictures)


def test_a_dim_hall_has_no_barrier_either(chromium: Any, fair: Fair, pictures: Path) -> None:
    prepare(fair, chromium)
    keys = Keys(chromium, fair.home)
    keys.sign_in("ada", fair.secrets["ada"])
    keys.back()
    keys.press("Dim hall")
    look_at_all(keys, ("board", "object/7-003", "rules", "stands"), "dim", pictures)


def test_the_ballot_is_quiet(chromium: Any, fair: Fair) -> None:
    """No colour of an outcome stands on the page where one gives one's view."""
    prepare(fair, chromium)
    member = Keys(chromium, fair.home)
    member.sign_in("ben", fair.secrets["ben"])
    member.page.goto(f"{fair.home}/#/ballot/7-001")
    member.sees("Your view")
    assert member.page.locator("main .mark").count() == 0
    colours = member.page.evaluate(
        "[...new Set([...document.querySelectorAll('main *')].flatMap(e => {const s = getComputedStyle(e);"
        " return [s.color, s.backgroundColor, s.borderTopColor]}))]"
    )
    metals = {"rgb(47, 111, 100)", "rgb(138, 106, 31)", "rgb(140, 59, 34)"}  # verdigris, brass, oxide
    assert metals.isdisjoint(colours)
    member.clean()


def test_at_twice_the_zoom_nothing_runs_off_the_side(chromium: Any, fair: Fair) -> None:
    """A laptop at 200 % has half as many CSS pixels across (WCAG 2.2, 1.4.4 and 1.4.10)."""
    prepare(fair, chromium)
    keys = Keys(chromium, fair.home, (683, 384))
    keys.sign_in("ada", fair.secrets["ada"])
    for page in DESK:
        keys.page.goto(f"{fair.home}/#/{page}")
        keys.page.wait_for_selector("h1")
        keys.page.wait_for_function("() => !document.body.innerText.includes('Fetching …')")
        assert keys.page.evaluate(
            "document.documentElement.scrollWidth <= document.documentElement.clientWidth"
        ), page
    keys.clean()


def test_a_view_is_covered_when_its_page_is_left_and_nothing_chosen_is_lost(
    chromium: Any, fair: Fair
) -> None:
    prepare(fair, chromium)
    member = Keys(chromium, fair.home)
    member.sign_in("ben", fair.secrets["ben"])
    member.page.goto(f"{fair.home}/#/ballot/7-001")
    member.sees("Your view")
    member.page.get_by_role("radio", name="Remove").check()
    member.page.get_by_label("What you saw that decides it").fill("MARKVIEW the foot is later")
    member.page.evaluate("dispatchEvent(new PageTransitionEvent('pagehide', {persisted: true}))")
    member.sees("Your view is covered")
    assert not member.page.get_by_role("radio", name="Remove").is_visible()
    assert not member.page.get_by_label("What you saw that decides it").is_visible()
    member.page.get_by_role("button", name="Show my view again").click()
    assert member.page.get_by_role("radio", name="Remove").is_checked()
    assert member.page.get_by_label("What you saw that decides it").input_value().startswith("MARKVIEW")
    member.clean()
