"""The door itself: signing in, sessions, other sites, other names, guessing, set-up, headers, the log of who may."""

import signal
import subprocess
import sys
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from argon2 import PasswordHasher
from fastapi.testclient import TestClient

from planish.doors.web.app import create_app
from planish.errands.opening.refusing import Refused
from planish.errands.opening.serving import Desk
from planish.errands.people import accounts as accounts_module
from planish.errands.people.accounts import TRIES, WAIT_MS, Accounts, Wait
from tests.web.fairs import API, HOME, PASS, Served

SIGN_IN = {"person": "olga", "passphrase": PASS}


def test_a_cookie_planted_before_signing_in_opens_nothing_afterwards(shared_fair: Served) -> None:
    """Session fixation (OWASP session management sheet): the token is new at each sign-in, the one sent along ends."""
    client = shared_fair.stranger()
    client.cookies.set("planish", "planted")
    assert client.get(f"{API}/fair").status_code == 401
    first = client.post(f"{API}/session", json=SIGN_IN).cookies["planish"]
    assert first != "planted"
    client.cookies.clear()
    client.cookies.set("planish", first)
    second = client.post(f"{API}/session", json=SIGN_IN).cookies["planish"]
    assert second != first
    old = shared_fair.stranger()
    old.cookies.set("planish", first)
    assert old.get(f"{API}/fair").status_code == 401


def test_the_cookie_is_for_this_site_and_no_script(shared_fair: Served) -> None:
    said = shared_fair.stranger().post(f"{API}/session", json=SIGN_IN)
    cookie = said.headers["set-cookie"].casefold()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert "path=/" in cookie
    assert "domain" not in cookie


def test_with_a_certificate_the_cookie_is_bound_to_the_host(tmp_path: Path) -> None:
    """`__Host-` asks for Secure, Path=/ and no Domain (RFC 6265bis, section 4.1.3.2)."""
    desk = Desk(tmp_path / "fair")
    client = TestClient(
        create_app(desk, https=True), base_url="https://localhost", headers={"origin": "https://localhost"}
    )
    body = {"code": desk.setup_code, "rules": "saltmere", "chair": "c", "chair_name": "C", "passphrase": PASS}
    said = client.post(f"{API}/setup", json=body)
    assert said.status_code == 201
    assert said.headers["set-cookie"].startswith("__Host-planish=")
    assert "Secure" in said.headers["set-cookie"]
    assert client.get(f"{API}/fair").status_code == 200
    desk.close()


def test_signing_out_and_losing_a_role_end_the_session(fair: Served) -> None:
    office = fair["office"]
    assert office.get(f"{API}/fair").status_code == 200
    kept = str(office.cookies["planish"])
    assert office.delete(f"{API}/session").status_code == 204
    office.cookies.set("planish", kept)
    assert office.get(f"{API}/fair").status_code == 401
    assert fair["chair"].delete(f"{API}/people/steward/roles/steward").status_code == 200
    assert fair["steward"].get(f"{API}/fair").status_code == 401


def test_a_new_card_ends_what_the_old_one_opened(fair: Served) -> None:
    old = fair["stand 7"]
    assert old.get(f"{API}/counter").status_code == 200
    fair.card("7")
    assert old.get(f"{API}/counter").status_code == 401


def test_a_session_ends_when_idle_and_at_the_end_of_the_day(tmp_path: Path) -> None:
    now = [1_000_000]
    kept = Accounts(tmp_path, now=lambda: now[0])
    idle = kept.begin("a")
    now[0] += accounts_module.IDLE_MS + 1
    assert kept.session(idle) is None
    busy = kept.begin("a")
    for _ in range(9):
        now[0] += accounts_module.LASTS_MS // 9 + 1
        found = kept.session(busy)
    assert found is None
    kept.close()


FOREIGN = [
    ({"origin": "http://elsewhere.example"}, 403),
    ({"origin": "null"}, 403),
    ({"origin": HOME, "sec-fetch-site": "cross-site"}, 403),
    ({"origin": HOME, "sec-fetch-site": "same-site"}, 403),
    ({"origin": "http://localhost.evil.example"}, 403),
    ({"origin": "http://localhost:81"}, 403),
    ({}, 403),
]


@pytest.mark.parametrize(("headers", "status"), FOREIGN)
def test_what_another_site_sends_is_refused(
    shared_fair: Served, headers: dict[str, str], status: int
) -> None:
    """OWASP cross-site request forgery sheet: Sec-Fetch-Site first, Origin where there is none, neither: refused."""
    client = TestClient(shared_fair.app, base_url=HOME)
    client.cookies.set("planish", str(shared_fair["chair"].cookies["planish"]))
    said = client.post(f"{API}/stands", json={"id": "99", "exhibitor": "X"}, headers=headers)
    assert said.status_code == status
    assert said.json()["problem"]["code"] == "cross_site"
    assert "99" not in shared_fair.desk.fair.state.stands


@pytest.mark.parametrize(
    "kind", ["application/x-www-form-urlencoded", "text/plain", "multipart/form-data; boundary=x"]
)
def test_a_form_post_is_refused(shared_fair: Served, kind: str) -> None:
    said = shared_fair["chair"].post(
        f"{API}/stands", content=b"id=99&exhibitor=X", headers={"content-type": kind}
    )
    assert said.status_code == 415


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1.evil.example", "localhost.evil.example:8000", "10.0.0.1", ""]
)
def test_another_name_gets_no_answer(shared_fair: Served, host: str) -> None:
    """DNS rebinding: the name in Host decides, before any route."""
    for path in (f"{API}/session", "/", f"{API}/openapi.json"):
        said = shared_fair["chair"].get(path, headers={"host": host})
        assert said.status_code == 421
        assert "MARK" not in said.text


def test_this_computers_names_are_answered(shared_fair: Served) -> None:
    for host in ("localhost:8000", "127.0.0.1", "[::1]:8000"):
        assert shared_fair.stranger().get(f"{API}/session", headers={"host": host}).status_code == 200


def test_five_wrong_tries_make_that_device_wait_and_no_other(tmp_path: Path) -> None:
    """No malicious lock-out (OWASP ASVS 5.0, 6.1.1): the device waits, the person does not."""
    now = [0]
    kept = Accounts(tmp_path, now=lambda: now[0])
    kept.set_passphrase("anna", PASS)
    answered = 0
    for _ in range(60):
        try:
            assert not kept.opens("anna", "wrong", client="10.0.0.66")
            answered += 1
        except Wait:
            continue
    assert answered == TRIES
    with pytest.raises(Wait):
        kept.opens("anna", PASS, client="10.0.0.66")
    assert kept.opens("anna", PASS, client="10.0.0.7")
    now[0] += WAIT_MS + 1
    assert kept.opens("anna", PASS, client="10.0.0.66")
    kept.close()


def test_waiting_is_said_with_how_long(fair: Served) -> None:
    stranger = fair.stranger()
    for _ in range(TRIES):
        said = stranger.post(f"{API}/session", json={"person": "olga", "passphrase": "wrong wrong"})
        assert said.status_code == 400
        assert said.json()["problem"]["code"] == "sign_in.wrong"
    said = stranger.post(f"{API}/session", json=SIGN_IN)
    assert said.status_code == 429
    assert int(said.headers["retry-after"]) > 0
    assert fair["office"].get(f"{API}/fair").status_code == 200


def test_nobody_learns_from_signing_in_whether_there_is_such_a_person(shared_fair: Served) -> None:
    known = shared_fair.stranger().post(
        f"{API}/session", json={"person": "leader", "passphrase": "wrong wrong"}
    )
    unknown = shared_fair.stranger().post(
        f"{API}/session", json={"person": "nobody", "passphrase": "wrong wrong"}
    )
    assert (known.status_code, known.content) == (unknown.status_code, unknown.content)


def test_there_is_no_default_account_and_the_set_up_code_works_once(tmp_path: Path) -> None:
    desk = Desk(tmp_path / "fair")
    client = TestClient(
        create_app(desk), base_url=HOME, headers={"origin": HOME}, raise_server_exceptions=False
    )
    assert client.get(f"{API}/session").json() == {
        "begun": False,
        "set_up_needed": True,
        "fair": "",
        "me": None,
    }
    for person in ("admin", "chair", "office", "root"):
        said = client.post(f"{API}/session", json={"person": person, "passphrase": "admin admin"})
        assert said.status_code in (400, 409)
    body = {"code": "0" * 32, "rules": "saltmere", "chair": "c", "chair_name": "C", "passphrase": PASS}
    assert client.post(f"{API}/setup", json=body).status_code == 403
    assert not (tmp_path / "fair" / "ledger.db").exists()
    code = desk.setup_code
    assert client.post(f"{API}/setup", json={**body, "code": code}).status_code == 201
    again = client.post(f"{API}/setup", json={**body, "code": code, "chair": "d"})
    assert again.status_code == 409
    assert "d" not in desk.fair.state.people
    desk.close()


def test_a_fair_begun_on_the_command_line_gets_its_first_chair_by_the_code(tmp_path: Path) -> None:
    from planish.errands.opening import wiring

    wiring.begin(tmp_path / "fair", "saltmere").close()
    desk = Desk(tmp_path / "fair")
    assert desk.setup_code
    client = TestClient(create_app(desk), base_url=HOME, headers={"origin": HOME})
    body = {"code": desk.setup_code, "rules": "saltmere", "chair": "c", "chair_name": "C", "passphrase": PASS}
    assert client.post(f"{API}/setup", json=body).status_code == 201
    desk.close()
    again = Desk(tmp_path / "fair")
    assert again.setup_code == ""
    again.close()


def test_a_short_passphrase_is_refused(tmp_path: Path) -> None:
    kept = Accounts(tmp_path)
    with pytest.raises(Refused):
        kept.set_passphrase("anna", "short")
    kept.close()


def test_the_last_chair_cannot_be_put_out(fair: Served) -> None:
    said = fair["chair"].delete(f"{API}/people/chair/roles/chair")
    assert said.status_code == 409
    assert said.json()["problem"]["code"] == "chair.last"


def test_every_answer_forbids_script_sniffing_and_frames(shared_fair: Served) -> None:
    for path in ("/", f"{API}/session", f"{API}/nothing", f"{API}/fair"):
        headers = shared_fair["chair"].get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'self'" in policy
        assert "'unsafe-inline'" not in policy
        assert "frame-ancestors 'none'" in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "no-referrer"


def test_the_front_end_is_served_with_its_routes_and_nothing_beside_it(tmp_path: Path) -> None:
    static = tmp_path / "static"
    (static / "assets").mkdir(parents=True)
    (static / "index.html").write_text("<!doctype html><title>planish</title>")
    (static / "assets" / "app-1a2b.js").write_text("export {}")
    (tmp_path / "secret.txt").write_text("secret")
    desk = Desk(tmp_path / "fair")
    client = TestClient(create_app(desk, static=static), base_url=HOME)
    for path in ("/", "/board", "/objects/7-001", "/counter/objects/7-001"):
        said = client.get(path)
        assert said.status_code == 200
        assert "<title>planish" in said.text
        assert said.headers["cache-control"] == "no-cache"
    assert "immutable" in client.get("/assets/app-1a2b.js").headers["cache-control"]
    for path in (
        "/../secret.txt",
        "/%2e%2e/secret.txt",
        "/assets/..%2f..%2fsecret.txt",
        "/secret.txt",
        "/.env",
    ):
        said = client.get(path)
        assert said.status_code == 404 or "secret" not in said.text
    desk.close()


def test_the_desks_own_name_is_given_to_nobody(fair: Served) -> None:
    """The desk writes as `office` with every right; a person of that name would sign for it."""
    for name in ("office", "Office", " office "):
        said = fair["chair"].post(f"{API}/people", json={"id": name, "name": "Olga", "roles": ["member"]})
        assert (said.status_code, said.json()["problem"]["code"]) == (400, "person.office"), name
    assert "office" not in fair.desk.fair.state.people


def test_the_first_chair_cannot_take_the_desks_own_name_either(tmp_path: Path) -> None:
    desk = Desk(tmp_path / "fair")
    client = TestClient(create_app(desk), base_url=HOME, headers={"origin": HOME})
    body = {"rules": "saltmere", "chair": "office", "chair_name": "O", "passphrase": PASS}
    said = client.post(f"{API}/setup", json={**body, "code": desk.setup_code})
    assert (said.status_code, said.json()["problem"]["code"]) == (400, "person.office")
    assert not (tmp_path / "fair" / "ledger.db").exists()


def test_the_rule_book_offered_first_has_a_quorum_that_a_small_panel_reaches(tmp_path: Path) -> None:
    desk = Desk(tmp_path / "fair")
    client = TestClient(create_app(desk), base_url=HOME, headers={"origin": HOME})
    books = client.get(f"{API}/setup").json()["rulebooks"]
    assert books[0]["quorum"] == min(one["quorum"] for one in books)
    assert books[0]["quorum"] <= 3


def test_guesses_of_one_device_sent_all_at_once_are_counted_one_by_one(fair: Served) -> None:
    """Twenty at the same moment from one device: no more than five are looked at, as when they come in a row."""
    stranger = TestClient(fair.app, base_url=HOME, headers={"origin": HOME}, client=("10.0.0.9", 1))
    guess = {"code": "7:AAAA-AAAA"}
    with ThreadPoolExecutor(20) as many:
        said = list(many.map(lambda _: stranger.post(f"{API}/session/card", json=guess), range(20)))
    assert Counter(one.status_code for one in said) == {400: TRIES, 429: 20 - TRIES}


def test_150_devices_guess_a_card_at_once_and_the_stand_still_opens_with_its_own(fair: Served) -> None:
    """Each device is answered five times and then waits; whoever has the code, on a device of their own, comes in."""
    fair.desk.accounts._hasher = PasswordHasher(
        time_cost=1, memory_cost=64, parallelism=1
    )  # 750 tries, quickly
    code = fair["chair"].post(f"{API}/stands/7/card").json()["secret"]

    def guesses(device: int) -> list[int]:
        stranger = TestClient(
            fair.app, base_url=HOME, headers={"origin": HOME}, client=(f"10.0.{device}.1", 1)
        )
        codes = (f"7:{device:04d}-{number:04d}" for number in range(TRIES + 3))
        return [stranger.post(f"{API}/session/card", json={"code": code}).status_code for code in codes]

    with ThreadPoolExecutor(30) as many:
        found = list(many.map(guesses, range(150)))
    assert found == [[400] * TRIES + [429] * 3] * 150
    own = TestClient(fair.app, base_url=HOME, headers={"origin": HOME}, client=("10.1.1.1", 1))
    assert own.post(f"{API}/session/card", json={"code": code}).status_code == 201
    assert fair["office"].get(f"{API}/board").status_code == 200


def test_no_core_dump_holds_what_this_process_knows(tmp_path: Path) -> None:
    """setrlimit(2) and prctl(2): a process that ends by a fault after `never_dump` leaves no image of its memory."""
    program = (
        "import ctypes, os, resource\n"
        "hard = resource.getrlimit(resource.RLIMIT_CORE)[1]\n"
        "resource.setrlimit(resource.RLIMIT_CORE, (hard, hard))\n"
        "from planish.errands.opening.memory import never_dump\n"
        "never_dump()\n"
        "assert resource.getrlimit(resource.RLIMIT_CORE) == (0, 0)\n"
        "if os.path.exists('/proc/self'):\n"
        "    assert ctypes.CDLL(None).prctl(3, 0, 0, 0, 0) == 0, 'PR_GET_DUMPABLE'\n"
        "print('quiet', flush=True)\n"
        "os.abort()\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert done.stdout == "quiet\n", done.stderr
    assert done.returncode == -signal.SIGABRT
    assert [*tmp_path.iterdir()] == []
