"""Backups, trials, archives and restoring through the API: who may, where to, what comes of it, nothing overwritten."""

import json
import threading
import time
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient

from planish.doors.web.app import create_app
from planish.errands.opening import wiring
from planish.errands.opening.serving import Desk
from planish.errands.record import backing, media
from planish.errands.seals import keys
from tests.web.fairs import API, HEADERS, HOME, IDS, LIST, PASS, Served

KEY_PASS = "four plain words of the keys"
SECRETS = (b"\x05" * 32, b"\x06" * 32)
AT_HOME = ("127.0.0.1", 50_000)


def with_keys(fair: Served) -> None:
    """Keys made, both sheets tried."""
    keys.make(fair.folder, KEY_PASS, secret=SECRETS[0], second=SECRETS[1])
    for secret in SECRETS:
        keys.finish(fair.folder, words(secret))


def words(secret: bytes) -> str:
    return " ".join(keys.in_words(secret))


def at_the_laptop(fair: Served, who: str) -> TestClient:
    """The same reader, in a browser on the laptop that planish runs on."""
    client = TestClient(fair.app, base_url=HOME, headers=HEADERS, client=AT_HOME)
    client.cookies.set("planish", fair.desk.accounts.begin(IDS.get(who, who)))
    return client


def stick(tmp_path: Path, name: str = "stick") -> Path:
    place = tmp_path / name
    place.mkdir()
    return place


def done(client: TestClient, said: Any) -> dict[str, Any]:
    """Wait until what was begun is done."""
    assert said.status_code == 202, said.text
    for _ in range(1200):
        work: dict[str, Any] = client.get(f"{API}/record").json()["work"]
        if work["state"] != "running":
            return work
        time.sleep(0.05)
    raise AssertionError("it was never done")


def backed_up(fair: Served, place: Path) -> TestClient:
    office = at_the_laptop(fair, "office")
    work = done(office, office.post(f"{API}/record/backup", json={"place": str(place)}))
    assert (work["what"], work["state"]) == ("backup", "done"), work
    return office


def test_a_fair_without_keys_is_told_so_and_nothing_is_written(fair: Served, tmp_path: Path) -> None:
    office = at_the_laptop(fair, "office")
    shown = office.get(f"{API}/record").json()
    assert (shown["keys"], shown["last"], shown["behind"]) == ("none", None, True)
    work = done(office, office.post(f"{API}/record/backup", json={"place": str(stick(tmp_path))}))
    assert work["state"] == "failed"
    assert "key" in work["problems"][0]["what"]
    assert [*(tmp_path / "stick").iterdir()] == []


def test_a_backup_says_what_it_holds_where_it_lies_and_whether_anything_is_newer(
    fair: Served, tmp_path: Path
) -> None:
    with_keys(fair)
    place = stick(tmp_path)
    head = fair.desk.fair.journal.store.head().n
    office = backed_up(fair, place)
    shown = office.get(f"{API}/record").json()
    assert (shown["keys"], shown["last"]["n"], shown["behind"]) == ("ready", head, False)
    assert (shown["place"], shown["there"], shown["counts"]) == (str(place), True, False)
    assert [one["n"] for one in shown["media"][0]["copies"]] == [head]
    assert str(place) in shown["work"]["where"]
    assert "same disk" in shown["work"]["says"], "a copy on one disk with the fair makes nothing safer"
    assert fair["office"].post(f"{API}/stands", json={"id": "9", "exhibitor": "Nine"}).status_code == 201
    assert office.get(f"{API}/record").json()["behind"] is True


def test_each_step_of_a_backup_is_told_as_it_begins(fair: Served, tmp_path: Path) -> None:
    with_keys(fair)
    steps: list[int] = []
    backing.back_up(fair.desk.fair, stick(tmp_path), said=steps.append)
    assert steps == [0, 1, 2, 3]


def test_from_another_computer_only_a_medium_that_is_plugged_in_can_be_chosen(
    fair: Served, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with_keys(fair)
    place = stick(tmp_path)
    said = fair["office"].post(f"{API}/record/backup", json={"place": str(place)})
    assert (said.status_code, said.json()["problem"]["code"]) == (409, "record.place")
    assert fair["office"].get(f"{API}/record").json()["may_name"] is False
    monkeypatch.setattr(media, "mounted", lambda: [place])
    assert done(fair["office"], fair["office"].post(f"{API}/record/backup", json={"place": str(place)}))
    assert [one["place"] for one in fair["office"].get(f"{API}/record").json()["media"]] == [str(place)]
    assert [*place.rglob("*.age")]
    near = at_the_laptop(fair, "office").post(f"{API}/record/backup", json={"place": "stick"})
    assert (near.status_code, near.json()["problem"]["code"]) == (400, "record.place")


def test_the_table_of_mounts_is_read_as_fstab_5_writes_it() -> None:
    """fstab(5): fields parted by blanks, a blank within one written as \\040."""
    table = (
        "/dev/sda1 / ext4 rw 0 0\n/dev/sdb1 /media/ada/MY\\040STICK vfat rw 0 0\n"
        "proc /proc proc rw 0 0\n/dev/sdc1 /run/media/ada/disk ext4 rw 0 0\n/dev/sdd1 /mnt/far ext4 rw 0 0\n"
    )
    found = [path.as_posix() for path in media.mount_points(table)]
    assert found == ["/media/ada/MY STICK", "/run/media/ada/disk", "/mnt/far"]


def test_a_copy_is_tried_with_a_sheet_and_a_wrong_sheet_is_guessed_five_times_and_no_more(
    fair: Served, tmp_path: Path
) -> None:
    with_keys(fair)
    place = stick(tmp_path)
    office = backed_up(fair, place)
    asked = {"place": str(place), "words": words(SECRETS[1])}
    work = done(office, office.post(f"{API}/record/trial", json=asked))
    assert work["state"] == "done", work
    assert "The sheet opens it" in work["says"]
    assert office.get(f"{API}/record").json()["tried_out"]
    assert SECRETS[1].hex() not in json.dumps(work)
    wrong = {"place": str(place), "words": words(b"\x09" * 32)}
    assert [office.post(f"{API}/record/trial", json=wrong).status_code for _ in range(6)] == [400] * 5 + [429]
    assert office.post(f"{API}/record/trial", json=asked).status_code == 429


def test_an_archive_is_written_read_back_and_listed_and_a_changed_one_is_found_out(
    fair: Served, tmp_path: Path
) -> None:
    office = at_the_laptop(fair, "office")
    work = done(office, office.post(f"{API}/record/archive", json={"place": ""}))
    assert work["state"] == "done", work
    assert "read back and is as it was written" in work["says"]
    shown = office.get(f"{API}/record").json()
    (one,) = shown["archives"]
    assert (one["folder"], one["signed"]) == (work["where"], False)
    assert Path(one["folder"]).parent == fair.folder.parent, "never inside the fair's own folder"
    again = done(office, office.post(f"{API}/record/archive", json={"place": ""}))
    assert again["where"] != work["where"], "an archive is never overwritten"
    objects = Path(one["folder"]) / "data" / "objects.jsonl"
    objects.write_text(objects.read_text(encoding="utf-8").replace("flagon", "tankard"), encoding="utf-8")
    checked = done(office, office.post(f"{API}/record/archive/check", json={"folder": one["folder"]}))
    assert "NOT as it was written" in checked["says"]
    strange = office.post(f"{API}/record/archive/check", json={"folder": str(tmp_path)})
    assert (strange.status_code, strange.json()["problem"]["code"]) == (409, "record.archive")


def test_an_archive_is_signed_while_the_keys_are_unlocked(fair: Served) -> None:
    with_keys(fair)
    office = at_the_laptop(fair, "office")
    assert office.post(f"{API}/keys/unlock", json={"passphrase": KEY_PASS}).status_code == 200
    work = done(office, office.post(f"{API}/record/archive", json={"place": ""}))
    assert "the list of files is signed" in work["says"]
    assert office.get(f"{API}/record").json()["archives"][0]["signed"] is True


def test_a_copy_opens_in_a_new_folder_with_a_new_epoch_and_the_open_fair_stays_as_it_is(
    fair: Served, tmp_path: Path
) -> None:
    with_keys(fair)
    place = stick(tmp_path)
    backed_up(fair, place)
    chair = at_the_laptop(fair, "chair")
    (copy,) = chair.get(f"{API}/record").json()["media"][0]["copies"]
    before = fair.desk.fair.journal.store.head()
    asked = {"place": str(place), "made": copy["made"], "words": words(SECRETS[0])}
    assert at_the_laptop(fair, "office").post(f"{API}/record/restore", json=asked).status_code == 403
    work = done(chair, chair.post(f"{API}/record/restore", json=asked))
    assert work["state"] == "done", work
    assert fair.desk.fair.journal.store.head() == before
    with wiring.open_fair(Path(work["where"])) as again:
        last = [*again.journal.happened()][-1]
        assert (last.kind, last.body["n"]) == ("desk.restored", before.n)
        assert again.journal.store.head().epoch != before.epoch
    twice = done(chair, chair.post(f"{API}/record/restore", json=asked))
    assert twice["where"] != work["where"], "nothing is overwritten"


def test_two_things_are_never_done_at_once(fair: Served) -> None:
    gate = threading.Event()
    keeper = fair.app.state.safekeeper
    keeper._begin("archive", lambda _: (str(gate.wait(60)), ""))
    office = at_the_laptop(fair, "office")
    said = office.post(f"{API}/record/archive", json={"place": ""})
    assert (said.status_code, said.json()["problem"]["code"]) == (409, "record.busy")
    gate.set()


def test_on_a_new_laptop_the_code_the_stick_and_one_sheet_bring_the_fair_back(
    fair: Served, tmp_path: Path
) -> None:
    with_keys(fair)
    place = stick(tmp_path)
    backed_up(fair, place)
    desk = Desk(tmp_path / "another laptop")
    new = TestClient(create_app(desk), base_url=HOME, headers=HEADERS)
    wrong = new.post(f"{API}/setup/copies", json={"code": "0" * 32, "place": str(place)})
    assert (wrong.status_code, wrong.json()["problem"]["code"]) == (403, "setup.code")
    found = new.post(f"{API}/setup/copies", json={"code": desk.setup_code, "place": str(place)}).json()
    assert len(found) == 1
    asked = {"code": desk.setup_code, "place": found[0]["folder"], "words": words(SECRETS[0])}
    refused = new.post(f"{API}/setup/back", json={**asked, "words": words(b"\x09" * 32)})
    assert (refused.status_code, refused.json()["problem"]["code"]) == (400, "backup.unreadable")
    other = new.post(f"{API}/setup/back", json={**asked, "head": f"1:{'0' * 64}"})
    assert other.status_code in (400, 503), "a copy that contradicts the day sheet is refused"
    said = new.post(f"{API}/setup/back", json=asked)
    assert said.status_code == 201, said.text
    assert not desk.setup_code
    assert new.post(f"{API}/session", json={"person": "chair", "passphrase": PASS}).status_code == 201
    listed = new.get(f"{API}/objects").json()
    assert listed["total"] == LIST.count("\n") - 1 + 1
    gone = new.post(f"{API}/setup/back", json=asked)
    assert (gone.status_code, gone.json()["problem"]["code"]) == (409, "setup.done")
    desk.close()


def test_only_the_office_reads_and_acts_here(fair: Served) -> None:
    asked = {"place": "/x", "words": "x", "made": 1, "folder": "/x"}
    bodies = {
        "backup": ["place"], "trial": ["place", "words"], "archive": ["place"], "archive/check": ["folder"],
        "restore": ["place", "made", "words"],
    }  # fmt: skip
    for who, client in fair.clients.items():
        may = who in ("chair", "deputy", "office")
        assert (client.get(f"{API}/record").status_code == 200) is may, who
        for name, fields in bodies.items():
            if may and name != "restore":
                continue
            said = client.post(f"{API}/record/{name}", json={field: asked[field] for field in fields})
            assert (said.status_code == 403) is (who not in ("chair", "deputy")), (
                who,
                name,
                said.status_code,
            )
