"""When the tablet or the desk breaks: a dead handle, an emptied store, a revoked tablet, a restored desk, another desk."""

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.floor.hall import Hall
from tests.floor.tablet import Tablet

pytestmark = pytest.mark.browser
New = Callable[..., Tablet]

_DEAD = """count => {
  const whole = IDBDatabase.prototype.transaction;
  window.handlesLost = 0;
  IDBDatabase.prototype.transaction = function (...given) {
    if (count-- > 0) {
      window.handlesLost += 1;
      throw new DOMException("The database connection is closing.", "InvalidStateError");
    }
    return whole.apply(this, given);
  };
}"""


def looks(tablet: Tablet, object_id: str, words: str) -> None:
    """Note what was seen."""
    tablet.go(f"#/look/{object_id}")
    tablet.page.get_by_label("What you saw", exact=True).fill(words)
    tablet.press("Note it")


def test_a_dead_handle_is_opened_anew_and_the_look_is_stored(tablet: New) -> None:
    ben = tablet()
    ben.pair("ben")
    ben.page.evaluate(_DEAD, 2)
    looks(ben, "7-001", "Reeds scraped by hand.")
    ben.sees("1 look noted, on this tablet.")
    assert ben.page.evaluate("window.handlesLost") == 2
    ben.sent(1)
    ben.clean()


def test_a_store_that_stays_dead_is_said_loudly_and_nothing_pretends_to_be_stored(tablet: New) -> None:
    ben = tablet()
    ben.pair("ben")
    ben.page.evaluate(_DEAD, 10_000)
    looks(ben, "8-001", "Reeds scraped by hand.")
    ben.sees("This tablet cannot store now")
    assert "noted, on this tablet" not in ben.text()
    ben.page.reload()
    ben.unlock()
    ben.go("#/look/8-001")
    assert ben.rows("events") == []


def test_a_store_that_is_full_is_said_loudly_and_what_did_not_fit_is_not_called_noted(tablet: New) -> None:
    ben = tablet()
    ben.pair("ben")
    origin = ben.page.evaluate("location.origin")
    browser = ben.context.new_cdp_session(ben.page)
    browser.send("Storage.overrideQuotaForOrigin", {"origin": origin, "quotaSize": 1})
    looks(ben, "12-003", "Seam along the stem. " * 200)
    ben.sees("This tablet cannot store now")
    assert "noted, on this tablet" not in ben.text()
    browser.send("Storage.overrideQuotaForOrigin", {"origin": origin})
    ben.press("Try again")
    ben.sees("No. 3")
    looks(ben, "12-003", "Seam along the stem.")
    ben.sees("1 look noted, on this tablet.")
    ben.sent(1)


def test_an_emptied_tablet_says_so_before_any_input_and_comes_back_as_itself(hall: Hall, tablet: New) -> None:
    ben = tablet()
    dev = ben.pair("ben")
    ben.views("9-003", "Relabel", "The tube is drawn and has no seam.")
    ben.sent(1)
    empty = """() => new Promise((done, fail) => {
      const asked = indexedDB.deleteDatabase('planish-floor');
      asked.onsuccess = () => done(true); asked.onerror = fail; asked.onblocked = fail;
    })"""
    ben.page.evaluate(empty)
    ben.page.reload()
    ben.sees("This browser emptied the tablet")
    ben.press("Pair again")
    assert ben.pair("ben") == dev
    ben.go("#/object/9-003")
    ben.sees("seen by you")
    ben.views("9-004", "Refer", "Wear through the plate at one edge.")
    ben.sent(2)
    assert [entry["seq"] for entry in hall.entries(dev)] == [1, 2]
    ben.clean()


def test_a_revoked_tablet_hands_in_its_seven_reads_nothing_and_forgets_the_fair(
    hall: Hall, tablet: New
) -> None:
    ben = tablet()
    dev = ben.pair("ben")
    hall.line.cut()
    for n in range(1, 7):
        ben.views(f"10-00{n}", "Refer", f"Doubt {n} about the foot.")
    looks(ben, "10-006", "One more look.")
    ben.sees("1 look noted")
    hall.post(f"/devices/{dev}/revoke", {"how": "lost"})
    hall.line.mend()
    ben.sees("Everything it held was handed in, and was then removed from it.", seconds=90)
    assert [one["status"] for one in hall.entries(dev)] == ["held"] * 7
    for store in ("events", "objects", "ribbons", "typed", "pictures", "pending"):
        assert ben.rows(store) == []
    ben.page.reload()
    ben.page.wait_for_selector("h1")
    assert "Stand" not in ben.text()


def test_a_desk_restored_to_yesterday_gets_back_everything_from_its_tablets(
    own_hall: Hall, tablet: New, tmp_path: Path
) -> None:
    hall = own_hall
    ben, cleo = tablet(hall), tablet(hall)
    devices = {ben.pair("ben"), cleo.pair("cleo")}
    ben.views("7-001", "Relabel", "Turned foot, later.")
    ben.sent(1)
    yesterday = tmp_path / "yesterday"
    hall.kill()
    hall.copy_to(yesterday)
    hall.start()
    for who, stand in ((ben, "7"), (cleo, "8")):
        who.views(f"{stand}-003", "Remove", "Cast from a mould of another.")
        who.views(f"{stand}-004", "Relabel", "The plate is worn off.")
    ben.sent(3, seconds=60)
    cleo.sent(2, seconds=60)
    for who in (ben, cleo):
        who.knows(max(own["n"] for own in who.rows("events")))
    made = {own["id"] for one in (ben, cleo) for own in one.rows("events")}
    hall.kill()
    shutil.rmtree(hall.folder)
    shutil.copytree(yesterday, hall.folder)
    hall.start()
    for who, stand in ((ben, "7"), (cleo, "8")):
        who.views(f"{stand}-005", "Refer", "Patched within.")
        made |= {own["id"] for own in who.rows("events")}

    def log() -> list[dict[str, Any]]:
        return [one for one in hall.entries() if one["dev"] in devices]

    ben.until(lambda: {one["id"] for one in log()} >= made, "not everything comes back", seconds=90)
    assert {one["id"] for one in log()} == made
    assert len(log()) == len(made) == 7
    ben.sees("All at the desk", seconds=60)
    ben.until(
        lambda: "desk.restored" in {one["kind"].partition("/")[0] for one in hall.entries()},
        "the desk never says that it was restored",
    )
    ben.clean()


def test_a_desk_with_another_key_gets_nothing(hall: Hall, tablet: New) -> None:
    ben = tablet()
    ben.pair("ben")
    hall.line.cut()
    ben.views("11-001", "Refer", "Not for strangers.")
    asked = []

    def rogue(head: bytes) -> bytes | None:
        asked.append(head.split(b" ")[1])
        if b"/api/v1/hello" not in head:
            return None
        said = json.dumps({"sig": "A" * 86 + "==", "desk_key": "b3RoZXI="}).encode()
        return (
            b"HTTP/1.1 201 Created\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n"
            % len(said)
            + said
        )

    hall.line.instead = rogue
    hall.line.mend()
    try:
        ben.sees("Another desk answers under this name", seconds=60)
        assert not any(path.startswith(b"/api/v1/push") for path in asked)
        assert [one["status"] for one in ben.rows("events")] == ["waiting"]
    finally:
        hall.line.instead = None
        hall.line.cut()
        hall.line.mend()
    ben.press("Try once more")
    ben.sent(1, seconds=60)
    ben.clean()


def test_a_browser_that_lost_its_cookies_pairs_again_as_itself_and_hands_in_its_queue(
    hall: Hall, tablet: New
) -> None:
    ben = tablet()
    dev = ben.pair("ben")
    hall.line.cut()
    ben.views("11-002", "Refer", "Foot turned later.")
    ben.context.clear_cookies()
    hall.line.mend()
    ben.sees("The desk does not know this browser now", seconds=60)
    ben.press("Pair again")
    code = hall.post("/devices/codes")["code"]
    ben.page.get_by_label("Code").fill(code)
    ben.press("Pair")
    ben.page.wait_for_selector(".four-words li")
    waiting = hall.get("/devices")["waiting"][0]
    assert waiting["again"] == dev
    hall.post(f"/devices/waiting/{waiting['pairing']}/yes", {"person": "ben"})
    ben.sent(1, seconds=60)
    assert [entry["seq"] for entry in hall.entries(dev)] == [1]
    ben.clean()


def test_work_can_be_carried_off_as_a_file(tablet: New) -> None:
    ben = tablet()
    ben.pair("ben")
    looks(ben, "12-001", "Scraped.")
    ben.sees("1 look noted")
    ben.go("#/work")
    with ben.page.expect_download() as found:
        ben.press("Save my work as a file")
    assert '"observation.made/1"' in Path(found.value.path()).read_text(encoding="utf-8")
    ben.clean()
