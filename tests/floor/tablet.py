"""A tablet in somebody's hand: its own browser profile, worked by what stands on its screen."""

from collections.abc import Callable
from datetime import datetime
from typing import Any

from tests.floor.hall import Hall
from tests.floor.pieces import in_page

PIN = "27182818"
_STORE = """async ([name, how]) => {
  const db = await new Promise((done, fail) => {
    const asked = indexedDB.open('planish-floor', 1);
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => fail(asked.error);
  });
  const going = db.transaction([name], 'readonly');
  const asked = how === null ? going.objectStore(name).getAll() : going.objectStore(name).get(how);
  const found = await new Promise(done => { asked.onsuccess = () => done(asked.result); });
  db.close();
  return JSON.parse(JSON.stringify(found ?? null));
}"""
_LEAVE = """at => {
  if ((location.hash || '#/') !== at) document.querySelector('main')?.setAttribute('data-left', '');
  location.hash = at;
}"""
"""Marks what stands on the screen, so that a test never presses a button of the page it came from."""
_ARRIVED = """at => location.hash === at
  && (!document.querySelector('main[data-left]') || document.querySelector('input.pin'))"""


class Tablet:
    """One page of one profile. Errors of the page are kept and must be none."""

    def __init__(self, context: Any, hall: Hall, page: Any = None) -> None:
        self.context, self.hall = context, hall
        self.page = page or context.new_page()
        self.errors: list[str] = []
        self.clocked = False
        self.page.on("pageerror", lambda error: self.errors.append(str(error)))
        self.page.on("console", self._heard)

    def _heard(self, said: Any) -> None:
        if "Content Security Policy" in said.text or "Refused to" in said.text:
            self.errors.append(said.text)

    # -- the hand ----------------------------------------------------------------------------------------------------

    def open(self, at: str = "") -> None:
        """Open the app as its icon does."""
        self.page.goto(f"{self.hall.home}/floor/{at}")
        self.page.wait_for_selector("h1")

    def go(self, at: str) -> None:
        """Follow a link inside the app."""
        self.page.evaluate(_LEAVE, at)
        self.page.wait_for_function(_ARRIVED, arg=at)

    def press(self, name: str) -> None:
        """Press what bears this name, a button or a link."""
        button = self.page.get_by_role("button", name=name, exact=True)
        link = self.page.get_by_role("link", name=name, exact=True)
        button.or_(link).first.click()

    def sees(self, words: str, seconds: float = 60) -> None:
        """Wait until the words stand on the screen."""
        try:
            self.page.wait_for_function(
                "words => document.body.innerText.includes(words)", arg=words, timeout=seconds * 1000
            )
        except Exception as late:
            raise AssertionError(f"{words!r} never stands on the screen:\n{self.text()}") from late

    def text(self) -> str:
        """What stands on the screen now."""
        return str(self.page.inner_text("body"))

    def pair(self, person: str, at_once: bool = True) -> str:
        """Pair: the steward reads the words off the desk's list, compares, and says yes. Gives the device's id."""
        code = self.hall.post("/devices/codes")["code"]
        self.open(f"#/pair/{code}")
        self.press("Pair")
        self.page.wait_for_selector(".four-words li")
        shown = self.page.locator(".four-words li").all_inner_texts()
        waiting = [one for one in self.hall.get("/devices")["waiting"] if list(one["words"]) == shown]
        assert waiting, f"the desk shows other words than {shown}"
        self.hall.post(f"/devices/waiting/{waiting[0]['pairing']}/yes", {"person": person})
        self.sees("Choose your PIN")
        self.page.get_by_label("PIN, eight figures").fill(PIN)
        self.page.get_by_label("The PIN again").fill(PIN)
        self.press("Set the PIN")
        self.sees("My round")
        if at_once:
            self.page.wait_for_selector(".stand-card")
        return str(self.kept()["dev"])

    def unlock(self) -> None:
        """Type the PIN."""
        self.page.get_by_label("PIN, eight figures").fill(PIN)
        self.press("Unlock")
        self.sees("My round")

    def passes(self, object_id: str) -> None:
        """Open an object and pass it, in one tap."""
        self.go(f"#/object/{object_id}")
        self.press("Pass")
        self.page.wait_for_selector(".undo")

    def views(self, object_id: str, outcome: str, reason: str) -> None:
        """Lock another view."""
        self.go(f"#/ballot/{object_id}")
        self.page.get_by_label(outcome, exact=True).check()
        self.page.get_by_label("What you saw that decides it").fill(reason)
        self.press("Lock")
        self.sees("Locked")

    def asks_words(self, object_id: str, words: str, reason: str) -> None:
        """Ask for other words."""
        self.go(f"#/words/{object_id}")
        self.page.get_by_label("Words to ask for").fill(words)
        self.page.get_by_label("Why, about the object").fill(reason)
        self.press("Ask for these words")
        self.page.wait_for_function("() => location.hash.startsWith('#/object/')")

    def writes(self, drafts: list[dict[str, Any]]) -> None:
        """Write events one by one through the app's own outbox, in the page, as its forms do."""
        self.page.evaluate(in_page())
        self.page.evaluate("drafts => window.outbox(drafts)", drafts)

    # -- what lies in it ---------------------------------------------------------------------------------------------

    def rows(self, store: str) -> list[dict[str, Any]]:
        """Everything in one store of the tablet."""
        found = self.page.evaluate(_STORE, [store, None])
        return list(found)

    def kept(self, name: str = "tablet") -> Any:
        """One remembered thing."""
        return self.page.evaluate(_STORE, ["kept", name])

    def sent(self, count: int, seconds: float = 90) -> list[dict[str, Any]]:
        """Wait until `count` own events have their number from the desk; gives them.

        The browser says that there is a network, as it does when one comes back: no test waits out the app's patience.
        """
        self.page.evaluate("() => dispatchEvent(new Event('online'))")
        own: list[dict[str, Any]] = []
        for _ in range(int(seconds * 5)):
            own = self.rows("events")
            if sum(1 for one in own if one["n"]) >= count:
                return own
            self.page.wait_for_timeout(200)
        raise AssertionError(
            f"only {[(o['seq'], o['status'], o['n']) for o in own]} of {count}\n{self.text()}"
        )

    def knows(self, n: int, seconds: float = 90) -> None:
        """Wait until what the tablet knows of the desk reaches number `n`."""
        for _ in range(int(seconds * 5)):
            if self.kept()["n"] >= n:
                return
            self.page.wait_for_timeout(200)
        raise AssertionError(f"the tablet never knows of no. {n}")

    def release(self) -> None:
        """Let the ten seconds for taking back go by. What was pressed before must stand on the screen already."""
        self.later(11)
        self.until(lambda: not self.rows("pending"), "what was passed never became an event")

    def later(self, seconds: float) -> None:
        """Let time go by on this tablet: its pages' clock is put forward, and what is due then happens."""
        if not self.clocked:
            self.clock_at(None)
        self.page.clock.fast_forward(int(seconds * 1000))

    def clock_at(self, when: datetime | None) -> None:
        """From here on the pages of this tablet go by a clock that can be put forward; `when` sets it."""
        self.page.clock.install(**({} if when is None else {"time": when}))
        self.clocked = True

    def until(self, holds: Callable[[], Any], otherwise: str, seconds: float = 60) -> None:
        """Wait until something holds."""
        for _ in range(int(seconds * 10)):
            if holds():
                return
            self.page.wait_for_timeout(100)
        raise AssertionError(f"{otherwise}\n{self.text()}")

    def clean(self) -> None:
        """Nothing broke on the page."""
        assert self.errors == []
