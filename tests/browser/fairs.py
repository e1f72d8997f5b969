"""Someone at a keyboard: finds a thing by its name with Tab, as a person without a mouse does."""

import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import planish.doors

FRONT = Path(planish.doors.__file__).parent / "floor" / "static"
API = "/api/v1"
PASS = "four plain words here"
LIST = (
    "No,Description,Price\n"
    '1,"Pewter plate with a reeded rim, English, c.1740. Diameter 24 cm",120\n'
    '2,"Bronze mortar, English, dated 1650. Height 12 cm",700\n'
    '3,"Brass candlestick, English, George I, 1911. Height 20 cm",90\n'
)
_NAME = """() => {
  const on = document.activeElement;
  if (!on || on === document.body) return "";
  const labelled = on.labels && on.labels[0] ? on.labels[0].innerText : "";
  return (on.getAttribute("aria-label") || labelled || on.innerText || "").trim().replace(/\\s+/g, " ");
}"""


@dataclass
class Fair:
    """One served fair."""

    home: str
    folder: Path
    code: str
    port: int
    secrets: dict[str, str] = field(default_factory=dict)


class Keys:
    """One page, worked with the keyboard alone. What a page logs as an error is kept, and so is every host it asks."""

    def __init__(self, browser: Any, home: str, size: tuple[int, int] = (1366, 768)) -> None:
        self.context = browser.new_context(
            viewport={"width": size[0], "height": size[1]}, reduced_motion="reduce"
        )
        self.page = self.context.new_page()
        self.home = home
        self.errors: list[str] = []
        self.hosts: set[str] = set()
        self.page.on("pageerror", lambda error: self.errors.append(str(error)))
        self.page.on("console", self._heard)
        self.page.on("request", lambda asked: self.hosts.add(asked.url.split("/")[2]))
        self.page.goto(home)
        self.page.wait_for_selector("h1")

    def _heard(self, said: Any) -> None:
        if "Content Security Policy" in said.text or "Refused" in said.text:
            self.errors.append(said.text)

    def reach(self, name: str, most: int = 160) -> None:
        """Tab until the thing whose name begins with `name` has the focus."""
        seen = []
        for _ in range(most):
            self.page.keyboard.press("Tab")
            found = self.page.evaluate(_NAME)
            if found.startswith(name):
                return
            seen.append(found)
        raise AssertionError(f"Tab never reaches {name!r}; it passes {list(dict.fromkeys(seen))}")

    def back(self) -> None:
        """Begin again at the top of the page."""
        self.page.evaluate("document.activeElement && document.activeElement.blur(); window.scrollTo(0, 0)")
        self.page.locator("body").press("Home")

    def press(self, name: str) -> None:
        """Reach a button or link and press it."""
        self.reach(name)
        self.page.keyboard.press("Enter")

    def tick(self, name: str) -> None:
        """Reach a box and tick it."""
        self.reach(name)
        self.page.keyboard.press("Space")

    def write(self, name: str, words: str) -> None:
        """Reach a field, take out what stands there, and write."""
        self.reach(name)
        self.page.keyboard.press("Control+A")
        self.page.keyboard.type(words)

    def sees(self, words: str) -> None:
        """Wait until the words stand on the page."""
        try:
            self.page.wait_for_function(
                "words => document.body.innerText.includes(words)", arg=words, timeout=15_000
            )
        except Exception as late:
            raise AssertionError(f"{words!r} never stands on the page:\n{self.text()}") from late

    def text(self) -> str:
        """What stands on the page now."""
        return str(self.page.inner_text("main"))

    def go(self, page: str, heading: str) -> None:
        """Go to a page by its entry in the list of pages."""
        self.back()
        self.press(page)
        self.page.wait_for_function(
            "words => document.querySelector('h1')?.innerText.startsWith(words)", arg=heading, timeout=15_000
        )

    def sign_in(self, person: str, passphrase: str) -> None:
        """Sign in as a person."""
        self.write("Short name", person)
        self.write("Passphrase", passphrase)
        self.page.keyboard.press("Enter")
        self.sees("Sign out")

    def answer(self, path: str) -> Any:
        """Ask the desk something with this page's session."""
        return self.context.request.get(f"{self.home}{API}{path}")

    def clean(self) -> None:
        """Nothing broke, nothing was refused, no other host was asked."""
        assert self.errors == []
        assert self.hosts == {self.home.split("/")[2]}
        self.context.close()


FAULTY = (
    "No,Description,Price\n"
    '11,"Electroplate teapot, English, silver, c.1880. Height 15 cm",80\n'
    '12,"Brass candlestick, George I, 1911. Height 20 cm",90\n'
    '13,"Pewter plate, English, c.1780. Diameter 24 cm",120\n'
    '14,"Copper kettle, English, c.1700-1850. Height 28 cm",60\n'
    '15,"Bronze mortar, English, dated 1650. Height 12 cm",700\n'
)


def prepare(fair: Fair, browser: Any) -> None:
    """The same fair made through the API, once a module: a chair, a leader, an auditor, two stands with lists."""
    if fair.secrets:
        return
    asking = browser.new_context(extra_http_headers={"Origin": fair.home}).request

    def post(path: str, body: dict[str, Any] | None = None) -> Any:
        said = asking.post(f"{fair.home}{API}{path}", data=body or {})
        assert said.ok, said.text()
        return said.json()

    fair_ = {"code": fair.code, "rules": "saltmere", "name": "Little Marsh Fair", "passphrase": PASS}
    post("/setup", {**fair_, "chair": "ada", "chair_name": "Ada Pell"})
    people = (("ben", "Ben Arkle", ["leader", "member"]), ("eve", "Eve Dunn", ["auditor"]))
    for short, name, roles in people:
        post("/people", {"id": short, "name": name, "roles": roles, "disciplines": ["metalware", "pewter"]})
        fair.secrets[short] = post(f"/people/{short}/passphrase")["secret"]
    for stand, exhibitor, content in (
        ("7", "Rushlight and Daughter", LIST),
        ("8", "Tolliver Copper", FAULTY),
    ):
        post("/stands", {"id": stand, "number": stand, "exhibitor": exhibitor})
        take(asking, fair, stand, content)
    fair.secrets["ada"] = PASS
    fair.secrets["card"] = post("/stands/8/card")["secret"]


def take(asking: Any, fair: Fair, stand: str, content: str) -> None:
    """Send a list and say yes to it."""
    sent = asking.post(
        f"{fair.home}{API}/stands/{stand}/lists?name=list.csv",
        data=content.encode(),
        headers={"Content-Type": "application/octet-stream"},
    )
    assert sent.ok, sent.text()
    at = f"{fair.home}{API}/intakes/{sent.json()['id']}"
    for state in ("ready", "taken"):
        for _ in range(200):
            now = asking.get(at).json()["state"]
            if now == state:
                break
            assert now in ("reading", "taking", "ready"), now
            time.sleep(0.05)
        if state == "ready":
            asking.post(f"{at}/take", data={})
