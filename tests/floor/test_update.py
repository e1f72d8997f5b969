"""A newer build: it waits while a form is open, comes when the person says so, and a build can be switched off."""

import re
from collections.abc import Callable

import pytest

from tests.browser.fairs import FRONT
from tests.floor.hall import Hall
from tests.floor.tablet import Tablet
from tests.floor.test_offline import ready

pytestmark = pytest.mark.browser
New = Callable[..., Tablet]
_WORKERS = "async () => [(await navigator.serviceWorker.getRegistrations()).length, await caches.keys()]"
NEWER = "0" * 16
WORKER = FRONT / "floor-worker.js"


def instead(text: str) -> Callable[[bytes], bytes | None]:
    """Answers for the worker's address with another text."""
    body = text.encode()

    def answer(head: bytes) -> bytes | None:
        if not head.startswith(b"GET /floor-worker.js"):
            return None
        told = b"HTTP/1.1 200 OK\r\nContent-Type: text/javascript\r\nCache-Control: no-cache\r\nConnection: close\r\n"
        return told + b"Content-Length: %d\r\n\r\n" % len(body) + body

    return answer


@pytest.fixture(autouse=True)
def _as_built(hall: Hall) -> object:
    yield
    hall.line.instead = None
    hall.line.cut()
    hall.line.mend()


def offer(tablet: Tablet, hall: Hall, text: str) -> None:
    """The desk has another worker from now on; the tablet looks."""
    hall.line.instead = instead(text)
    hall.line.cut()
    hall.line.mend()
    tablet.page.evaluate("() => navigator.serviceWorker.getRegistration('/floor/').then(r => r.update())")


def test_an_update_waits_while_a_form_is_open_and_comes_when_pressed_with_the_queue_handed_in(
    hall: Hall, tablet: New
) -> None:
    ben = tablet()
    ben.pair("ben")
    ready(ben)
    ben.page.reload()
    ben.unlock()
    ben.go("#/look/7-001")
    ben.page.get_by_label("What you saw", exact=True).fill("A seam along the stem")
    ben.page.evaluate("window.samePage = true")
    newer, count = re.subn(r'"[0-9a-f]{16}"', f'"{NEWER}"', WORKER.read_text(encoding="utf-8"))
    assert count == 1
    offer(ben, hall, newer)
    ben.sees("A newer planish is ready.", seconds=30)
    ben.page.wait_for_timeout(1000)
    assert ben.page.evaluate("window.samePage") is True
    assert ben.page.get_by_label("What you saw", exact=True).input_value() == "A seam along the stem"
    ben.press("Note it")
    ben.go("#/work")
    ben.press("Update planish")
    ben.page.wait_for_selector("input.pin", timeout=150_000)
    assert not ben.page.evaluate("window.samePage")
    assert [one["status"] for one in ben.rows("events")] == ["ok"]
    ben.until(
        lambda: ben.page.evaluate("() => caches.keys()") == [f"planish-floor-{NEWER}"], "the old build stays"
    )
    ben.clean()


def test_the_kill_switch_takes_the_worker_away_and_leaves_the_work(hall: Hall, tablet: New) -> None:
    ben = tablet()
    ben.pair("ben")
    ready(ben)
    hall.line.cut()
    ben.views("8-001", "Refer", "The rim is a later one.")
    hall.line.mend()
    offer(ben, hall, (FRONT / "floor-worker-off.js").read_text(encoding="utf-8"))
    ben.until(lambda: ben.page.evaluate(_WORKERS) == [0, []], "the worker stays")
    assert len(ben.rows("events")) == 1
    ben.sent(1, seconds=60)


def test_a_worker_that_does_not_load_leaves_the_old_build_in_place(hall: Hall, tablet: New) -> None:
    ben = tablet()
    ben.pair("ben")
    ready(ben)
    hall.line.instead = instead("this is ( no worker")
    hall.line.cut()
    hall.line.mend()
    ben.page.evaluate(
        "() => navigator.serviceWorker.getRegistration('/floor/').then(r => r.update()).catch(() => 0)"
    )
    ben.page.reload()
    ben.unlock()
    ben.clean()
