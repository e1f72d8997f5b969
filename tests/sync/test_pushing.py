"""What a tablet hands in over HTTP: doubled, out of order, changed, of another history, without a right, too much."""

import json
import sys
import threading
from concurrent.futures import Future
from typing import Any

import pytest

from planish.errands.hall import floor as floors
from planish.ledger import kinds as table
from planish.ledger.kinds.shape import Kind, plain
from planish.ledger.replay import fold
from planish.ledger.store import LedgerBrokenError, LedgerFullError, Result
from planish.ledger.verifying import verify
from tests.sync.tablets import API, Tablet, pair
from tests.sync.test_files import hand_in, saved
from tests.web.fairs import Served

SEEN = {"kind": "wear", "words": "rubbed at the rim"}


def statuses(said: Any) -> list[str]:
    return [one["status"] for one in said.json()["results"]]


def whole(fair: Served) -> bool:
    """Everything verifies, and what is kept live is what a fold of the whole log gives."""
    journal = fair.desk.fair.journal
    assert verify(journal.store) == ()  # type: ignore[arg-type]
    assert repr(fair.desk.fair.state) == repr(fold(journal.happened()))
    return True


def test_a_batch_sent_twice_and_an_event_twice_in_one_request_is_stored_once(fair: Served) -> None:
    tablet = pair(fair, "member")
    sent = [tablet.make("observation.made", "7-001", SEEN) for _ in range(3)]
    assert statuses(tablet.client.post(f"{API}/push", json=tablet.body([*sent, sent[1]]))) == [
        "ok",
        "ok",
        "ok",
        "have",
    ]
    again = tablet.client.post(f"{API}/push", json=tablet.body(sent)).json()["results"]
    assert [(one["status"], one["n"] > 0) for one in again] == [("have", True)] * 3
    assert len(fair["leader"].get(f"{API}/objects/7-001").json()["observations"]) == 3
    assert whole(fair)


def test_a_later_batch_before_the_earlier_one_is_told_where_the_gap_is(fair: Served) -> None:
    tablet = pair(fair, "member")
    sent = [tablet.make("observation.made", "7-001", SEEN) for _ in range(4)]
    said = tablet.client.post(f"{API}/push", json=tablet.body(sent[2:])).json()["results"]
    assert [(one["status"], one["last"]) for one in said] == [("gap", 0), ("gap", 0)]
    tablet.push_all()
    own = tablet.client.get(f"{API}/own").json()["events"]
    assert [one["seq"] for one in own] == [1, 2, 3, 4]


def test_the_same_number_with_other_bytes_overwrites_nothing_and_rings_at_the_desk(fair: Served) -> None:
    tablet = pair(fair, "member")
    first = tablet.make("observation.made", "7-001", SEEN)
    tablet.push()
    tablet.made.clear()
    tablet.digests.clear()
    tablet.acked = 0
    tablet.make("observation.made", "7-001", {"kind": "wear", "words": "something else"})
    assert statuses(tablet.push()) == ["clash"]
    assert tablet.client.get(f"{API}/own").json()["events"][0]["raw"] == first["raw"]
    assert [one["code"] for one in fair["office"].get(f"{API}/devices").json()["alarms"]] == ["clash"]


def test_an_event_that_names_another_tablet_is_refused(fair: Served) -> None:
    mine, other = pair(fair, "member"), pair(fair, "leader")
    event = other.make("observation.made", "7-001", SEEN)
    said = mine.client.post(f"{API}/push", json=mine.body([event]))
    assert statuses(said) == ["refused"]
    assert statuses(other.push()) == ["ok"]


def test_another_epoch_stores_nothing_and_says_where_the_numbers_stand(fair: Served) -> None:
    tablet = pair(fair, "member")
    tablet.make("observation.made", "7-001", SEEN)
    tablet.push()
    epoch = tablet.epoch
    tablet.make("observation.made", "7-001", SEEN)
    tablet.epoch = "some other"
    said = tablet.client.post(f"{API}/push", json=tablet.body(tablet.queue())).json()["results"]
    assert [(one["status"], one["epoch"], one["last"]) for one in said] == [("epoch", epoch, 1)]


def test_the_newest_protocol_and_the_one_before_are_served_each_in_its_own_form(fair: Served) -> None:
    tablet = pair(fair, "member")
    tablet.make("observation.made", "7-001", SEEN)
    for proto, status in ((1, "ok"), (2, "have")):
        said = tablet.client.post(f"{API}/push", json={**tablet.body(tablet.queue()), "proto": proto})
        assert statuses(said) == [status]
        assert said.json()["proto"] == proto
        page = tablet.client.get(f"{API}/pull", params={"epoch": tablet.epoch, "proto": proto}).json()
        assert ("redacted" in page) == (proto == 2)
        assert page["objects"]


@pytest.mark.parametrize(("proto", "words"), [(0, "Update planish"), (3, "when the desk was updated")])
def test_an_app_of_another_protocol_is_told_which_are_spoken_and_what_becomes_of_its_work(
    fair: Served, proto: int, words: str
) -> None:
    tablet = pair(fair, "member")
    tablet.make("observation.made", "7-001", SEEN)
    said = tablet.client.post(f"{API}/push", json={**tablet.body(tablet.queue()), "proto": proto})
    assert (said.status_code, said.json()["speaks"]) == (409, [2, 1])
    problem = said.json()["problem"]
    assert words in problem["remedy"]
    assert "save the work as a file there and bring it to the desk" in problem["remedy"]
    assert tablet.client.get(f"{API}/pull", params={"proto": proto}).status_code == 409
    assert fair.desk.fair.journal.store.last_of(tablet.dev).seq == 0
    assert hand_in(fair, "steward", saved(tablet)).json()["fresh"] == 1


def test_a_kind_newer_than_the_desk_is_held_and_counts_after_the_desk_was_brought_up(
    fair: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    tablet = pair(fair, "member")
    tablet.make("lamp.lit", "7-001", {"lamp": "raking"})
    tablet.make("observation.made", "7-001", SEEN)
    assert statuses(tablet.push()) == ["held", "ok"]
    held = tablet.ids()[0]
    newer = Kind(
        name="lamp.lit",
        about="A lamp.",
        sub="the object's id",
        fields=(plain("lamp", "which"),),
        sets="lamp:{sub}",
    )
    known = {**table.KINDS, "lamp.lit": newer}
    for name, module in [*sys.modules.items()]:
        if name.startswith("planish.") and hasattr(module, "KINDS"):
            monkeypatch.setattr(module, "KINDS", known)
    said = fair["chair"].post(f"{API}/cards/{held}", json={"how": "release"})
    assert said.status_code == 201, said.text
    assert fair.desk.fair.journal.store.look("lamp:7-001") == held


def test_a_role_withdrawn_while_the_tablet_was_away_denies_what_comes_after(fair: Served) -> None:
    tablet = pair(fair, "member")
    tablet.make("ballot.locked", "7-001", {"round": 1, "ballot": {"round": 1, "outcome": "accept"}})
    assert fair["chair"].delete(f"{API}/people/member/roles/member").status_code == 200
    assert statuses(tablet.push()) == ["denied"]
    assert fair.desk.fair.state.objects["7-001"].ballots == ()
    assert [card["status"] for card in fair["chair"].get(f"{API}/cards").json()] == ["denied"]


def test_a_recusal_that_comes_in_after_the_proposal_takes_the_quorum_away(fair: Served) -> None:
    voters = {who: pair(fair, who) for who in ("leader", "member", "other")}
    ballot = {"round": 1, "outcome": "accept"}
    for who, tablet in voters.items():
        if who != "other":
            tablet.make("ballot.locked", "7-001", {"round": 1, "ballot": ballot})
            tablet.push_all()
    base = {"outcome": "accept", "round": 1, "needs": 2}
    voters["leader"].make("outcome.proposed", "7-001", base, base="")
    voters["leader"].push_all()
    voters["member"].make("ballot.recused", "7-001", {})
    voters["member"].push_all()
    said = fair["leader"].post(f"{API}/objects/7-001/confirm", json={})
    assert said.status_code in (403, 409)
    assert "The ballots no longer give what was proposed" in said.text
    assert fair.desk.fair.state.objects["7-001"].state.examination == "proposed"


def test_two_who_worded_the_same_label_away_both_keep_their_text_and_the_desk_shows_both(
    fair: Served,
) -> None:
    first, second = pair(fair, "leader"), pair(fair, "member")
    for tablet, words in ((first, "Words of the first"), (second, "Words of the second")):
        tablet.pull()
        base = tablet.objects["7-001"]["bases"]["label"]
        tablet.make("label.asked", "7-001", {"version": 2, "text": words}, base=base)
    assert statuses(first.push()) == ["ok"]
    assert statuses(second.push()) == ["stale"]
    (card,) = fair["chair"].get(f"{API}/cards").json()
    assert (card["yours"]["text"], card["stands"]["fields"]["text"]) == (
        "Words of the second",
        "Words of the first",
    )
    second.pull()
    assert [one["status"] for one in second.cards.values()] == ["stale"]
    closed = fair["chair"].post(
        f"{API}/cards/{card['id']}", json={"how": "beside", "note": "ask again later"}
    )
    assert closed.json() == []
    kept = fair["chair"].get(f"{API}/cards", params={"closed": True}).json()
    assert [(one["yours"]["text"], one["closed"]) for one in kept] == [("Words of the second", "beside")]


def test_of_a_hundred_and_fifty_tablets_that_propose_at_once_one_counts_and_all_are_kept_and_shown(
    fair: Served,
) -> None:
    tablets = _many(fair, 150)
    for number, tablet in enumerate(tablets):
        body = {"outcome": "accept", "reasons": [f"reason {number}"]}
        tablet.make("outcome.proposed", "7-001", body, base="")
    found: list[str] = []
    threads = [threading.Thread(target=lambda one=one: found.extend(statuses(one.push()))) for one in tablets]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert (found.count("ok"), found.count("stale")) == (1, 149)
    cards = fair["chair"].get(f"{API}/cards").json()
    texts = {card["yours"]["reasons"][0] for card in cards}
    texts |= {cards[0]["stands"]["fields"]["reasons"][0]}
    assert texts == {f"reason {number}" for number in range(150)}
    assert whole(fair)


def test_of_a_hundred_and_fifty_who_confirm_the_same_proposal_at_the_desk_one_counts_and_all_are_kept(
    fair: Served,
) -> None:
    tablet = pair(fair, "leader")
    tablet.make("outcome.proposed", "7-001", {"outcome": "accept"}, base="")
    tablet.push_all()
    base = tablet.ids()[0]
    found: list[int] = []

    def confirm() -> None:
        client = fair.let_in("leader")
        found.append(client.post(f"{API}/objects/7-001/confirm", json={"base": base}).status_code)

    threads = [threading.Thread(target=confirm) for _ in range(150)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert (found.count(201), found.count(409)) == (1, 149)
    cards = fair["chair"].get(f"{API}/cards").json()
    assert [(card["kind"], card["status"]) for card in cards] == [("outcome.confirmed", "stale")] * 149


def _many(fair: Served, count: int) -> list[Tablet]:
    """Paired tablets, without the time that PINs take."""
    floor = fair.app.state.floors.get()
    epoch = fair.desk.fair.journal.store.head().epoch
    made = []
    for _ in range(count):
        code = floor.pairing.new_code("steward")
        tablet = Tablet(fair.stranger(), who="leader", epoch=epoch)
        asked = tablet.ask(code.long)
        tablet.dev = floor.say_yes(asked["pairing"], by="steward", person="leader")
        assert tablet.paired() == "yes"
        made.append(tablet)
    return made


def test_a_full_disk_at_the_desk_is_said_nothing_is_acknowledged_and_it_resumes(
    fair: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    tablet = pair(fair, "member")
    tablet.make("observation.made", "7-001", SEEN)
    store = fair.desk.fair.journal.store

    def failing(error: Exception) -> Future[list[Result]]:
        later: Future[list[Result]] = Future()
        later.set_exception(error)
        return later

    full = LedgerFullError("The disk is full.")
    broken = LedgerBrokenError("The disk reported a fault.")
    for fault, status in ((full, 507), (broken, 503)):
        with monkeypatch.context() as patched:
            patched.setattr(store, "append_later", lambda *_, error=fault, **__: failing(error))
            said = tablet.push()
            assert (said.status_code, tablet.acked) == (status, 0)
            assert tablet.client.get(f"{API}/pull").status_code == 200
    assert statuses(tablet.push()) == ["ok"]


def test_a_tablet_out_of_its_mind_waits_and_the_others_do_not(
    fair: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(floors, "MOST_IN_WINDOW", 5)
    wild, calm = pair(fair, "member"), pair(fair, "leader")
    for _ in range(6):
        wild.make("observation.made", "7-001", SEEN)
    said = wild.push()
    assert (said.status_code, said.json()["problem"]["code"]) == (429, "quota")
    assert 0 < int(said.headers["Retry-After"]) <= 60
    calm.make("observation.made", "7-001", SEEN)
    assert statuses(calm.push()) == ["ok"]
    assert statuses(wild.push(5)) == ["ok"] * 5


def test_too_many_events_or_bytes_are_refused_before_anything_is_looked_at(fair: Served) -> None:
    tablet = pair(fair, "member")
    many = [tablet.make("observation.made", "7-001", SEEN) for _ in range(201)]
    assert tablet.client.post(f"{API}/push", json=tablet.body(many)).status_code == 422
    big = tablet.body([{"raw": "x" * 1_100_000, "open": [], "sig": ""}])
    assert tablet.client.post(f"{API}/push", json=big).status_code == 413
    odd = tablet.body([{"raw": "\ud800", "open": [], "sig": ""}])
    content = json.dumps(odd).encode()
    said = tablet.client.post(f"{API}/push", content=content, headers={"content-type": "application/json"})
    assert statuses(said) == ["refused"]


def test_what_a_tablet_says_of_its_queue_is_what_the_desk_shows(fair: Served) -> None:
    tablet = pair(fair, "member")
    for _ in range(7):
        tablet.make("observation.made", "7-001", SEEN)
    tablet.pull()
    (shown,) = fair["office"].get(f"{API}/devices").json()["tablets"]
    assert (shown["queue"], shown["dev"]) == (7, tablet.dev)
    tablet.push_all()
    tablet.pull()
    (shown,) = fair["office"].get(f"{API}/devices").json()["tablets"]
    assert (shown["queue"], shown["behind"] > 0) == (0, True)


def test_a_push_read_in_one_step_and_one_read_the_usual_way_get_the_same_answers(fair: Served) -> None:
    tablet = pair(fair, "member")
    good = tablet.body([tablet.make("observation.made", "7-001", SEEN)])
    bad = [{**good, "more": 1}, {**good, "queue": -1}, {**good, "events": [{}]}, [], {}]
    told = []
    for kind in ("application/json", "application/json; charset=utf-8"):
        said = [
            tablet.client.post(f"{API}/push", content=content, headers={"content-type": kind})
            for content in (
                *(json.dumps(one) for one in (good, good, *bad)),
                "{",
                "",
                '{"proto":1,"proto":9}',
            )
        ]
        told.append([(one.status_code, {**one.json(), "now_ms": 0}) for one in said[1:]])
        assert said[0].status_code == 200
    assert told[0] == told[1]
    assert [status for status, _ in told[0]] == [200, *[422] * 8]
    stranger = fair.stranger()
    assert {stranger.post(f"{API}/push", json=one).status_code for one in (good, bad[0])} == {401}
