"""Pairing, PINs, revoking and the desk's key, over the routes."""

import base64

import pytest
from argon2 import PasswordHasher
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ec import ECDSA, EllipticCurvePublicKey
from cryptography.hazmat.primitives.asymmetric.utils import encode_dss_signature
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import load_der_public_key

from planish.errands.hall.desk_key import DeskKey, hello_bytes
from planish.errands.hall.floor import Floor
from planish.errands.hall.pairing import LASTS_MS, LONG, SHORT, Pairing, four_words
from planish.errands.opening.refusing import Refused
from planish.errands.people.accounts import Wait
from planish.ledger.verifying import verify
from tests.sync.tablets import API, PIN, Tablet, pair, signature
from tests.web.fairs import Served

SEEN = {"kind": "wear", "words": "rubbed at the rim"}


def floor(fair: Served) -> Floor:
    """The floor of the served fair."""
    found: Floor = fair.app.state.floors.get()
    return found


def statuses(said: object) -> list[str]:
    return [one["status"] for one in said.json()["results"]]  # type: ignore[attr-defined]


def test_a_tablet_is_paired_with_a_code_four_words_and_a_yes_and_writes_what_the_desk_has(
    fair: Served,
) -> None:
    tablet = pair(fair, "member")
    assert tablet.dev == "tablet-1"
    tablet.make("observation.made", "7-001", SEEN)
    assert statuses(tablet.push()) == ["ok"]
    assert tablet.pull().status_code == 200
    assert [one["words"] for one in tablet.objects["7-001"]["observations"]] == ["rubbed at the rim"]


def test_a_code_works_once_and_for_ten_minutes_long_or_typed() -> None:
    now = 1_000
    pairing = Pairing(desk_key="K", now=lambda: now)
    given = {"key": "", "nonce": "n", "name": "", "again": "", "checks": {}}
    first = pairing.new_code("steward")
    assert (len(first.long), len(first.typed)) == (LONG, SHORT)
    assert pairing.ask(f" {first.typed[:4].lower()}-{first.typed[4:]} ", **given) is not None  # type: ignore[arg-type]
    assert pairing.ask(first.typed, **given) is None  # type: ignore[arg-type]
    assert pairing.ask(first.long, **given) is None  # type: ignore[arg-type]
    second = pairing.new_code("steward")
    now += LASTS_MS
    assert pairing.ask(second.long, **given) is None  # type: ignore[arg-type]
    assert pairing.waiting() == []


def test_somebody_in_between_with_another_key_shows_other_words() -> None:
    honest = four_words("ABCD-EFGH", desk_key="desk", key="tablet", nonce="n")
    assert honest == four_words("abcdefgh", desk_key="desk", key="tablet", nonce="n")
    others = [
        four_words("ABCDEFGH", desk_key="other", key="tablet", nonce="n"),
        four_words("ABCDEFGH", desk_key="desk", key="other", nonce="n"),
        four_words("ABCDEFGH", desk_key="desk", key="tablet", nonce="m"),
    ]
    assert honest not in others


def test_nothing_is_handed_out_before_the_steward_says_yes_and_nothing_after_a_no(fair: Served) -> None:
    code = fair["steward"].post(f"{API}/devices/codes").json()
    assert "<svg" in code["qr"]
    assert code["url"].endswith("/pair#" + code["code"])
    tablet = Tablet(fair.stranger())
    asked = tablet.ask(code["typed"])
    assert tablet.paired() == "waiting"
    assert tablet.client.get(f"{API}/device").status_code == 401
    assert tablet.client.post(f"{API}/push", json=tablet.body([])).json()["problem"]["code"] == "device"
    waiting = fair["steward"].get(f"{API}/devices").json()["waiting"]
    assert [one["words"] for one in waiting] == [asked["words"]]
    assert fair["steward"].post(f"{API}/devices/waiting/{asked['pairing']}/no").status_code == 201
    assert tablet.paired() == "no"
    assert tablet.client.get(f"{API}/device").status_code == 401
    assert fair["member"].post(f"{API}/devices/codes").status_code == 403


@pytest.fixture
def quick(fair: Served) -> Floor:
    """The floor with a hash that costs nothing: here only the counting of tries is looked at."""
    found = floor(fair)
    found.tablets._hasher = PasswordHasher(time_cost=1, memory_cost=8, parallelism=1)
    return found


def test_of_ten_thousand_guesses_at_a_pin_five_are_answered_and_other_tablets_go_on(
    fair: Served, quick: Floor
) -> None:
    victim, other = pair(fair, "member"), pair(fair, "leader")
    tablet = next(one for one in quick.tablets.all() if one.dev == victim.dev)
    answered = waited = 0
    for guess in range(10_000):
        try:
            quick.unlock(tablet, "member", f"{guess:08}")
        except Refused:
            answered += 1
        except Wait:
            waited += 1
    assert (answered, waited) == (5, 9_995)
    said = victim.client.post(f"{API}/unlock", json={"person": "member", "pin": PIN})
    assert said.status_code == 429
    assert int(said.headers["Retry-After"]) > 0
    assert other.unlock(first=False) == 201


def test_of_ten_thousand_guesses_from_a_hundred_and_fifty_tablets_each_answers_five(
    quick: Floor,
) -> None:
    by, key = "steward", ""
    for _ in range(150):
        code = quick.pairing.new_code(by)
        given = {"key": key, "nonce": "n", "name": "", "again": "", "checks": {}}
        asking = quick.pairing.ask(code.long, **given)  # type: ignore[arg-type]
        assert asking is not None
        quick.say_yes(asking.id, by=by, person="member")
    tablets = quick.tablets.all()
    answered = 0
    for guess in range(10_000):
        try:
            quick.unlock(tablets[guess % 150], "member", f"{guess:08}")
        except Refused:
            answered += 1
        except Wait:
            continue
    assert answered == 150 * 5


def test_wrong_codes_make_the_one_who_guesses_wait_and_nobody_else(fair: Served) -> None:
    code = fair["steward"].post(f"{API}/devices/codes").json()["code"]
    made = floor(fair)
    given = {"key": "", "nonce": "n", "name": "", "again": "", "checks": {}}
    answered = 0
    for guess in range(10_000):
        try:
            made.ask(f"{guess:08}", client="10.0.0.9", **given)  # type: ignore[arg-type]
        except Refused:
            answered += 1
        except Wait:
            continue
    assert answered == 5
    assert made.ask(code, client="10.0.0.10", **given).state == "waiting"  # type: ignore[arg-type]


def test_a_pin_is_set_once_on_a_paired_tablet_and_not_an_easy_one(fair: Served) -> None:
    tablet = pair(fair, "member")
    for easy in ("11111111", "12345678", "87654321", "12121212", "20262026", "1234567", "abcdefgh"):
        said = tablet.client.post(f"{API}/pair/pin", json={"person": "member", "pin": easy})
        assert said.json()["problem"]["code"] == "pin.easy"
    again = tablet.client.post(f"{API}/pair/pin", json={"person": "member", "pin": "31415926"})
    assert again.json()["problem"]["code"] == "pin.closed"
    stranger = fair.stranger()
    said = stranger.post(f"{API}/unlock", json={"person": "member", "pin": PIN})
    assert said.json()["problem"]["code"] == "device"


def test_a_session_opened_by_a_pin_belongs_to_its_tablet_and_ends_with_the_lock(fair: Served) -> None:
    mine, other = pair(fair, "member"), pair(fair, "leader")
    token = mine.client.cookies.get("planish")
    other.client.cookies.set("planish", token)
    assert other.client.get(f"{API}/pull").json()["problem"]["code"] == "unlock"
    assert mine.client.get(f"{API}/pull").status_code == 200
    assert mine.client.post(f"{API}/lock").status_code == 204
    assert mine.client.get(f"{API}/pull").json()["problem"]["code"] == "unlock"
    mine.make("observation.made", "7-001", SEEN)
    assert statuses(mine.push()) == ["ok"]  # handing in needs no PIN


def test_a_second_person_writes_on_a_tablet_only_after_the_desk_named_them(fair: Served) -> None:
    tablet = pair(fair, "member")
    tablet.make("observation.made", "7-001", SEEN, who="leader")
    said = tablet.push().json()["results"]
    assert (said[0]["status"], said[0]["why"]) == ("denied", "The person has not set a PIN on this tablet.")
    named = fair["steward"].post(f"{API}/devices/{tablet.dev}/people", json={"person": "leader"})
    assert named.status_code == 201
    assert tablet.unlock("leader", "31415926") == 201
    tablet.make("observation.made", "7-001", SEEN)
    assert statuses(tablet.push()) == ["ok"]


def test_a_lost_tablet_hands_in_its_seven_reads_nothing_and_is_wiped(fair: Served) -> None:
    tablet = pair(fair, "member")
    for _ in range(7):
        tablet.make("observation.made", "7-001", SEEN)
    said = fair["office"].post(f"{API}/devices/{tablet.dev}/revoke", json={"how": "lost"})
    assert said.json()["tablets"][0]["state"] == "lost"
    pulled = tablet.client.get(f"{API}/pull")
    assert (pulled.status_code, pulled.json()["how"]) == (403, "lost")
    assert tablet.client.get(f"{API}/objects").status_code == 401
    assert tablet.client.get(f"{API}/device").json()["people"] == []
    early = tablet.client.post(f"{API}/handed_in", json={"queue": 7})
    assert early.status_code == 409
    assert statuses(tablet.push()) == ["held"] * 7
    wiped = tablet.client.post(f"{API}/handed_in", json={"queue": 0})
    assert '"storage"' in wiped.headers["Clear-Site-Data"]
    assert (
        "observations" not in fair["chair"].get(f"{API}/objects/7-001").text
        or not (fair["chair"].get(f"{API}/objects/7-001").json()["observations"])
    )
    cards = fair["chair"].get(f"{API}/cards").json()
    assert [card["status"] for card in cards] == ["held"] * 7
    released = fair["chair"].post(f"{API}/cards/{cards[0]['id']}", json={"how": "release"})
    assert len(released.json()) == 6
    assert len(fair["leader"].get(f"{API}/objects/7-001").json()["observations"]) == 1


def test_a_stolen_tablet_is_taken_from_and_told_nothing(fair: Served) -> None:
    tablet = pair(fair, "member")
    tablet.make("observation.made", "7-001", SEEN)
    fair["office"].post(f"{API}/devices/{tablet.dev}/revoke", json={"how": "stolen"})
    assert tablet.push().json() == {"taken": True}
    assert tablet.client.get(f"{API}/pull").status_code == 403
    shown = fair["office"].get(f"{API}/devices").json()
    assert [one["code"] for one in shown["alarms"]] == ["stolen"]
    assert len(fair["chair"].get(f"{API}/cards").json()) == 1


def test_the_cookie_of_a_tablet_shows_no_ballot_of_anybody_else(fair: Served) -> None:
    """Somebody who copies a stolen tablet's cookie, unlocked or not, gets its own person's view and no more."""
    fair.vote("other", "7-001", reason="MARKREASON")
    tablet = pair(fair, "member")
    thief = fair.stranger()
    thief.cookies.set("planish_device", tablet.client.cookies.get("planish_device"))
    assert thief.get(f"{API}/pull").status_code == 401
    tablet.pull()
    own = thief.get(f"{API}/own").text
    assert "MARKREASON" not in own + thief.get(f"{API}/device").text + str(tablet.objects) + str(
        tablet.entries
    )


def test_bytes_that_the_tablet_did_not_sign_leave_no_record_and_stay_on_the_tablet(fair: Served) -> None:
    tablet = pair(fair, "member")
    n = tablet.client.get(f"{API}/device").json()["head"]["n"]
    event = tablet.make("observation.made", "7-001", SEEN)
    good = event["sig"]
    flipped = bytearray(base64.b64decode(good))
    flipped[40] ^= 1
    for bad in ("", "AAAA", base64.b64encode(bytes(flipped)).decode()):
        event["sig"] = bad
        assert statuses(tablet.push()) == ["refused"]
    assert tablet.client.get(f"{API}/device").json()["head"]["n"] == n
    event["sig"] = good
    assert statuses(tablet.push()) == ["ok"]


def test_a_signature_taken_out_of_the_log_is_missed_and_the_entry_named(fair: Served) -> None:
    tablet = pair(fair, "member")
    tablet.make("observation.made", "7-001", SEEN)
    n = tablet.push().json()["results"][0]["n"]
    store = fair.desk.fair.journal.store
    assert verify(store) == ()  # type: ignore[arg-type]
    store._ask(lambda page: page.db.execute("DELETE FROM signature").fetchall())  # type: ignore[attr-defined]
    assert [(one.where, one.code) for one in verify(store)] == [(f"entry {n}", "ledger.signature")]  # type: ignore[arg-type]


def test_a_tablet_without_a_key_writes_and_only_the_desk_attests_it(fair: Served) -> None:
    tablet = pair(fair, "member", sign=False)
    tablet.make("observation.made", "7-001", SEEN)
    assert statuses(tablet.push()) == ["ok"]
    shown = fair["office"].get(f"{API}/devices").json()["tablets"]
    assert [one["signs"] for one in shown] == [False]


def signed_by(desk_key: str, said: str, fair: str, nonce: str) -> bool:
    key = load_der_public_key(base64.b64decode(desk_key))
    assert isinstance(key, EllipticCurvePublicKey)
    sig = base64.b64decode(said)
    r, s = int.from_bytes(sig[:32], "big"), int.from_bytes(sig[32:], "big")
    try:
        key.verify(encode_dss_signature(r, s), hello_bytes(fair, nonce), ECDSA(SHA256()))
    except InvalidSignature:
        return False
    return True


def test_the_desk_shows_which_desk_it_is_and_another_under_its_name_cannot(
    fair: Served, tmp_path_factory: pytest.TempPathFactory
) -> None:
    tablet, nonce = pair(fair, "member"), "ab" * 32
    said = tablet.client.post(f"{API}/hello", json={"nonce": nonce}).json()
    assert signed_by(said["desk_key"], said["sig"], tablet.fair, nonce)
    rogue = DeskKey(tmp_path_factory.mktemp("rogue"))
    assert not signed_by(said["desk_key"], rogue.hello(tablet.fair, nonce), tablet.fair, nonce)
    assert not signed_by(said["desk_key"], said["sig"], tablet.fair, "cd" * 32)


def test_a_tablet_that_lost_its_cookies_comes_back_as_itself_with_its_queue(fair: Served) -> None:
    tablet = pair(fair, "member")
    tablet.make("observation.made", "7-001", SEEN)
    tablet.push()
    tablet.make("observation.made", "7-002", SEEN)
    tablet.client.cookies.clear()
    assert tablet.push().status_code == 401
    code = fair["steward"].post(f"{API}/devices/codes").json()["code"]
    dev = tablet.dev
    asked = tablet.ask(code, again=dev)
    assert [one["again"] for one in fair["steward"].get(f"{API}/devices").json()["waiting"]] == [dev]
    fair["steward"].post(f"{API}/devices/waiting/{asked['pairing']}/yes", json={"person": "member"})
    assert tablet.paired() == "yes"
    assert tablet.dev == dev
    assert statuses(tablet.push()) == ["refused"]  # signed with the key before
    for event in tablet.queue():
        event["sig"] = signature(tablet.key, event["raw"].encode())
    assert statuses(tablet.push()) == ["ok"]
    assert verify(fair.desk.fair.journal.store) == ()  # type: ignore[arg-type]
