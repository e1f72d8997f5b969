"""The check page: reads what Python reads and nothing else; works offline; says plainly what it cannot know."""

import base64
import hashlib
import json
import os
import re
import shutil
import subprocess
import threading
from collections.abc import Iterator
from functools import partial
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest

import planish.doors.check as check_page
from planish.doors.check import FairOnPage, served, single_file
from planish.ledger.sealing import check_code, seal, write_code
from planish.ledger.sealing.lists import SealList, write_list
from tests.sealing import vectors

PLACE = Path(check_page.__file__).parent
SEALED = seal(vectors.WORDS, vectors.KEY)
DEFINITIONS = {
    "maker's mark of": "The mark is that of the maker.",
    "by": "Made whole by.",
    "later": "Added later.",
}


def fair(withdrawn: bytes = b"", **changed: str) -> FairOnPage:
    key = {**vectors.public(vectors.KEY), **changed}
    return FairOnPage(name="Saltmere 2026", definitions=DEFINITIONS, withdrawn=withdrawn, **key)  # type: ignore[arg-type]


def test_the_vectors_on_file_are_those_that_python_makes() -> None:
    assert json.loads(vectors.PLACE.read_text(encoding="utf-8")) == vectors.made()


def test_every_vector_opens_when_its_name_says_good_and_only_then() -> None:
    made = vectors.made()["texts"]
    assert {one["name"] for one in made if one["opens"]} == {
        o["name"] for o in made if o["name"].startswith("good")
    }


def test_the_pages_own_code_reads_every_vector_as_python_does() -> None:
    node = shutil.which("node")
    if node is None:
        (pytest.fail if os.environ.get("CI") else pytest.skip)("node is needed to run the page's code")
    script = Path(__file__).with_name("vectors.mjs")
    command = [node, "--no-warnings", str(script), str(PLACE), str(vectors.PLACE)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert "0 differ" in done.stdout


def test_the_single_file_allows_exactly_its_own_script_and_style_and_asks_nobody() -> None:
    page = single_file([fair()])
    script = re.search(r'<script type="module">(.*?)</script>', page, re.DOTALL)
    assert script is not None
    digest = base64.b64encode(hashlib.sha256(script[1].encode()).digest()).decode()
    assert f"script-src 'sha256-{digest}'" in page
    assert "connect-src 'none'" in page
    assert re.findall(r"(?:src|href)=[\"']?(?:https?:)?//", page) == []
    assert len(page) < 60_000


def test_served_it_has_no_script_in_the_page_and_its_policy_allows_none() -> None:
    page = served([fair()])[""][1].decode()
    assert re.findall(r"<script(?! type=\"application/json\")[^>]*>(.+?)</script>", page) == []
    allowed = check_page.policy().replace(
        "'wasm-unsafe-eval'", ""
    )  # starts the reader of codes; no script from text
    assert "unsafe" not in allowed


def test_words_of_a_fair_cannot_end_the_element_they_stand_in() -> None:
    evil = FairOnPage(name="</script><script>alert(1)</script>", id="0" * 16, ed25519="0" * 64)
    page = single_file([evil])
    assert page.count("<script") == 2
    assert "<script>alert" not in page


def test_no_word_of_the_page_promises_more_than_a_panel_can() -> None:
    text = single_file([fair()]).casefold()
    for word in ("authentic", "certified", "genuine", "guarante", "approved", "valid"):
        assert word not in text.replace("invalid", ""), word


browser = pytest.mark.browser


@pytest.fixture
def phone(chromium: Any) -> Iterator[Any]:
    context = chromium.new_context(viewport={"width": 360, "height": 640}, device_scale_factor=2)
    page = context.new_page()
    page.set_default_timeout(8000)
    page.faults = []
    page.on("pageerror", lambda error: page.faults.append(str(error)))
    page.on("console", lambda line: page.faults.append(line.text) if line.type == "error" else None)
    yield page
    assert page.faults == []
    context.close()


def opened(phone: Any, tmp_path: Path, withdrawn: bytes = b"") -> Any:
    path = tmp_path / "check.html"
    path.write_text(single_file([fair(withdrawn)], {check_code(SEALED): SEALED}), encoding="utf-8")
    phone.goto(path.as_uri())
    phone.wait_for_selector("body[data-ready=yes]")
    return phone


def enter(phone: Any, text: str) -> None:
    phone.fill("#text", text)
    phone.click("#typed button")


@browser
def test_a_typed_check_code_shows_the_words_and_asks_for_the_comparison(phone: Any, tmp_path: Path) -> None:
    page = opened(phone, tmp_path)
    enter(page, check_code(SEALED).lower().replace("-", " "))
    page.wait_for_selector("#result:visible")
    assert page.inner_text("#words") == vectors.WORDS.words
    assert page.inner_text("#state") == "As passed on 14 October 2026; later changes unknown."
    asked = page.inner_text("#compare")
    assert "height 24.5 cm" in asked
    assert "crowned rose" in asked
    assert bytes(range(16)).hex() in asked
    assert page.inner_text("#meanings dt") == "“later”"
    assert "did not value the object" in page.inner_text("#did")


@browser
def test_one_changed_word_is_struck_and_underlined(phone: Any, tmp_path: Path) -> None:
    page = opened(phone, tmp_path)
    enter(page, write_code(SEALED))
    page.wait_for_selector("#result:visible")
    page.fill("#hangs", vectors.WORDS.words.replace("lid", "handle"))
    page.wait_for_selector("#difference del")
    assert (page.inner_text("#difference del"), page.inner_text("#difference ins")) == ("lid", "handle")
    page.fill("#hangs", "  " + vectors.WORDS.words.replace(" ", "  "))
    page.wait_for_function("document.getElementById('verdict').textContent.startsWith('Word for word')")


@browser
def test_a_changed_code_shows_no_words_and_an_older_result_goes_away(phone: Any, tmp_path: Path) -> None:
    page = opened(phone, tmp_path)
    enter(page, write_code(SEALED))
    page.wait_for_selector("#result:visible")
    enter(page, vectors.swapped(write_code(SEALED), 40))
    page.wait_for_function("document.getElementById('problem').textContent")
    assert not page.is_visible("#result")


@browser
@pytest.mark.parametrize("state", ["superseded", "revoked"])
def test_a_seal_on_the_signed_list_is_told_offline(phone: Any, tmp_path: Path, state: str) -> None:
    short = frozenset({hashlib.sha256(SEALED).digest()[:16]})
    listed = write_list(SealList(fair="Saltmere 2026", day="2026-10-16", **{state: short}), vectors.KEY)  # type: ignore[arg-type]
    page = opened(phone, tmp_path, listed)
    enter(page, write_code(SEALED))
    page.wait_for_selector(f"#state[data-state={state}]")
    assert page.inner_text("#state").startswith(state.upper())


@browser
def test_a_browser_without_the_signature_says_cannot_check_here(phone: Any, tmp_path: Path) -> None:
    phone.add_init_script("SubtleCrypto.prototype.importKey = () => Promise.reject(new Error('no'))")
    path = tmp_path / "check.html"
    path.write_text(single_file([fair()]), encoding="utf-8")
    phone.goto(path.as_uri())
    phone.wait_for_selector("#cannot:visible")
    assert not phone.is_visible("#ways")


class Desk(BaseHTTPRequestHandler):
    """Serves the page, and answers what state a seal is in."""

    def __init__(self, files: dict[str, tuple[str, bytes]], *more: Any) -> None:
        self.files = files
        super().__init__(*more)

    def do_GET(self) -> None:
        name = self.path.removeprefix("/check/").partition("?")[0]
        kind, body = self.files.get(name, ("application/json", b'{"state": "sealed"}'))
        self.send_response(200)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Security-Policy", check_page.policy())
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *_: Any) -> None:
        """Quiet."""


@browser
def test_served_it_tells_the_present_state_and_opens_again_when_the_desk_is_gone(phone: Any) -> None:
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Desk, served([fair()])))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    address = f"http://127.0.0.1:{server.server_port}/check/"
    link = write_code(SEALED, address="https://x/").partition("#")[2]
    phone.goto(f"{address}#{link}")
    phone.wait_for_selector("#state[data-state=sealed]")
    assert "these words stand sealed" in phone.inner_text("#state")
    phone.evaluate("navigator.serviceWorker.ready.then(() => 1)")
    phone.wait_for_function("caches.keys().then((names) => names.length === 1)")
    phone.goto("about:blank")
    server.shutdown()
    server.server_close()
    phone.goto(f"{address}#{link}")
    phone.wait_for_selector("#result:visible")
    assert phone.inner_text("#words") == vectors.WORDS.words
    assert "later changes unknown" in phone.inner_text("#state")
    phone.faults = [line for line in phone.faults if "ERR_CONNECTION_REFUSED" not in line]


@browser
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_on_the_page_breaks_the_rules_of_access(phone: Any, tmp_path: Path, scheme: str) -> None:
    from axe_playwright_python.sync_playwright import Axe

    phone.emulate_media(color_scheme=scheme)
    page = opened(phone, tmp_path)
    enter(page, write_code(SEALED))
    page.wait_for_selector("#result:visible")
    page.fill("#hangs", "Pewter jug")
    page.wait_for_selector("#difference ins")
    found = Axe().run(page).response["violations"]
    assert [(one["id"], one["nodes"][0]["html"]) for one in found] == []
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= 360
    if pictures := os.environ.get("PLANISH_PICTURES"):
        page.screenshot(path=f"{pictures}/check-{scheme}.png", full_page=True)
