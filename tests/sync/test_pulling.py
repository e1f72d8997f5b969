"""What tablets are given: stubs for what is not theirs, the chain whole, and a desk that went back in time found out."""

import json
import shutil
import socket
import sys
from pathlib import Path
from typing import Any

import apsw
import pytest

from planish.doors.web.tablet import Floors
from planish.errands.hall.watching import ClockWatch
from planish.errands.opening import clock
from planish.errands.opening.serving import Desk
from planish.ledger import chain
from planish.ledger.replay import fold
from planish.ledger.verifying import verify
from tests.sync.conftest import opened
from tests.sync.tablets import API, Tablet, pair
from tests.web.fairs import Served

SEEN = {"kind": "wear", "words": "rubbed at the rim"}
STUB = {"n", "leaf"}


def store(fair: Served) -> Any:
    return fair.desk.fair.journal.store


def words_in(fair: Served) -> set[str]:
    """Every private text in the log."""
    return {str(one.read()) for entry in store(fair).entries() for one in entry.openings.values()}


def test_the_first_pull_gives_the_round_and_the_next_ones_only_what_is_new(fair: Served) -> None:
    tablet = pair(fair, "member")
    tablet.pull()
    assert set(tablet.objects) == {"7-001", "7-002", "7-003", "8-001"}
    assert all(doc["mine"] for doc in tablet.objects.values())
    before = tablet.after
    fair["leader"].post(f"{API}/objects/7-002/observations", json=SEEN)
    tablet.pull()
    assert tablet.after > before
    assert [one["words"] for one in tablet.objects["7-002"]["observations"]] == ["rubbed at the rim"]
    assert tablet.pull().json()["entries"] == []


def test_anothers_ballot_is_a_stub_of_number_and_leaf_and_its_object_is_not_sent(fair: Served) -> None:
    mine = pair(fair, "member")
    mine.pull()
    fair.vote("other", "7-001", reason="MARKREASON")
    page = mine.pull().json()
    assert [set(entry) for entry in page["entries"]] == [STUB]
    assert page["objects"] == []
    mine.make("ballot.locked", "7-001", {"round": 1, "ballot": {"round": 1, "outcome": "accept"}})
    mine.push_all()
    page = mine.pull().json()
    assert json.loads(page["entries"][0]["raw"])["kind"] == "ballot.locked/1"
    assert page["objects"][0]["own_ballots"][0]["outcome"] == "accept"


MARKERS = ("MARKBALLOT", "MARKTIE", "MARKPRICE", "MARKREASON")


@pytest.mark.parametrize("person", ["member", "leader", "chair", "office", "steward", "scribe", "third"])
def test_no_marker_reaches_a_tablet_that_may_not_see_it_whatever_is_pulled(fair: Served, person: str) -> None:
    for who in ("other", "leader"):
        body = {
            "object": "7-001",
            "outcome": "relabel",
            "wording": f"MARKBALLOT-{who}-",
            "reasons": [f"MARKREASON-{who}-"],
        }
        fair[who].post(f"{API}/ballots", json={"ballots": [body]})
    fair["chair"].post(f"{API}/people/third/conflicts", json={"stand": "8", "reason": "MARKTIE"})
    tablet = pair(fair, person)
    head = store(fair).head()
    tablet.pull()
    tablet.after, tablet.hash = 0, chain.genesis(tablet.fair).hex()
    said = [tablet.client.get(f"{API}/{one}").text for one in ("own", "round", "device", "cards")]
    tablet.pull()
    assert tablet.after >= head.n
    told = json.dumps([tablet.objects, tablet.entries, tablet.cards]) + "".join(said)
    own = {f"MARKBALLOT-{person}-", f"MARKREASON-{person}-"} if person in ("other", "leader") else set()
    allowed = (
        own
        | ({"MARKPRICE"} if person == "office" else set())
        | ({"MARKTIE"} if person in ("chair", "office") else set())
    )
    for marker in MARKERS:
        for text in {text for text in words_in(fair) if marker in text}:
            for piece in (f"{marker}-other-", f"{marker}-leader-", marker):
                if piece in text and not any(one in piece or piece in one for one in allowed):
                    assert piece not in told, (person, piece)


def test_a_role_taken_away_makes_the_tablet_read_everything_again(fair: Served) -> None:
    tablet = pair(fair, "member")
    tablet.pull()
    fair["chair"].post(f"{API}/people/member/roles", json={"role": "scribe"})
    tablet.pull()
    assert tablet.again


def test_the_laboratory_gets_no_log_for_even_stubs_would_tell_counts(fair: Served) -> None:
    tablet = pair(fair, "laboratory")
    assert tablet.client.get(f"{API}/pull").status_code == 403
    tablet.make("observation.made", "7-001", SEEN)
    assert tablet.push().json()["results"][0]["status"] == "ok"


def test_after_the_store_of_a_tablet_was_wiped_its_own_work_comes_back(fair: Served) -> None:
    tablet = pair(fair, "member")
    made = [tablet.make("observation.made", "7-001", SEEN) for _ in range(3)]
    tablet.push_all()
    back = tablet.client.get(f"{API}/own").json()["events"]
    assert [(one["raw"], one["status"]) for one in back] == [(one["raw"], "ok") for one in made]
    assert [one["open"] for one in back] == [one["open"] for one in made]
    known = tablet.client.get(f"{API}/device").json()
    assert (known["last_seq"], known["last_digest"]) == (3, tablet.digests[-1])
    tablet.client.post(f"{API}/lock")
    assert all(one["open"] == [] for one in tablet.client.get(f"{API}/own").json()["events"])


def closed(fair: Served) -> None:
    fair.app.state.floors.close()
    fair.app.state.desk.close()


def again(fair: Served, template: Served) -> Served:
    """The same folder opened by a new process, as it were; the tablets keep their clients."""
    return opened(template, fair.folder)


def test_a_desk_set_back_to_an_older_file_is_found_out_and_everything_comes_back(
    fair: Served, template: Served, tmp_path: Path
) -> None:
    early, late = pair(fair, "member"), pair(fair, "leader")
    for tablet in (early, late):
        tablet.make("observation.made", "7-001", SEEN)
        tablet.push_all()
        tablet.pull()
    closed(fair)
    shutil.copy(fair.folder / "ledger.db", tmp_path / "yesterday.db")
    fair = again(fair, template)
    for tablet in (early, late):
        for number in range(4):
            tablet.make("observation.made", "7-002", {"kind": "wear", "words": f"{tablet.dev} saw {number}"})
        tablet.push_all()
        tablet.pull()
    knew = late.after
    closed(fair)
    for side in ("-wal", "-shm"):
        (fair.folder / f"ledger.db{side}").unlink(missing_ok=True)
    shutil.copy(tmp_path / "yesterday.db", fair.folder / "ledger.db")
    fair = again(fair, template)
    lost = early.ids()[1:] + late.ids()[1:]
    assert not any(store(fair).entry_of(one) for one in lost)
    said = late.pull()
    assert said.status_code == 409
    for tablet in (late, early):
        tablet.pull()
        tablet.push_all()
        assert tablet.pull().status_code == 200
    there = [entry.event.id for entry in store(fair).entries()]
    assert {*early.ids(), *late.ids()} <= set(there)
    assert len(there) == len(set(there))
    assert verify(store(fair)) == ()
    (restored,) = [note for note in fair.desk.fair.state.notes if note.kind == "desk.restored"]
    assert f"knows entry {knew}" in restored.body["note"]
    assert "restored" in {one["code"] for one in fair["office"].get(f"{API}/devices").json()["alarms"]}
    closed(fair)
    fair = again(fair, template)


def test_a_tablet_paired_and_one_revoked_after_the_backup_are_written_again(
    fair: Served, template: Served, tmp_path: Path
) -> None:
    lost = pair(fair, "leader")
    closed(fair)
    shutil.copy(fair.folder / "ledger.db", tmp_path / "yesterday.db")
    fair = again(fair, template)
    fair["office"].post(f"{API}/devices/{lost.dev}/revoke", json={"how": "lost"})
    tablet = pair(fair, "member")
    tablet.make("observation.made", "7-001", SEEN)
    tablet.push_all()
    closed(fair)
    shutil.copy(tmp_path / "yesterday.db", fair.folder / "ledger.db")
    fair = again(fair, template)
    fair.app.state.floors.get()
    state = fair.desk.fair.state
    assert (state.devices[tablet.dev], state.devices[lost.dev]) == ("paired", "lost")
    tablet.acked = 0
    assert [one["status"] for one in tablet.push().json()["results"]] == ["ok"]
    assert verify(store(fair)) == ()


def rewrite(path: Path, n: int) -> None:
    """An insider with the file changes entry `n` and computes every hash from there on."""
    db = apsw.Connection(str(path))
    db.execute("DROP TRIGGER entry_stays")
    fair = db.execute("SELECT value FROM meta WHERE key = 'fair'").fetchall()[0][0]
    at, before = chain.genesis(str(fair)), {}
    rows = db.execute("SELECT n, recv_ms, status, dev, seq, raw FROM entry ORDER BY n").fetchall()
    for number, recv_ms, status, dev, seq, raw in rows:
        data = bytes(raw)  # type: ignore[arg-type]
        if number == n:
            data = data.replace(b'"kind":"wear"', b'"kind":"mark"')
            assert data != raw
        if before.get(dev):
            data = data.replace(before[dev][0].encode(), before[dev][1].encode())
        before[dev] = (chain.digest(bytes(raw)).hex(), chain.digest(data).hex())  # type: ignore[arg-type]
        leaf = chain.leaf(n=number, recv_ms=recv_ms, dev=dev, seq=seq, status=status, raw=data)  # type: ignore[arg-type]
        at = chain.link(at, leaf)
        db.execute("UPDATE entry SET raw = ?, leaf = ?, hash = ? WHERE n = ?", (data, leaf, at, number))
    db.execute(
        "CREATE TRIGGER entry_stays BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'an entry is never changed'); END"
    )
    db.close()


def test_a_rewritten_chain_is_whole_in_itself_and_every_later_head_of_a_tablet_contradicts_it(
    fair: Served, template: Served
) -> None:
    fair["leader"].post(
        f"{API}/objects/7-001/observations", json=SEEN
    )  # written at the desk: nobody signed it
    changed = store(fair).head().n
    tablet = pair(fair, "member", sign=False)
    for _ in range(12):
        tablet.make("observation.made", "7-001", SEEN)
        tablet.push_all()
        tablet.pull()
    heads = [{"n": n, "hash": hash_} for n, hash_ in dict(tablet.heads).items()]
    later = [one["n"] for one in heads if one["n"] >= changed]
    assert tablet.client.post(f"{API}/heads", json={"heads": heads}).json()["agree"]
    closed(fair)
    rewrite(fair.folder / "ledger.db", changed)
    fair = again(fair, template)
    assert verify(store(fair)) == ()  # the chain alone does not tell
    said = tablet.client.post(f"{API}/heads", json={"heads": heads}).json()
    assert (said["agree"], said["against"]) == (False, later)
    assert len(later) >= 12
    assert tablet.pull().status_code == 409
    assert {one["code"] for one in fair["office"].get(f"{API}/devices").json()["alarms"]} >= {
        "rewritten",
        "restored",
    }


def test_an_entry_of_a_tablet_that_signs_cannot_be_rewritten_even_with_the_whole_chain(
    fair: Served, template: Served
) -> None:
    tablet = pair(fair, "member")
    tablet.make("observation.made", "7-001", SEEN)
    n = tablet.push().json()["results"][0]["n"]
    closed(fair)
    rewrite(fair.folder / "ledger.db", n)
    fair = again(fair, template)
    assert [(one.where, one.code) for one in verify(store(fair))] == [(f"entry {n}", "ledger.signature")]


def test_the_first_tablet_that_meets_the_other_of_two_desks_shows_the_fork(
    fair: Served, template: Served, tmp_path: Path
) -> None:
    here, there = pair(fair, "member"), pair(fair, "leader")
    closed(fair)
    shutil.copytree(fair.folder, tmp_path / "other")
    one = again(fair, template)
    here.make("observation.made", "7-001", SEEN)
    here.push_all()
    here.pull()
    closed(one)
    two = opened(template, tmp_path / "other")
    there.make("observation.made", "7-002", SEEN)
    there.push_all()
    there.pull()
    assert here.pull().status_code == 409  # the same number, another hash
    words = [note.body["note"] for note in two.desk.fair.state.notes if note.kind == "desk.restored"]
    assert len(words) == 1
    assert "otherwise" in words[0] or "knows entry" in words[0]
    here.pull()
    here.push_all()
    assert {*here.ids(), *there.ids()} <= {entry.event.id for entry in store(two).entries()}
    closed(two)
    again(fair, template)


def test_deleted_words_come_out_nowhere_any_more(fair: Served) -> None:
    tablet = pair(fair, "member")
    tablet.make("observation.made", "7-001", {"kind": "wear", "words": "MARKDELETED"})
    n = tablet.push().json()["results"][0]["n"]
    tablet.pull()
    second = {"person": "leader", "passphrase": "a passphrase of the tests"}
    asked = {"entry": n, "ground": "request", "second": second}
    said = fair["chair"].post(f"{API}/objects/7-001/redact", json=asked)
    assert said.status_code in (201, 409), said.text
    if said.status_code == 409:
        said = fair["chair"].post(
            f"{API}/objects/7-001/redact", json={**asked, "second": {**second, "person": "olga"}}
        )
        assert said.status_code == 201, said.text
    fresh = pair(fair, "leader")
    fresh.pull()
    fresh.after, fresh.hash = 0, chain.genesis(fresh.fair).hex()
    fresh.pull()
    told = json.dumps([fresh.objects, fresh.entries]) + tablet.client.get(f"{API}/own").text
    assert "MARKDELETED" not in told
    fair.desk.fair.journal.store._ask(lambda page: page.after_commit("PRAGMA wal_checkpoint(TRUNCATE)"))  # type: ignore[attr-defined]
    for file in fair.folder.rglob("ledger.db*"):
        assert b"MARKDELETED" not in file.read_bytes()
    assert verify(store(fair)) == ()


def test_what_is_kept_live_is_what_a_fold_of_the_whole_log_gives_byte_for_byte(fair: Served) -> None:
    tablet = pair(fair, "member")
    for number in range(5):
        tablet.make("observation.made", "7-001", {"kind": "wear", "words": f"mark {number}"})
        tablet.make("label.asked", "7-001", {"version": 2, "text": f"words {number}"}, base="")
        tablet.push_all()
        tablet.pull()
    live = repr(fair.desk.fair.state).encode()
    standing = dict(store(fair).standing())
    store(fair).rebuild()
    assert dict(store(fair).standing()) == standing
    assert repr(fold(fair.desk.fair.journal.happened())).encode() == live
    fair.desk.fair.forget()
    assert repr(fair.desk.fair.state).encode() == live


def test_a_clock_that_jumps_four_hundred_days_reorders_nothing_and_is_written_down(
    fair: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    tablet, day = pair(fair, "member"), 86_400_000
    true = clock.now_ms()
    steady = iter(range(0, 1_000, 5))
    now = {"ms": true}
    floor = fair.app.state.floors.get()
    watch = ClockWatch(floor.clock_jumped, wall=lambda: now["ms"], steady=lambda: float(next(steady)))
    monkeypatch.setattr(fair.desk, "now", lambda: now["ms"])
    jumps = []
    for days in (0, 400, -400, 0):
        now["ms"] = true + days * day + 5_000 * (len(jumps) + 1)
        jumps.append(watch.look())
        tablet.make("observation.made", "7-001", SEEN)
        tablet.push_all()
        assert tablet.client.get(f"{API}/pull", params={"epoch": tablet.epoch}).status_code == 200
    assert [round(jump / day) for jump in jumps] == [0, 400, -800, 400]
    entries = [*store(fair).entries()]
    assert [one.n for one in entries] == [*range(1, len(entries) + 1)]
    assert [one.recv_ms for one in entries] == sorted(one.recv_ms for one in entries)
    noted = [note.body["ms"] for note in fair.desk.fair.state.notes if note.kind == "clock.jump"]
    assert noted == [jump for jump in jumps if jump]
    assert verify(store(fair)) == ()


def test_sessions_neither_die_nor_live_for_ever_when_the_clock_jumps(
    fair: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    tablet, real = pair(fair, "member"), clock.time.time_ns
    for days in (400, -400):
        monkeypatch.setattr(clock.time, "time_ns", lambda days=days: real() + days * 86_400 * 10**9)
        assert tablet.client.get(f"{API}/pull").status_code == 200
    accounts = fair.desk.accounts
    began = accounts._now()
    monkeypatch.setattr(
        accounts, "_now", lambda: began - 400 * 86_400_000
    )  # restarted under a clock set back
    assert tablet.client.get(f"{API}/pull").status_code == 401


def test_a_tablets_clock_a_year_off_changes_no_order(fair: Served) -> None:
    fast, slow = pair(fair, "member"), pair(fair, "leader")
    for tablet in (fast, slow, fast):  # every simulated tablet writes one same time of 2026 as its own
        tablet.make("observation.made", "7-001", SEEN)
        tablet.push_all()
    devs = [entry.event.dev for entry in store(fair).entries() if entry.event.name == "observation.made"]
    assert devs == [fast.dev, slow.dev, fast.dev]


def test_an_address_in_any_field_makes_the_desk_ask_nobody_anywhere(fair: Served) -> None:
    outside: list[Any] = []

    def listen(event: str, args: tuple[Any, ...]) -> None:
        if event in ("socket.connect", "socket.getaddrinfo", "socket.sendto") and outside is not None:
            outside.append((event, args[:2]))

    tablet = pair(fair, "member")
    sys.addaudithook(listen)
    with socket.socket() as probe:
        probe.settimeout(0.01)
        probe.connect_ex(("127.0.0.1", 9))
    assert outside  # the ear hears
    outside.clear()
    url = "http://198.51.100.7:8/steal?x=file:///etc/passwd"
    for body in (
        {"kind": "wear", "words": url, "spot": url, "instrument": url},
        {"kind": url[:80], "terms": [url]},
    ):
        tablet.make("observation.made", "7-001", body)
    tablet.make("paper.filed", "7-001", {"sort": "bill", "words": url})
    tablet.make("label.asked", "7-001", {"version": 2, "text": url}, base="")
    tablet.make("object.unlisted", "x-1", {"stand": "7", "number": url, "text": url})
    tablet.push_all()
    tablet.pull()
    fair["chair"].get(f"{API}/cards")
    fair["chair"].get(f"{API}/objects/7-001")
    assert outside == []


def test_a_guest_without_a_paired_tablet_gets_nothing_from_any_of_the_floors_addresses(fair: Served) -> None:
    pair(fair, "member")
    guest = fair.stranger()
    asked = ["pull", "own", "device", "round", "devices", "cards", f"pictures/{'0' * 64}"]
    assert {guest.get(f"{API}/{one}").status_code for one in asked} == {401}
    assert guest.post(f"{API}/push", json=Tablet(guest).body([])).status_code == 401
    assert (
        guest.post(
            f"{API}/push", json=Tablet(guest).body([]), headers={"origin": "http://evil.test"}
        ).status_code
        == 403
    )
    assert guest.get(f"{API}/device", headers={"host": "evil.test"}).status_code == 421


def test_a_floor_is_not_there_before_the_fair_is(tmp_path: Path) -> None:
    floors = Floors(Desk(tmp_path))
    with pytest.raises(Exception, match="no fair in this folder yet"):
        floors.get()
