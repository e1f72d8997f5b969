"""What the desk says reaches the tablet and back: deleted texts, the third tick, an older backup, protocols, a work file."""

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from planish.errands.seals import keys
from tests.floor.hall import Hall
from tests.floor.tablet import Tablet
from tests.floor.test_desk import desk as _desk
from tests.floor.test_trouble import looks
from tests.keeping.fairs import with_keys
from tests.keeping.test_restoring import SECRETS

pytestmark = pytest.mark.browser
New = Callable[..., Tablet]
desk = _desk
MARK = "MARKWORDS of a name"
STORES = ("events", "objects", "ribbons", "typed", "pending", "kept", "pictures")


def picture(name: str) -> Path:
    """Where a screen is kept to be looked at."""
    folder = Path(__file__).parents[2] / "out" / "floor"
    folder.mkdir(parents=True, exist_ok=True)
    return folder / f"{name}.png"


def held_by(tablet: Tablet) -> str:
    """Everything that lies in the tablet's store."""
    return json.dumps([tablet.rows(store) for store in STORES])


def test_a_text_deleted_at_the_desk_goes_from_the_tablets_that_hold_it(own_hall: Hall, tablet: New) -> None:
    hall = own_hall
    ben, cleo = tablet(hall), tablet(hall)
    ben.pair("ben")
    cleo.pair("cleo")
    looks(ben, "7-001", MARK)
    own = ben.sent(1)
    cleo.until(lambda: MARK in held_by(cleo), "the look never came to the other tablet")
    hall.kill()
    who = ("--by", "ada", "--second", "cleo", "--ground", "request")
    hall.keeper("redact", "--fair", str(hall.folder), "--words", MARK, *who)
    hall.start()
    for one in (ben, cleo):
        one.until(
            lambda one=one: MARK not in held_by(one), "the deleted text stays on the tablet", seconds=90
        )
        one.page.reload()
        one.unlock()
        one.go("#/object/7-001")
        assert MARK not in one.text()
    assert [(one["raw"], one["status"]) for one in ben.rows("events")] == [(own[0]["raw"], "ok")]
    looks(ben, "7-002", "Still at work.")
    ben.sent(2)
    ben.clean()


@pytest.fixture
def kept_hall(own_hall: Hall) -> Hall:
    """A desk with keys, so that backups can be made."""
    own_hall.kill()
    with_keys(own_hall.folder)
    own_hall.start()
    return own_hall


def test_the_third_tick_comes_with_a_verified_backup_only_and_goes_back_with_an_older_one(
    kept_hall: Hall, tablet: New, tmp_path: Path
) -> None:
    hall, stick = kept_hall, tmp_path / "stick"
    stick.mkdir()
    fair = ("--fair", str(hall.folder))
    ben = tablet(hall)
    dev = ben.pair("ben")
    looks(ben, "7-001", "Scraped by hand.")
    first = ben.sent(1)[0]["n"]
    ben.go("#/work")
    ben.sees(f"at the desk, no. {first}.")
    ben.sees("nothing is known to be in the backup yet")
    hall.keeper("backup", str(stick), *fair)  # on the same disk: no backup
    looks(ben, "7-002", "Worn at the rim.")
    ben.knows(ben.sent(2)[1]["n"])
    ben.go("#/work")
    ben.sees("nothing is known to be in the backup yet")
    hall.keeper("backup", str(stick), *fair, "--counts")
    ben.sees(f"at the desk, no. {first}, and in the backup.", seconds=60)
    shutil.copytree(stick, tmp_path / "older stick")
    looks(ben, "7-003", "The tube has no seam.")
    third = ben.sent(3)[2]
    hall.keeper("backup", str(stick), *fair, "--counts")
    ben.go("#/work")
    ben.sees(f"at the desk, no. {third['n']}, and in the backup.", seconds=60)
    ben.press("Lock this tablet")
    ben.page.wait_for_selector("input.pin")
    _restore_older(hall, tmp_path / "older stick")
    ben.later(20)
    ben.until(lambda: len(hall.entries(dev)) == 3, "what the backup lacked never came", seconds=90)
    assert [one["seq"] for one in hall.entries(dev)] == [1, 2, 3]  # with nobody unlocked
    ben.unlock()
    ben.go("#/work")
    ben.sees("1 entry that it lost is handed in again")
    ben.page.screenshot(path=picture("set-back"), full_page=True)
    again = ben.sent(3)[2]
    ben.sees(f"at the desk, no. {again['n']}.")
    assert again["raw"] == third["raw"]
    assert f"no. {again['n']}, and in the backup" not in ben.text()
    ben.clean()


def _restore_older(hall: Hall, stick: Path) -> None:
    """The laptop is lost, and only an older stick is there."""
    hall.kill()
    shutil.rmtree(hall.folder)
    sheet = " ".join(keys.in_words(SECRETS[0]))
    hall.keeper("restore", str(stick), "--into", str(hall.folder), PLANISH_SHEET=sheet)
    hall.start()


def desk_speaking(*protocols: int) -> Callable[[Any], None]:
    """Answers pushes and pulls of other protocols as a desk does that speaks only these."""
    problem = {
        "code": "proto",
        "where": "this tablet",
        "what": "They do not understand each other.",
        "remedy": "Bring it.",
    }

    def answer(route: Any) -> None:
        asked = route.request
        given = (
            asked.post_data_json["proto"] if asked.method == "POST" else int(asked.url.split("proto=")[1][0])
        )
        if given in protocols:
            route.continue_()
        else:
            route.fulfill(status=409, json={"problem": problem, "speaks": list(protocols)})

    return answer


def test_a_tablet_goes_on_in_the_protocol_before_with_a_desk_that_knows_no_newer(tablet: New) -> None:
    ben = tablet()
    ben.pair("ben")
    asked: list[int] = []
    ben.context.route("**/api/v1/push", desk_speaking(1))
    ben.context.route("**/api/v1/pull?*", desk_speaking(1))
    ben.page.on(
        "request", lambda one: asked.append(one.post_data_json["proto"]) if "/push" in one.url else None
    )
    looks(ben, "8-001", "Cast in one.")
    ben.sent(1)
    assert asked[:2] == [2, 1]
    ben.knows(ben.rows("events")[0]["n"])
    ben.clean()


def test_work_of_a_tablet_the_desk_does_not_understand_is_carried_there_as_a_file(
    desk: Any, hall: Hall, tablet: New
) -> None:
    ben = tablet()
    dev = ben.pair("ben")
    ben.context.route("**/api/v1/push", desk_speaking(7))
    looks(ben, "9-001", "Turned foot.")
    ben.views("9-002", "Refer", "A later foot.")
    ben.sees("They do not understand each other. Bring it.", seconds=60)
    ben.go("#/work")
    ben.sees("2 entries")
    with ben.page.expect_download() as found:
        ben.press("Save my work as a file")
    file = found.value.path()
    assert hall.entries(dev) == []
    desk.goto(f"{hall.home}/#/devices")
    desk.get_by_label("Take in a tablet's work file").set_input_files(file)
    desk.get_by_text(f"{dev}: 2 entries taken in, 0 were here before.").wait_for()
    desk.screenshot(path=picture("desk-file"), full_page=True)
    desk.get_by_label("Take in a tablet's work file").set_input_files([])
    desk.get_by_label("Take in a tablet's work file").set_input_files(file)
    desk.get_by_text(f"{dev}: 0 entries taken in, 2 were here before.").wait_for()
    ben.context.unroute("**/api/v1/push")
    ben.press("Send now")
    assert {one["status"] for one in ben.sent(2, seconds=90)} == {"have"}
    assert [(one["seq"], one["status"]) for one in hall.entries(dev)] == [(1, "ok"), (2, "ok")]
    ben.clean()


def contradicted(loser: Tablet, winner: Tablet, object_id: str, count: int) -> None:
    """Both ask for other words; the loser was out of the network's reach."""
    loser.context.set_offline(True)
    loser.asks_words(object_id, f"What the one writes for {object_id}", "The foot.")
    winner.asks_words(object_id, f"What the other writes for {object_id}", "The rim.")
    winner.sent(count)
    loser.context.set_offline(False)
    loser.sent(count, seconds=60)
    loser.go("#/work")
    loser.sees("Cards for you", seconds=60)
    loser.sees(f"What stands: “What the other writes for {object_id}”")


def test_a_leader_decides_a_card_on_the_tablet_and_a_member_cannot(hall: Hall, tablet: New) -> None:
    ben, cleo = tablet(), tablet()
    ben.pair("ben")
    cleo.pair("cleo")
    contradicted(cleo, ben, "10-004", 1)
    assert cleo.page.get_by_role("button", name="What stands, stands").count() == 0
    contradicted(ben, cleo, "10-003", 2)
    ben.page.screenshot(path=picture("card-on-tablet"), full_page=True)
    ben.context.set_offline(True)
    ben.press("What stands, stands")
    ben.sees("The desk does not answer. A card is decided there")
    ben.context.set_offline(False)
    ben.press("What stands, stands")
    ben.sees("Decided: stands.")
    assert [card["sub"] for card in hall.get("/cards")] == ["10-004"]
    ben.clean()
