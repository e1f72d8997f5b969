"""The third tick is true: only a backup that was opened and verified on a second medium raises it, whoever made it."""

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from planish.errands.hall import floor
from planish.errands.record import backing
from planish.errands.record.restoring import restore
from tests.keeping.fairs import with_keys
from tests.keeping.test_restoring import SECRETS
from tests.sync.conftest import opened
from tests.sync.tablets import API, Tablet, pair
from tests.sync.test_pulling import closed
from tests.web.fairs import Served

SEEN = {"kind": "wear", "words": "rubbed at the rim"}


@pytest.fixture(autouse=True)
def _at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(floor, "SAFE_EVERY_S", 0.0)


@pytest.fixture
def stick(fair: Served, tmp_path: Path) -> Path:
    """A second medium, and keys to encrypt for."""
    with_keys(fair.folder)
    place = tmp_path / "stick"
    place.mkdir()
    return place


def elsewhere(fair: Served, stick: Path, *more: str) -> None:
    """The backup as a keeper makes it from a terminal while the desk is open: a process of its own."""
    command = [sys.executable, "-m", "planish", "backup", str(stick), "--fair", str(fair.folder), *more]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def noted(tablet: Tablet) -> int:
    """Note one thing; gives its number at the desk."""
    tablet.make("observation.made", "7-001", SEEN)
    tablet.push_all()
    return int(tablet.told[tablet.ids()[-1]]["n"])


def test_a_backup_made_by_another_process_reaches_the_tablet_and_one_on_the_same_disk_does_not(
    fair: Served, stick: Path
) -> None:
    tablet = pair(fair, "member")
    n = noted(tablet)
    tablet.pull()
    assert tablet.safe_n == 0
    elsewhere(fair, stick)  # the same disk: it counts for nothing
    tablet.pull()
    assert tablet.safe_n == 0
    elsewhere(fair, stick, "--counts")
    tablet.pull()
    assert tablet.safe_n >= n
    assert tablet.client.get(f"{API}/device").json()["safe_n"] == tablet.safe_n
    later = noted(tablet)
    tablet.pull()
    assert tablet.safe_n < later


def test_a_backup_that_does_not_verify_raises_nothing(fair: Served, stick: Path) -> None:
    tablet = pair(fair, "member")
    noted(tablet)
    said = {"last": {"at_ms": 1, "n": 5, "hash": "00" * 32, "counts": True, "file": str(stick / "1-5.age")}}
    (fair.folder / backing.SAID).write_text(json.dumps(said))
    tablet.pull()
    assert tablet.safe_n == 0


def test_after_an_older_backup_was_restored_the_tick_goes_back_and_the_work_is_handed_in_again(
    fair: Served, stick: Path, template: Served, tmp_path: Path
) -> None:
    tablet = pair(fair, "member")
    first = noted(tablet)
    old = backing.back_up(fair.desk.fair, stick, counts=True)
    shutil.copytree(stick, tmp_path / "older stick")
    second = noted(tablet)
    backing.back_up(fair.desk.fair, stick, counts=True)
    tablet.pull()
    assert tablet.safe_n >= second
    closed(fair)
    again = tmp_path / "again"
    restore(tmp_path / "older stick", again, SECRETS[0])
    fresh = opened(template, again)
    assert tablet.unlock(first=False) == 201
    assert backing.safe_n(fresh.desk.fair) <= old.n
    said = tablet.pull()
    assert said.json()["problem"]["code"] == "epoch"
    tablet.push_all()
    tablet.pull()
    assert tablet.safe_n < tablet.told[tablet.ids()[1]]["n"]
    assert [one.event.id for one in fresh.desk.fair.journal.store.entries_of(tablet.dev)] == tablet.ids()
    assert first <= old.n < second
