"""The API's description: on file as it is served, every operation named, every failure of one shape."""

from pathlib import Path

from planish.doors.web import openapi
from planish.doors.web.app import operations
from tests.web.fairs import API, Served


def test_the_description_on_file_is_what_is_served() -> None:
    kept = Path(openapi.FILE).read_text(encoding="utf-8")
    assert kept == openapi.described(), "run: python -m planish.doors.web.openapi"


def test_every_operation_has_a_name_of_its_own(shared_fair: Served) -> None:
    names = [name for _, _, name in operations(shared_fair.app)]
    assert len(names) > 60
    assert len(set(names)) == len(names)
    assert all(name.isidentifier() for name in names)


SHAPE = {"code", "where", "what", "why", "remedy"}
NOBODYS = {
    "session_now",
    "sign_in",
    "sign_in_with_card",
    "sign_out",
    "set_up_now",
    "set_up",
    "pair",
    "pair_state",
}


def test_every_route_says_who_may_come_in_and_fails_in_one_shape(shared_fair: Served) -> None:
    """A stranger asks every route with nonsense; whatever is no success has the one shape."""
    stranger = shared_fair.stranger()
    ops = operations(shared_fair.app)
    assert ops
    for method, path, name in ops:
        address = path
        for part in (
            "object_id",
            "stand",
            "person",
            "panel",
            "name",
            "intake",
            "fact_id",
            "which",
            "dev",
            "pairing",
            "event",
        ):
            address = address.replace("{" + part + "}", "x")
        address = address.replace("{role}", "member").replace("{number}", "1").replace("{digest}", "0" * 64)
        address = address.replace("{paper}", "slips")
        said = stranger.request(method, address, json={} if method in ("POST", "PUT") else None)
        if name in NOBODYS:
            assert said.status_code < 500
        else:
            assert said.status_code in (401, 422), (method, address, said.status_code)
        if said.status_code >= 400 and method != "HEAD":
            assert said.json().keys() == {"problem"}
            assert said.json()["problem"].keys() == SHAPE


def test_unknown_addresses_methods_and_bodies_fail_in_the_same_shape(shared_fair: Served) -> None:
    chair = shared_fair["chair"]
    tries = [
        (chair.get(f"{API}/nothing"), 404),
        (chair.get("/api"), 404),
        (chair.patch(f"{API}/board"), 405),
        (chair.post(f"{API}/people", content=b"{", headers={"content-type": "application/json"}), 422),
        (chair.post(f"{API}/people", json={"id": "x", "name": "y", "strange": 1}), 422),
        (chair.get(f"{API}/objects/none"), 404),
        (chair.get(f"{API}/objects", params={"size": 10_000}), 422),
    ]
    for said, status in tries:
        assert said.status_code == status, said.text
        assert said.json()["problem"].keys() == SHAPE


TWO_PEOPLE = {
    "confirm": {}, "final": {}, "reopen": {"reason": "x"}, "seal/revoke": {"reason": "x"},
    "redact": {"entry": 1, "ground": "law"},
}  # fmt: skip


def test_an_address_that_no_object_can_have_is_nothing_here_also_where_two_people_act(
    shared_fair: Served,
) -> None:
    """Found by generated requests: signs that no id may hold, in the address of an act of two people."""
    second = {"second": {"person": "olga", "passphrase": "x"}}
    for act, body in TWO_PEOPLE.items():
        for strange in ("v%1B%C3%B8", "a:b", "a,b", "%7F"):
            given = body if act in ("confirm", "final") else {**body, **second}
            said = shared_fair["chair"].post(f"{API}/objects/{strange}/{act}", json=given)
            assert (said.status_code, said.json()["problem"]["code"]) == (404, "not_found"), (
                act,
                strange,
                said.text,
            )
