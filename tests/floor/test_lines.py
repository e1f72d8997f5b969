"""Bad lines: one that swallows everything, readers who never read, a desk whose disk is full. Nobody else is held up."""

import json
import socket
from collections.abc import Callable
from typing import Any

import pytest

from tests.floor.hall import API, Hall
from tests.floor.tablet import Tablet
from tests.floor.test_trouble import looks

pytestmark = pytest.mark.browser
New = Callable[..., Tablet]


def test_behind_a_wall_that_answers_nothing_the_tablet_gives_up_after_ten_seconds_and_keeps_its_queue(
    hall: Hall, tablet: New
) -> None:
    ben = tablet()
    ben.clock_at(None)
    dev = ben.pair("ben")
    hall.line.cut()
    looks(ben, "7-001", "Scraped by hand.")
    ben.sees("1 look noted")
    hall.line.hole = True
    hall.line.mend()
    try:
        ben.until(lambda: hall.line.held, "the tablet never tries", seconds=90)
        ben.later(11)
        ben.until(lambda: hall.line.fallen, "the tablet waits for ever", seconds=30)
        assert [one["status"] for one in ben.rows("events")] == ["waiting"]
        looks(ben, "7-002", "Worn.")  # work goes on meanwhile
        ben.sees("2 on this tablet only")
    finally:
        hall.line.cut()
        hall.line.hole = False
        hall.line.mend()
    ben.later(31)
    ben.sent(2, seconds=90)
    assert [one["seq"] for one in hall.entries(dev)] == [1, 2]
    ben.clean()


def test_readers_who_never_read_their_answers_hold_nobody_up(hall: Hall, tablet: New) -> None:
    ben = tablet()
    dev = ben.pair("ben")
    cookies = "; ".join(f"{name}={value}" for name, value in hall.desk.cookies.items())
    stuck = [_never_reads(hall.port, cookies) for _ in range(60)]
    try:
        assert "Pewter plate" in str(hall.get("/objects"))
        looks(ben, "8-001", "Cast in one.")
        ben.sent(1, seconds=60)
        ben.knows(ben.rows("events")[0]["n"])
        assert [one["status"] for one in hall.entries(dev)] == ["ok"]
    finally:
        for one in stuck:
            one.close()
    ben.clean()


def _never_reads(port: int, cookies: str) -> socket.socket:
    """A client with the smallest window that asks for much, again and again on one line, and takes nothing."""
    one = socket.socket()
    one.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 2048)
    one.connect(("127.0.0.1", port))
    about = f"HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nCookie: {cookies}\r\n\r\n"
    asked = f"GET {API}/openapi.json {about}GET {API}/objects {about}"
    one.sendall(asked.encode() * 10)
    return one


def test_a_desk_whose_disk_is_full_is_told_of_on_every_page_and_gets_the_work_when_there_is_room(
    hall: Hall, tablet: New
) -> None:
    ben = tablet()
    dev = ben.pair("ben")
    full = json.dumps({"problem": {"code": "full", "where": "", "what": "", "remedy": ""}})

    def answer(route: Any) -> None:
        route.fulfill(status=507, content_type="application/json", body=full)

    ben.context.route("**/api/v1/push", answer)
    looks(ben, "9-001", "Patched within.")
    for at in ("#/", "#/stand/9", "#/work"):
        ben.go(at)
        ben.sees("The desk's disk is full. Work stays on this tablet until there is room.", seconds=60)
    assert [one["status"] for one in ben.rows("events")] == ["waiting"]
    ben.go("#/object/9-002")
    ben.sees("Bronze mortar")  # reading goes on
    ben.context.unroute("**/api/v1/push")
    ben.sent(1, seconds=90)
    assert [one["seq"] for one in hall.entries(dev)] == [1]
    ben.clean()
