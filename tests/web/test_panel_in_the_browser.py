"""Like cases, second looks and appeals over the API: who reads what, who may hear, and no ballot anywhere."""

from typing import Any

import pytest

from tests.web.fairs import API, PASS, Served

OBJECT, TWIN = "7-002", "8-002"
TWINS = 'No,Description,Price\n1,"MARKOTHER copper kettle, 19th century",80\n2,"Brass candlestick, George I, 1911",70\n'


def treated(fair: Served, object_id: str, outcome: str) -> None:
    for who in ("leader", "member", "other"):
        given = {
            "object": object_id,
            "outcome": outcome,
            "reasons": ["the stamp is of 1911"],
            "wording": f"MARKBALLOT-{who}",
        }
        said = fair[who].post(f"{API}/ballots", json={"ballots": [given]})
        assert said.status_code == 201, said.text
    said = fair["leader"].post(f"{API}/objects/{object_id}/count", json={})
    assert said.json()["answer"]["outcome"] == outcome, said.text
    second = {"second": {"person": "leader", "passphrase": PASS}} if outcome == "remove" else {}
    said = fair["chair"].post(f"{API}/objects/{object_id}/confirm", json=second)
    assert said.status_code == 201, said.text


@pytest.fixture
def unlike(fair: Served) -> Served:
    """The same fault on two stands, treated unlike."""
    fair.take("office", "8", TWINS)
    treated(fair, OBJECT, "remove")
    treated(fair, TWIN, "accept")
    return fair


def appeal(fair: Served, evidence: list[str]) -> Any:
    body = {"words": "the stamp is the seller's", "evidence": evidence}
    return fair["stand 7"].post(f"{API}/counter/objects/{OBJECT}/appeal", json=body)


def test_like_cases_with_unlike_outcomes_are_shown_to_who_may_see_both(unlike: Served) -> None:
    found = unlike["chair"].get(f"{API}/unlike-cases").json()
    assert [{one["one"], one["other"]} for one in found] == [{OBJECT, TWIN}], found
    assert "MARKBALLOT" not in str(found)
    for who in ("member", "steward", "stand 7", "auditor", "laboratory"):
        assert unlike[who].get(f"{API}/unlike-cases").status_code == 403, who
    pair = {"one": found[0]["one"], "other": found[0]["other"]}
    assert unlike["leader"].post(f"{API}/unlike-cases", json=pair).status_code == 201
    assert unlike["chair"].get(f"{API}/unlike-cases").json()[0]["noted"]
    unlike["chair"].post(f"{API}/people/leader/conflicts", json={"stand": "8", "reason": "sold there"})
    assert unlike["leader"].get(f"{API}/unlike-cases").json() == []
    assert unlike["leader"].post(f"{API}/unlike-cases", json=pair).status_code == 404


def test_a_member_reads_like_cases_once_the_own_view_is_locked(fair: Served) -> None:
    fair.take("office", "8", TWINS)
    treated(fair, TWIN, "accept")
    at = f"{API}/objects/{OBJECT}/like-cases"
    assert fair["third"].get(at).status_code == 403
    fair.vote("third", OBJECT)
    said = fair["third"].get(at)
    assert said.status_code == 200, said.text
    assert [one["object"] for one in said.json()["cases"]] == [TWIN]
    assert fair["stand 7"].get(at).status_code == 403


def test_second_looks_say_what_and_never_why(unlike: Served) -> None:
    drawn = unlike["chair"].post(f"{API}/second-looks", json={"size": 5, "among": "seen"})
    assert drawn.status_code == 201, drawn.text
    assert "seed" in drawn.json()["words"]
    plan = unlike["third"].get(f"{API}/second-looks").json()
    assert {one["object"] for one in plan["looks"]} == {OBJECT, TWIN}
    assert all(one["may_look"] and not one["chance"] for one in plan["looks"])
    assert (plan["would_pay"], plan["pace"], plan["missed"]) == (None, [], [])
    assert "lot" not in str(plan)
    assert unlike["chair"].get(f"{API}/second-looks").json()["missed"]
    at = f"{API}/objects/{OBJECT}/second-look"
    mine = {
        one["object"]: one["may_look"] for one in unlike["member"].get(f"{API}/second-looks").json()["looks"]
    }
    assert mine == {OBJECT: False, TWIN: False}
    assert unlike["member"].post(at, json={"found": "nothing"}).json()["problem"]["code"] == "looks.same_eyes"
    assert unlike["third"].post(at, json={"found": "fault"}).status_code == 400
    assert unlike["third"].post(at, json={"found": "nothing"}).status_code == 201
    for who in ("member", "leader", "steward", "stand 7", "appeals"):
        assert unlike[who].post(f"{API}/second-looks", json={"size": 1}).status_code == 403, who


def test_an_appeal_brings_something_new_and_is_heard_by_others(unlike: Served) -> None:
    assert (
        unlike["stand 8"].post(f"{API}/counter/objects/{OBJECT}/appeal", json={"words": "x"}).status_code
        == 404
    )
    assert appeal(unlike, []).json()["problem"]["code"] == "appeal.nothing_new"
    assert appeal(unlike, ["bill of the smith, 1911"]).status_code == 201
    assert appeal(unlike, ["again"]).status_code == 409, "one appeal is open"
    waiting = unlike["stand 7"].get(f"{API}/counter/objects/{OBJECT}").json()
    assert (waiting["outcome"], waiting["says"]) == ("remove", "is taken off the stand; your appeal is open")
    assert "the stamp is of 1911" in waiting["reasons"]
    at = f"{API}/objects/{OBJECT}/appeal"
    shown = unlike["appeals"].get(at).json()
    assert shown["evidence"] == [{"words": "bill of the smith, 1911", "new": True}]
    assert "the stamp is of 1911" in shown["reasons"]
    assert not {"leader", "member", "other", "third"} & set(shown["may_hear"])
    assert "MARKBALLOT" not in str(shown)
    office = unlike["office"].get(at).json()
    assert (office["reasons"], office["readings"], office["seen"]) == ([], [], [])
    for who in ("member", "steward", "auditor", "laboratory", "stand 7"):
        assert unlike[who].get(at).status_code == 403, who
    given = {
        "outcome": "accept",
        "reasons": ["the bill names this piece"],
        "members": ["chair", "deputy", "appeals"],
    }
    for who in ("office", "leader", "member", "stand 7"):
        assert unlike[who].post(f"{at}/decision", json=given).status_code == 403, who
    same = {**given, "members": ["chair", "deputy", "member"]}
    assert (
        unlike["appeals"].post(f"{at}/decision", json=same).json()["problem"]["code"] == "appeal.same_panel"
    )
    few = {**given, "members": ["chair"]}
    assert unlike["appeals"].post(f"{at}/decision", json=few).json()["problem"]["code"] == "appeal.quorum"
    paper = unlike["appeals"].get(f"{at}.pdf")
    assert paper.content.startswith(b"%PDF")
    assert unlike["office"].get(f"{at}.pdf").status_code == 403
    done = unlike["appeals"].post(f"{at}/decision", json=given)
    assert done.status_code == 201, done.text
    assert unlike.desk.fair.state.objects[OBJECT].state.outcome == "accept"
    own = unlike["stand 7"].get(f"{API}/counter/objects/{OBJECT}").json()
    assert "the bill names this piece" in own["reasons"], own["reasons"]
    assert own["may_appeal"] is False


def test_those_who_hear_an_appeal_seal_first_and_the_count_decides(unlike: Served) -> None:
    assert appeal(unlike, ["bill of the smith, 1911"]).status_code == 201
    at = f"{API}/objects/{OBJECT}/appeal"
    shown = unlike["appeals"].get(at).json()
    assert (shown["round"], shown["sealed"], shown["needed"], shown["may"]) == (1, 0, 3, ["vote", "decide"])
    falls = [claim for claim in shown["claims"] if claim.startswith("date")][:1]
    sealed = unlike["appeals"].post(f"{at}/view", json={"outcome": "accept", "reasons": ["MARKVIEW"]})
    assert sealed.status_code == 201, sealed.text
    strange = {"outcome": "relabel", "falls": ["nothing: at all"]}
    assert (
        unlike["chair"].post(f"{at}/view", json=strange).json()["problem"]["code"] == "ballot.no_such_claim"
    )
    assert unlike["chair"].post(f"{at}/count").json()["problem"]["code"] == "appeal.quorum"
    waiting = unlike["chair"].get(at).json()
    assert (waiting["sealed"], waiting["own_sealed"], waiting["may"]) == (1, False, ["vote"])
    assert "MARKVIEW" not in str(waiting)
    for who, view in (("chair", {"outcome": "accept"}), ("deputy", {"outcome": "relabel", "falls": falls})):
        assert unlike[who].post(f"{at}/view", json=view).status_code == 201
    again = unlike["chair"].post(f"{at}/count").json()
    assert (again["round"], again["sealed"], again["decided"]) == (2, 0, "")
    assert again["talk"][-1] == "The outcomes proposed do not decide it."
    for who in ("appeals", "chair", "deputy"):
        view = {"outcome": "accept", "reasons": ["the bill names this piece"]}
        assert unlike[who].post(f"{at}/view", json=view).status_code == 201
    done = unlike["chair"].post(f"{at}/count").json()
    assert (done["decided"], done["outcome"], done["may"]) == ("accept", "accept", [])
    own = unlike["stand 7"].get(f"{API}/counter/objects/{OBJECT}").json()
    assert "the bill names this piece" in own["reasons"]


def test_a_late_appeal_is_taken_in_by_the_office_with_why(
    unlike: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    from planish.errands.opening import clock

    later = clock.now_ms() + 90 * 86_400_000
    monkeypatch.setattr(clock, "now_ms", lambda: later)
    monkeypatch.setattr(unlike.desk.accounts, "_now", lambda: later - 90 * 86_400_000)
    assert appeal(unlike, ["a bill"]).json()["problem"]["code"] == "appeal.late"
    body = {"words": "the exhibitor was in hospital", "evidence": ["a bill"], "late": ""}
    at = f"{API}/objects/{OBJECT}/appeal"
    assert unlike["office"].post(at, json=body).json()["problem"]["code"] == "appeal.late"
    said = unlike["office"].post(at, json={**body, "late": "in hospital since the slip"})
    assert said.status_code == 201, said.text
    assert said.json()["late"] == "in hospital since the slip"
