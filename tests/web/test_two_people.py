"""What two people do: signed at one desk, or agreed from where the second is signed in; everything is asked again then."""

from typing import Any

import pytest

from planish.errands.people import seconding
from tests.web.fairs import API, PASS, Served

OBJECT = "7-002"


def to_remove(fair: Served) -> None:
    for who in ("leader", "member", "other"):
        fair.vote(who, OBJECT, outcome="remove", reason="cast after a worn piece")
    said = fair["leader"].post(f"{API}/objects/{OBJECT}/count", json={})
    assert said.status_code == 201, said.text
    assert said.json()["answer"]["outcome"] == "remove", said.text


def ask(fair: Served, who: str = "chair", what: str = "confirm", **more: Any) -> Any:
    return fair[who].post(f"{API}/seconds", json={"what": what, "object": OBJECT, **more})


def waiting(fair: Served, who: str) -> list[str]:
    return [one["id"] for one in fair[who].get(f"{API}/seconds").json()["for_you"]]


def test_a_removal_is_agreed_from_another_device_and_both_names_stand_in_the_log(fair: Served) -> None:
    to_remove(fair)
    assert fair["chair"].post(f"{API}/objects/{OBJECT}/confirm", json={}).status_code == 409
    asked = ask(fair)
    assert asked.status_code == 201, asked.text
    one = asked.json()["id"]
    assert fair.desk.fair.state.objects[OBJECT].state.examination == "proposed", "nothing is recorded yet"
    assert waiting(fair, "leader") == [one]
    assert waiting(fair, "chair") == []
    assert fair["member"].get(f"{API}/seconds").status_code == 403
    assert fair["leader"].post(f"{API}/seconds/{one}/agree").status_code == 201
    event = fair.desk.fair.state.objects[OBJECT].events[-1]
    assert (event.kind, event.who, event.body["second"]) == ("outcome.confirmed", "chair", "leader")
    assert fair["leader"].post(f"{API}/seconds/{one}/agree").status_code == 404, "it is done once"


def test_nobody_agrees_with_themselves_or_without_the_role(fair: Served) -> None:
    to_remove(fair)
    one = ask(fair).json()["id"]
    for who in ("chair", "office", "steward"):  # the office signs no confirmation
        assert fair[who].post(f"{API}/seconds/{one}/agree").status_code == 403, who
    for who in ("member", "scribe", "auditor", "stand 7", "laboratory", "appeals"):
        assert fair[who].post(f"{API}/seconds/{one}/agree").status_code == 403, who
    assert ask(fair, "member").status_code == 403
    assert waiting(fair, "leader") == [one], "a wrong try does not take it away"


def test_whoever_has_a_conflict_does_not_agree(fair: Served) -> None:
    to_remove(fair)
    fair["chair"].post(f"{API}/people/leader/conflicts", json={"stand": "7", "reason": "sold it"})
    one = ask(fair).json()["id"]
    assert waiting(fair, "leader") == []
    assert fair["leader"].post(f"{API}/seconds/{one}/agree").status_code == 403


def test_what_changed_meanwhile_is_not_agreed_to(fair: Served) -> None:
    to_remove(fair)
    one = ask(fair).json()["id"]
    second = {"second": {"person": "leader", "passphrase": PASS}}
    assert fair["deputy"].post(f"{API}/objects/{OBJECT}/confirm", json=second).status_code == 201
    said = fair["leader"].post(f"{API}/seconds/{one}/agree")
    assert (said.status_code, said.json()["problem"]["code"]) == (409, "second.stale")


def test_whoever_lost_the_role_since_asking_asked_for_nothing(fair: Served) -> None:
    to_remove(fair)
    one = ask(fair, "deputy").json()["id"]
    assert fair["chair"].delete(f"{API}/people/deputy/roles/deputy").status_code == 200
    assert fair["leader"].post(f"{API}/seconds/{one}/agree").status_code in (403, 409)
    assert fair.desk.fair.state.objects[OBJECT].state.examination == "proposed"


def test_a_request_is_taken_back_by_who_asked_and_ends_by_itself(
    fair: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    to_remove(fair)
    one = ask(fair).json()["id"]
    assert fair["deputy"].delete(f"{API}/seconds/{one}").status_code == 404
    assert fair["chair"].delete(f"{API}/seconds/{one}").status_code == 200
    assert waiting(fair, "leader") == []
    two = ask(fair).json()["id"]
    now = fair.desk.now()
    monkeypatch.setattr(type(fair.desk), "now", lambda _: now + seconding.LASTS_MS + 1)
    assert waiting(fair, "leader") == []
    assert fair["leader"].post(f"{API}/seconds/{two}/agree").status_code == 404


def test_reopening_asks_for_a_reason_and_is_agreed_by_the_office(fair: Served) -> None:
    to_remove(fair)
    second = {"second": {"person": "leader", "passphrase": PASS}}
    assert fair["chair"].post(f"{API}/objects/{OBJECT}/confirm", json=second).status_code == 201
    assert ask(fair, what="reopen").json()["problem"]["code"] == "reason.missing"
    one = ask(fair, what="reopen", reason="a bill was found").json()["id"]
    assert fair["office"].post(f"{API}/seconds/{one}/agree").status_code == 201
    assert fair.desk.fair.state.objects[OBJECT].state.examination == "reopened"
