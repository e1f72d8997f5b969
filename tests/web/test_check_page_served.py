"""The buyer's page at the desk: no account, its own policy, what a seal is worth now, and nothing else of the fair."""

from hashlib import sha256

from planish.errands.seals import sealing
from tests.web.fairs import API, PASS, Served
from tests.web.test_sealing_in_the_browser import OBJECT, WORDS, accepted, seal, unlock, with_keys


def sealed(fair: Served) -> tuple[str, bytes]:
    accepted(fair)
    with_keys(fair)
    unlock(fair)
    made = seal(fair).json()[0]
    return made["check"], sealing.seal_of(fair.desk.fair, fair.desk.fair.state.objects[OBJECT])


def test_before_there_are_keys_there_is_no_page(fair: Served) -> None:
    assert fair.stranger().get("/check/").status_code == 404


def test_a_stranger_opens_the_page_and_asks_what_a_seal_is_worth(fair: Served) -> None:
    code, bytes_ = sealed(fair)
    buyer = fair.stranger()
    assert buyer.get("/check", follow_redirects=False).headers["location"] == "/check/"
    page = buyer.get("/check/")
    assert page.status_code == 200
    policy = page.headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "'unsafe-inline'" not in policy
    for name in ("page.js", "seal.js", "words.js", "page.css", "worker.js"):
        assert buyer.get(f"/check/{name}").status_code == 200, name
    for hidden in ("MARKPRICE", "MARKNAME", "MARKOTHER", "Stand 7 of the tests", "flagon"):
        assert hidden not in page.text, hidden
    digest = sha256(bytes_).hexdigest()
    assert buyer.get(f"/check/state/{digest}").json() == {"state": "sealed"}
    assert buyer.get(f"/check/state/{'0' * 64}").json() == {"state": "unknown"}
    found = buyer.get(f"/check/code/{code.lower()}").json()["seal"]
    assert found in page.text, "a small fair's seals travel with the page"
    for wrong in ("0000-0000-0", "x", "../keys/seal.pem", "%2e%2e%2fledger.db", "a" * 60):
        assert buyer.get(f"/check/code/{wrong}").status_code == 404, wrong
        assert buyer.get(f"/check/{wrong}").status_code == 404, wrong


def test_it_tells_a_withdrawn_seal_and_one_whose_words_came_later(fair: Served) -> None:
    _, first = sealed(fair)
    buyer = fair.stranger()
    second = {"person": "olga", "passphrase": PASS}
    body = {"reason": "the card hung elsewhere", "second": second}
    assert fair["chair"].post(f"{API}/objects/{OBJECT}/seal/revoke", json=body).status_code == 201
    assert buyer.get(f"/check/state/{sha256(first).hexdigest()}").json() == {"state": "revoked"}
    assert WORDS not in buyer.get("/check/").text, "seals are signed bytes, not readable words"
