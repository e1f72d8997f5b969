"""Keys, seals and holds over the API: made, tried, unlocked, read on the object, sealed, withdrawn by two."""

from typing import Any

from planish.errands.seals import keys, sealing
from planish.ledger.sealing import open_seal
from tests.web.fairs import API, PASS, Served

OBJECT = "7-003"
WORDS = "Bronze mortar, dated 1650, height 12 cm"
KEY_PASS = "four plain tin mugs"


def with_keys(fair: Served) -> dict[str, Any]:
    """Keys made and both sheets typed back."""
    made = fair["chair"].post(f"{API}/keys", json={"passphrase": KEY_PASS})
    assert made.status_code == 201, made.text
    for sheet in made.json()["sheets"]:
        said = fair["chair"].post(f"{API}/keys/sheets", json={"words": " ".join(sheet["words"])})
        assert said.status_code == 200, said.text
    assert said.json() == {"sheet": 2, "done": True}
    return dict(made.json())


def accepted(fair: Served, object_id: str = OBJECT) -> None:
    for who in ("leader", "member", "other"):
        fair.vote(who, object_id, outcome="accept")
    assert fair["leader"].post(f"{API}/objects/{object_id}/count", json={}).status_code == 201
    assert fair["leader"].post(f"{API}/objects/{object_id}/confirm", json={}).status_code == 201


def unlock(fair: Served) -> None:
    said = fair["office"].post(f"{API}/keys/unlock", json={"passphrase": KEY_PASS})
    assert said.status_code == 200, said.text
    assert said.json()["unlocked"]


def seal(fair: Served, words: str = WORDS) -> Any:
    return fair["steward"].post(f"{API}/seals", json={"labels": [{"object": OBJECT, "hangs": words}]})


def test_keys_are_made_tried_and_unlocked_before_anything_is_sealed(fair: Served) -> None:
    accepted(fair)
    assert fair["steward"].get(f"{API}/keys").json()["made"] is False
    assert seal(fair).json()["problem"]["code"] == "keys.locked"
    sheets = with_keys(fair)["sheets"]
    assert [len(one["words"]) for one in sheets] == [34, 34]
    wrong = fair["office"].post(f"{API}/keys/unlock", json={"passphrase": "another five plain words"})
    assert wrong.status_code == 400
    unlock(fair)
    assert seal(fair).status_code == 201
    assert fair["office"].post(f"{API}/keys/lock").json()["unlocked"] is False
    assert seal(fair).json()["problem"]["code"] == "keys.locked"


def test_sheets_are_told_once_and_the_words_lie_nowhere(fair: Served) -> None:
    sheet = with_keys(fair)["sheets"][1]["words"]
    assert fair["chair"].post(f"{API}/keys", json={"passphrase": KEY_PASS}).status_code == 400
    kept = b"".join(path.read_bytes() for path in fair.folder.rglob("*") if path.is_file())
    assert " ".join(sheet[:3]).encode() not in kept
    assert KEY_PASS.encode() not in kept


def test_a_wrong_passphrase_of_the_keys_is_guessed_five_times_and_no_more(fair: Served) -> None:
    with_keys(fair)
    for _ in range(5):
        said = fair["office"].post(f"{API}/keys/unlock", json={"passphrase": "guess"})
        assert said.status_code == 400
    said = fair["office"].post(f"{API}/keys/unlock", json={"passphrase": KEY_PASS})
    assert said.status_code == 429
    assert not fair.desk.keyring.unlocked


def test_only_the_words_that_hang_are_sealed(fair: Served) -> None:
    accepted(fair)
    with_keys(fair)
    unlock(fair)
    shown = fair["steward"].get(f"{API}/seals", params={"stand": "7"}).json()
    assert [(one["object"], one["words"]) for one in shown["ready"]] == [(OBJECT, WORDS)]
    other = seal(fair, WORDS.replace("1650", "1560"))
    assert (other.status_code, other.json()["problem"]["code"]) == (409, "seal.other_words")
    assert fair["member"].post(f"{API}/seals", json={"labels": []}).status_code in (403, 422)
    said = seal(fair)
    assert said.status_code == 201, said.text
    story = fair.desk.fair.state.objects[OBJECT]
    read = open_seal(sealing.seal_of(fair.desk.fair, story), keys.public_keys(fair.folder))
    assert (read.words, read.stand, read.number) == (WORDS, "7", "3")
    page = fair["office"].get(f"{API}/objects/{OBJECT}").json()
    assert page["seal"] == said.json()[0]["check"]
    assert page["label_stage"] == "sealed"
    assert seal(fair).status_code == 409, "a sealed label is not sealed again"


def test_all_labels_of_one_call_are_sealed_or_none(fair: Served) -> None:
    accepted(fair)
    with_keys(fair)
    unlock(fair)
    before = fair.desk.fair.state.n
    both = [{"object": OBJECT, "hangs": WORDS}, {"object": "7-001", "hangs": "Pewter flagon"}]
    assert fair["steward"].post(f"{API}/seals", json={"labels": both}).status_code == 409
    assert fair.desk.fair.state.n == before


def test_a_seal_is_withdrawn_by_two_and_the_list_of_the_check_page_says_so(fair: Served) -> None:
    accepted(fair)
    with_keys(fair)
    unlock(fair)
    assert seal(fair).status_code == 201
    reason = {"reason": "the card hung on another object"}
    alone = {**reason, "second": {"person": "olga", "passphrase": PASS}}
    assert fair["office"].post(f"{API}/objects/{OBJECT}/seal/revoke", json=alone).status_code == 409
    before = sealing.kept_list(fair.desk.fair)
    two = {**reason, "second": {"person": "olga", "passphrase": PASS}}
    said = fair["chair"].post(f"{API}/objects/{OBJECT}/seal/revoke", json=two)
    assert said.status_code == 201, said.text
    assert said.json()["label_stage"] == "as_hung"
    assert set(sealing.states(fair.desk.fair).values()) == {"revoked"}
    assert sealing.kept_list(fair.desk.fair) != before


def test_a_hold_is_put_on_by_the_floor_and_lifted_by_the_office_with_a_reason(fair: Served) -> None:
    given = {"sort": "stolen_query", "off_floor": True, "reason": "MARKHOLD like one reported missing"}
    at = f"{API}/objects/{OBJECT}/holds"
    assert fair["stand 7"].post(at, json=given).status_code == 403
    said = fair["member"].post(at, json=given)
    assert said.status_code == 201, said.text
    assert "MARKHOLD" not in said.text, "a member reads own moves and incidents only"
    again = fair["steward"].post(at, json=given).json()
    assert [one["name"] for one in again["holds"]] == ["stolen_query", "stolen_query-2"]
    assert again["holds"][0]["reason"] == given["reason"]
    assert fair["office"].get(f"{API}/objects/{OBJECT}").json()["may_be_shown"] is False
    lift = {"hold": "stolen_query", "reason": "another piece"}
    assert fair["member"].post(f"{at}/lift", json=lift).status_code == 403
    left = fair["office"].post(f"{at}/lift", json=lift).json()
    assert [one["name"] for one in left["holds"]] == ["stolen_query-2"]
    assert fair["office"].post(f"{at}/lift", json=lift).status_code == 409


def test_what_a_look_holds_besides_goes_to_its_instrument(fair: Served) -> None:
    """A registered number's year: the register's own list (found in the fact book), read from `more`."""
    given = {"kind": "mark", "more": {"registered": "412211"}, "original": True}
    said = fair["member"].post(f"{API}/objects/{OBJECT}/observations", json=given)
    assert said.status_code == 201, said.text
    look = said.json()["observations"][-1]
    assert look["more"] == {"registered": "412211"}
    assert any("1903" in sentence for sentence in look["sentences"]), look["sentences"]
    corners = {"circle": "I", "top": "R", "right": "12", "left": "K", "bottom": "6"}
    said = fair["member"].post(
        f"{API}/objects/{OBJECT}/observations", json={"kind": "mark", "more": {"diamond": corners}}
    )
    assert said.status_code == 201, said.text
    assert "top R" in said.json()["observations"][-1]["more"]["diamond"]
