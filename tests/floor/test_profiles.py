"""The browser killed and opened again, a connection by an authority of one's own, and a plain one that says what is lost."""

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import missing
from tests.floor.hall import Hall
from tests.floor.profiles import NAME, authority, kill_profile, open_profile
from tests.floor.tablet import Tablet
from tests.floor.test_offline import ready

pytestmark = pytest.mark.browser


def test_the_browser_killed_after_each_entry_still_holds_every_one(
    chromium: Any, hall: Hall, tmp_path: Path
) -> None:
    profile = tmp_path / "profile"
    context = open_profile(chromium, profile)
    ben = Tablet(context, hall)
    dev = ben.pair("ben")
    ready(ben)
    context.close()  # a browser writes its cookies down half a minute late; a pairing lost so is healed by pairing again
    hall.line.cut()
    context = open_profile(chromium, profile)
    ben = Tablet(context, hall)
    ben.open()
    ben.unlock()
    for n in (1, 2, 3):
        ben.go(f"#/where/7-00{n}")
        ben.press("Needs a key")
        ben.page.wait_for_function("() => !location.hash.startsWith('#/where/')")
        assert kill_profile(profile) > 0
        context = open_profile(chromium, profile)
        ben = Tablet(context, hall)
        ben.open()
        ben.unlock()
        assert [one["seq"] for one in ben.rows("events")] == list(range(1, n + 1))
    hall.line.mend()
    ben.sent(3, seconds=90)
    assert [one["seq"] for one in hall.entries(dev)] == [1, 2, 3]
    ben.clean()
    context.close()


@pytest.fixture
def plain(tmp_path: Path, small_fair: Path) -> Iterator[Hall]:
    """A desk reached by a name over plain HTTP: no secure connection."""
    made = Hall(tmp_path / "fair", like=small_fair, names=(NAME,))
    made.home = f"http://{NAME}:{made.line.port}"
    yield made
    made.close()


def test_plain_http_works_unsigned_and_says_on_every_page_what_is_lost(
    chromium: Any, plain: Hall, tmp_path: Path
) -> None:
    context = open_profile(chromium, tmp_path / "profile")
    ben = Tablet(context, plain)
    ben.open()
    ben.sees("Not a secure connection")
    ben.pair("ben")
    ben.page.on("dialog", lambda asked: asked.accept())
    for at in ("#/", "#/stand/7", "#/object/7-003", "#/ballot/7-003", "#/work"):
        ben.go(at)
        ben.sees("Not a secure connection. Lost: a reload without network does not open this page")
        ben.sees("what is sent can be read on its way through the air, ballots too")
    plain.line.cut()
    ben.views("7-002", "Refer", "Cast, not turned.")
    ben.page.wait_for_timeout(500)
    plain.line.mend()
    (own,) = ben.sent(1, seconds=60)
    assert (own["status"], own["sig"]) == ("ok", "")
    ben.clean()
    context.close()


@pytest.fixture
def secure(tmp_path: Path, small_fair: Path) -> Iterator[tuple[Hall, Path]]:
    """A desk reached by name over TLS, with an authority that only this test's browser trusts."""
    certutil = shutil.which("certutil")
    if certutil is None:
        missing("certutil is needed to trust an authority: apt-get install libnss3-tools")
    with authority(tmp_path, str(certutil)) as (home, cert, key):
        made = Hall(tmp_path / "fair", like=small_fair, names=(NAME,), tls=(cert, key))
        made.home = f"https://{NAME}:{made.line.port}"
        yield made, home
        made.close()


def test_an_own_authority_gives_signed_work_and_a_cold_start_without_network(
    chromium: Any, secure: tuple[Hall, Path], tmp_path: Path
) -> None:
    hall, home = secure
    profile = tmp_path / "profile"
    context = open_profile(chromium, profile, home=home)
    ben = Tablet(context, hall)
    ben.pair("ben")
    assert "Not a secure connection" not in ben.text()
    ready(ben)
    context.close()
    hall.line.cut()
    context = open_profile(chromium, profile, home=home)
    cold = Tablet(context, hall)
    cold.open()
    cold.unlock()
    cold.views("7-001", "Refer", "The reeding is later.")
    hall.line.mend()
    (own,) = cold.sent(1, seconds=60)
    assert own["status"] == "ok"
    assert len(own["sig"]) == 88
    names = {one["name"] for one in context.cookies()}
    assert any(name.startswith("__Host-") for name in names)
    cold.clean()
    context.close()
