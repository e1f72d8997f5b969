"""Every page as it stands in a hand: phone and tablet, hall light and dim, no barrier, nothing too small, no mouse needed.

Barriers: WCAG 2.2 A and AA as axe-core checks them, and AAA contrast (1.4.6) for text. Sizes: 12 mm are 76 CSS pixels on a
phone of about 160 of them to the inch; words inside the label are text and are repeated as large buttons below it.
"""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.floor.hall import Hall
from tests.floor.tablet import PIN, Tablet

pytestmark = pytest.mark.browser
New = Callable[..., Tablet]
PAGES = {
    "round": "#/",
    "stand": "#/stand/7",
    "shelf": "#/shelf/7",
    "object": "#/object/7-003",
    "quiet": "#/ballot/7-003",
    "look": "#/look/7-003",
    "where": "#/where/7-003",
    "words": "#/words/7-003",
    "unlisted": "#/unlisted/7",
    "incident": "#/incident/7",
    "work": "#/work",
}
ZINC = {
    "kind": "composition",
    "values": {
        "Cu": {"amount": 66.1, "unit": "wt%", "uncertainty": 1.3},
        "Zn": {"amount": 33.4, "unit": "wt%", "uncertainty": 0.65},
    },
    "spot": "under the foot",
    "instrument": "handheld XRF",
    "surface": "cleaned spot",
}
"""A reading that speaks of a year, so that a ribbon is drawn."""
SIZES = {"phone": (360, 640), "tablet": (820, 1180)}
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
OPTIONS = {
    "runOnly": {"type": "tag", "values": TAGS},
    "rules": {"color-contrast-enhanced": {"enabled": True}},
}
_SMALL_TARGETS = """() => [...document.querySelectorAll('a, button, input, select, textarea, summary, label.choice, label.file')]
  .filter(one => !one.closest('.label-card, .word, label.choice input, svg') && !(one.matches('input') && one.closest('label.choice, label.file')))
  .map(one => [one, one.getBoundingClientRect()])
  .filter(([one, box]) => box.width > 0 && (box.height < 75.5 || box.width < 75.5))
  .filter(([one]) => !one.closest('.warn'))
  .map(([one, box]) => `${one.tagName} ${one.textContent.trim().slice(0, 30)} ${Math.round(box.width)}x${Math.round(box.height)}`)"""
_SMALL_TYPE = """() => [...document.querySelectorAll('body *')]
  .filter(one => one.childElementCount === 0 && one.textContent.trim() && !one.closest('svg, .aloud, option'))
  .filter(one => parseFloat(getComputedStyle(one).fontSize) < 18)
  .map(one => one.textContent.trim().slice(0, 40))"""
_LAY = "how => document.querySelectorAll('.low, .top').forEach(one => { one.style.position = how; })"
_GROUND = "getComputedStyle(document.querySelector('.ribbon svg [fill=\"#fbf7ee\"]')).fill"
_OFF_SIDE = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


def faults(tablet: Tablet, page: str) -> list[str]:
    """What is wrong with the page that is open."""
    # What the bar at the foot half covers can be scrolled free of it; the checker takes the covered half for a small target.
    tablet.page.evaluate(_LAY, "static")
    found = Axe().run(tablet.page, options=OPTIONS).response["violations"]
    tablet.page.evaluate(_LAY, "")
    wrong = [f"{page}: {one['id']} at {one['nodes'][0]['target']}" for one in found]
    wrong += [f"{page}: small target {one}" for one in tablet.page.evaluate(_SMALL_TARGETS)]
    wrong += [f"{page}: small type {one}" for one in tablet.page.evaluate(_SMALL_TYPE)]
    off = tablet.page.evaluate(_OFF_SIDE)
    return [*wrong, *([f"{page}: runs {off} px off the side"] if off > 0 else [])]


@pytest.fixture
def pictures() -> Path:
    """Where screens are kept to be looked at."""
    folder = Path(__file__).parents[2] / "out" / "floor"
    folder.mkdir(parents=True, exist_ok=True)
    return folder


def look_at_all(tablet: Tablet, name: str, pictures: Path) -> list[str]:
    wrong = []
    for page, at in PAGES.items():
        tablet.go(at)
        if page == "object":
            tablet.page.locator(".asked button").first.click()
        tablet.page.screenshot(path=pictures / f"{name}-{page}.png")
        wrong += faults(tablet, page)
    return wrong


@pytest.mark.parametrize("theme", ["light", "dim"])
def test_every_page_has_no_barrier_and_nothing_too_small_for_a_gloved_thumb(
    hall: Hall, tablet: New, pictures: Path, theme: str
) -> None:
    drawn = {"light": "11-003", "dim": "12-003"}[theme]
    hall.post(f"/objects/{drawn}/observations", ZINC)
    ben = tablet()
    ben.open()
    ben.page.evaluate("theme => localStorage.setItem('planish.theme', theme)", theme)
    ben.page.reload()
    ben.page.wait_for_selector("h1")
    assert ben.page.evaluate("document.documentElement.dataset.theme") == theme
    wrong = faults(ben, "pair")
    ben.pair("ben")
    ben.views(drawn, "Relabel", "Zinc above what cementation reached.")
    ben.until(lambda: drawn in {one["id"] for one in ben.rows("ribbons")}, "no ribbon comes")
    ben.page.reload()
    ben.unlock()
    ben.go(f"#/object/{drawn}")
    ben.page.locator(".ribbon svg").wait_for()
    wrong += faults(ben, "ribbon")
    ground = ben.page.evaluate(_GROUND)
    assert ground == {"light": "rgb(251, 247, 238)", "dim": "rgb(34, 31, 26)"}[theme], (
        "not the theme's ground"
    )
    ben.page.locator(".ribbon").screenshot(path=pictures / f"ribbon-{theme}.png")
    for size, (width, height) in SIZES.items():
        ben.page.set_viewport_size({"width": width, "height": height})
        wrong += look_at_all(ben, f"{size}-{theme}", pictures)
    ben.page.set_viewport_size({"width": 360, "height": 640})
    ben.go("#/work")
    ben.press("Lock this tablet")
    ben.page.wait_for_selector("input.pin")
    wrong += faults(ben, "unlock")
    assert wrong == []
    ben.clean()


def test_the_stand_stands_in_giant_figures_on_every_floor_page_even_after_scrolling(tablet: New) -> None:
    ben = tablet()
    ben.pair("ben")
    for page in ("stand", "shelf", "object", "quiet", "look", "where", "words", "unlisted", "incident"):
        ben.go(PAGES[page])
        ben.page.evaluate("scrollTo(0, document.body.scrollHeight)")
        giant = ben.page.locator(".top .giant")
        assert giant.inner_text().replace("\n", " ").strip() == "Stand 7"
        box = giant.bounding_box()
        assert box is not None
        assert box["y"] >= 0
        assert float(giant.evaluate("one => parseFloat(getComputedStyle(one).fontSize)")) >= 48
    ben.clean()


_ON = """() => {
  const on = document.activeElement;
  if (!on || on === document.body) return "";
  const labelled = on.labels && on.labels[0] ? on.labels[0].innerText : "";
  return (on.getAttribute("aria-label") || labelled || on.innerText || "").trim().replace(/\\s+/g, " ");
}"""


def reach(page: Any, name: str) -> None:
    """Tab until the thing whose name begins so has the focus."""
    for _ in range(120):
        page.keyboard.press("Tab")
        if page.evaluate(_ON).startswith(name):
            return
    raise AssertionError(f"Tab never reaches {name!r}")


def test_a_view_is_locked_and_an_object_passed_with_the_keyboard_alone(tablet: New) -> None:
    ben = tablet()
    ben.pair("ben")
    ben.go("#/object/8-001")
    reach(ben.page, "Pass")
    ben.page.keyboard.press("Enter")
    ben.sees("No. 1 passes")
    ben.page.wait_for_function("() => location.hash === '#/object/8-002'")
    reach(ben.page, "Another view")
    ben.page.keyboard.press("Enter")
    ben.sees("Your view of No. 2")
    reach(ben.page, "Accept")
    ben.page.keyboard.press("ArrowDown")
    reach(ben.page, "What you saw")
    ben.page.keyboard.type("The base is later.")
    reach(ben.page, "Lock")
    ben.page.keyboard.press("Enter")
    ben.sees("Locked")
    ben.go("#/work")
    reach(ben.page, "Lock this tablet")
    ben.page.keyboard.press("Enter")
    ben.page.wait_for_selector("input.pin")
    reach(ben.page, "PIN")
    ben.page.keyboard.type(PIN)
    reach(ben.page, "Unlock")
    ben.page.keyboard.press("Enter")
    ben.sees("My work")
    ben.clean()


def test_a_locked_view_leaves_a_blank_and_nobodys_view_stands_on_the_object_before(
    tablet: New,
) -> None:
    ben, cleo = tablet(), tablet()
    ben.pair("ben")
    cleo.pair("cleo")
    ben.views("9-001", "Remove", "MARKVIEW cast from another")
    ben.sent(1)
    assert "Remove" not in ben.text()
    assert "MARKVIEW" not in ben.text()
    cleo.knows(ben.rows("events")[0]["n"])
    cleo.go("#/object/9-001")
    stored = str([cleo.rows(store) for store in ("objects", "events", "kept")])
    assert "MARKVIEW" not in stored
    assert "MARKVIEW" not in cleo.text()
