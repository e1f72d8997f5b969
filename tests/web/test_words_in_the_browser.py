"""Words found from opinions: the house form stands beside them and is asked for as it stands."""

from tests.web.fairs import API, Served

OBJECT = "7-002"


def counted(fair: Served) -> None:
    for who in ("leader", "member", "other"):
        fair.vote(who, OBJECT, reason="the stamp on the foot is of 1911")
    assert fair["leader"].post(f"{API}/objects/{OBJECT}/count", json={}).status_code == 201


def test_the_house_form_says_the_same_claims_and_can_be_asked_for(fair: Served) -> None:
    counted(fair)
    found = fair["leader"].get(f"{API}/objects/{OBJECT}/words").json()
    print(found)
    assert found["house"]
    assert found["house"] != found["text"]
    said = fair["leader"].post(f"{API}/objects/{OBJECT}/words/ask", json={"house": True})
    assert said.status_code == 201, said.text
    assert said.json()["text"] == found["house"]


def test_without_that_wish_the_smallest_change_is_asked(fair: Served) -> None:
    counted(fair)
    found = fair["leader"].get(f"{API}/objects/{OBJECT}/words").json()
    said = fair["leader"].post(f"{API}/objects/{OBJECT}/words/ask", json={})
    assert said.status_code == 201, said.text
    assert said.json()["text"] == found["text"]
