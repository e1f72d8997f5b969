"""What the list of pages offers is open to whoever reads it, the page somebody comes to first included."""

import json
from typing import Any

import pytest

from tests.browser.fairs import API, Fair, Keys, prepare

pytestmark = pytest.mark.browser
REFUSED = "not for your role"
_POST = """async ([path, body]) => {
  const said = await fetch(path, { method: "POST", headers: { "Content-Type": "application/json" }, body });
  return said.json();
}"""


def _ask(keys: Keys, path: str, **body: object) -> dict[str, Any]:
    return dict(keys.page.evaluate(_POST, [f"{API}{path}", json.dumps(body)]))


@pytest.mark.parametrize(
    "role", ["member", "scribe", "steward", "laboratory", "appeals", "auditor", "office"]
)
def test_every_page_in_the_list_opens(chromium: Any, fair: Fair, role: str) -> None:
    prepare(fair, chromium)
    chair = Keys(chromium, fair.home)
    chair.sign_in("ada", fair.secrets["ada"])
    who = f"new-{role}"
    _ask(chair, "/people", id=who, name=f"Somebody for {role}", roles=[role], disciplines=[])
    secret = _ask(chair, f"/people/{who}/passphrase")["secret"]
    keys = Keys(chromium, fair.home)
    keys.sign_in(who, secret)
    keys.page.wait_for_selector("nav a")
    ways = keys.page.evaluate("[...document.querySelectorAll('nav a')].map((a) => a.getAttribute('href'))")
    assert len(ways) >= 4
    refused = []
    for way in ["#/", *ways]:
        keys.page.goto(f"{keys.home}/{way}")
        keys.page.wait_for_selector("h1")
        keys.page.wait_for_function("() => !document.body.innerText.includes('Fetching …')")
        if REFUSED in keys.page.inner_text("main"):
            refused.append(way)
    assert refused == []
    keys.clean()
