"""The whole desk with the keys locked: ballots are taken in, lie covered, and are counted only once the keys are unlocked."""

import pytest

from planish.errands.opening.serving import Desk
from tests.web.fairs import API, Served
from tests.web.test_sealing_in_the_browser import KEY_PASS, unlock, with_keys

OBJECT = "7-001"


def on_disk(fair: Served) -> bytes:
    return b"".join(path.read_bytes() for path in fair.folder.rglob("*") if path.is_file())


def test_ballots_are_taken_in_covered_and_counted_when_unlocked(fair: Served) -> None:
    fair.vote("leader", OBJECT, reason="MARKREST one", outcome="accept")
    assert b"MARKREST" in on_disk(fair), "before there are keys they lie readable, and the pages say so"
    assert fair["chair"].get(f"{API}/keys").json()["ballots"] == "readable"
    with_keys(fair)
    assert b"MARKREST" not in on_disk(fair), "what lay readable is covered as soon as both sheets were tried"
    assert fair["chair"].get(f"{API}/keys").json()["ballots"] == "covered"
    for who in ("member", "other"):
        fair.vote(who, OBJECT, reason=f"MARKREST {who}", outcome="accept")
    assert b"MARKREST" not in on_disk(fair)
    said = fair["leader"].post(f"{API}/objects/{OBJECT}/count", json={})
    assert (said.status_code, said.json()["problem"]["code"]) == (409, "ballots.covered")
    mine = fair["member"].get(f"{API}/objects/{OBJECT}").json()
    assert [one["round"] for one in mine["own_ballots"]] == [1]
    assert any("lies covered" in line for line in mine["hidden"])
    twice = {"ballots": [{"object": OBJECT, "outcome": "accept"}]}
    assert fair["member"].post(f"{API}/ballots", json=twice).json()["problem"]["code"] == "ballot.locked"
    unlock(fair)
    assert fair["member"].get(f"{API}/objects/{OBJECT}").json()["own_ballots"][0]["reasons"] == [
        "MARKREST member"
    ]
    said = fair["leader"].post(f"{API}/objects/{OBJECT}/count", json={})
    assert said.json()["answer"]["outcome"] == "accept", said.text
    assert fair["leader"].get(f"{API}/objects/{OBJECT}").json()["answer"]["outcome"] == "accept"
    fair["office"].post(f"{API}/keys/lock")
    page = fair["leader"].get(f"{API}/objects/{OBJECT}")
    assert page.status_code == 200
    assert page.json()["answer"] is None
    assert page.json()["outcome"] == "accept"


def test_a_desk_started_again_is_locked_and_a_passphrase_of_the_environment_unlocks_it(
    fair: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    with_keys(fair)
    for who in ("leader", "member", "other"):
        fair.vote(who, OBJECT, outcome="accept")
    fair.desk.close()
    again = Desk(fair.folder)
    assert again.ballots_lie == "covered"
    again.close()
    monkeypatch.setenv("PLANISH_PASSPHRASE", KEY_PASS)
    open_ = Desk(fair.folder)
    assert open_.ballots_lie == "open"
    open_.close()
    fair.desk = Desk(fair.folder)  # closed by the fixture
