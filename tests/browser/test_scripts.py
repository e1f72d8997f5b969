"""Script in every text that a stranger can write: nothing runs, the policy is never tried, and the words show as words.

Payloads are the usual ways in: elements, handlers, addresses, breaking out of attributes, templates and JSON (after the
OWASP cross-site scripting sheet; from memory).
"""

from pathlib import Path
from typing import Any

import pytest

from tests.browser.fairs import API, Fair, Keys, prepare, take

pytestmark = pytest.mark.browser
RUN = "document.title='RAN';window.ran=1"
PAYLOADS = [
    f"<script>{RUN}</script>",
    f'"><img src=x onerror="{RUN}">',
    f"'><svg onload={RUN}>",
    f"</script><script>{RUN}</script>",
    f'<iframe srcdoc="<script>parent.{RUN}</script>"></iframe>',
    f"javascript:{RUN}",
    "{{constructor.constructor('window.ran=1')()}}",
    "${window.ran=1}",
    f"</style><style>*{{background:url(javascript:{RUN})}}",
    f"<a href='javascript:{RUN}' autofocus onfocus='{RUN}'>x</a>",
    f"\u2028{RUN}\u2029",
    f"<math><mtext></mtext><mglyph><style><img src onerror={RUN}>",
]
PAGES = ("board", "objects", "object/9-001", "words/9-001", "questions", "open", "stands", "people", "wording", "search?q=script", "seals", "again", "like", "appeal/9-001")  # fmt: skip


def sown(fair: Fair, browser: Any) -> None:
    """A stand, its list, looks, questions, holds and a person, all of them payloads."""
    asking = browser.new_context(extra_http_headers={"Origin": fair.home}).request

    def post(path: str, body: dict[str, Any], good: int = 201) -> None:
        said = asking.post(f"{fair.home}{API}{path}", data=body)
        assert said.status == good, (path, said.status, said.text())

    post("/session", {"person": "ada", "passphrase": fair.secrets["ada"]})
    post("/stands", {"id": "9", "number": PAYLOADS[1], "zone": PAYLOADS[2], "exhibitor": PAYLOADS[0]})
    post("/people", {"id": "mal", "name": PAYLOADS[3], "roles": ["member"]})
    rows = "".join(
        f'{n},"Pewter plate, c.1740 {p.replace(chr(34), chr(34) * 2)}",{n}\n'
        for n, p in enumerate(PAYLOADS, 1)
    )
    take(asking, fair, "9", "No,Description,Price\n" + rows)
    for words in PAYLOADS:
        post("/objects/9-001/observations", {"kind": "wear", "words": words, "part": words[:300]})
        post("/objects/9-001/questions", {"to": "office", "words": words})
    post("/objects/9-001/holds", {"sort": "other", "reason": PAYLOADS[1]})
    post("/objects/9-001/papers", {"sort": "bill", "words": PAYLOADS[2]})


def test_nothing_that_a_stranger_writes_is_carried_out(chromium: Any, fair: Fair, pictures: Path) -> None:
    prepare(fair, chromium)
    sown(fair, chromium)
    chair = Keys(chromium, fair.home)
    dialogs: list[str] = []
    chair.page.on("dialog", lambda one: (dialogs.append(one.message), one.dismiss()))
    chair.sign_in("ada", fair.secrets["ada"])
    for page in PAGES:
        chair.page.goto(f"{fair.home}/#/{page}")
        chair.page.wait_for_selector("#main :is(h1, .note)")
        chair.page.wait_for_function("() => !document.body.innerText.includes('Fetching …')")
        assert chair.page.evaluate("window.ran") is None, page
        assert "RAN" not in chair.page.title(), page
    chair.page.goto(f"{fair.home}/#/object/9-001")
    chair.sees("<svg onload=")
    chair.page.screenshot(path=pictures / "payloads.png", full_page=True)
    for paper in ("sheets", "labels", "open-cases"):
        printed = chair.answer(f"/papers/{paper}.pdf?stand=9")
        assert printed.ok
        assert b"/JavaScript" not in printed.body()
        assert b"/JS" not in printed.body()
    drawn = chair.answer("/objects/9-001/ribbon.svg")
    assert drawn.status == 404 or "<script" not in drawn.text()
    assert dialogs == []
    chair.clean()
