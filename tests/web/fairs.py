"""A small invented fair served in one process, with a signed-in client for every role."""

import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from fastapi.testclient import TestClient

from planish.doors.web.app import create_app
from planish.errands.opening.serving import Desk

HOME = "http://localhost"
HEADERS = {"origin": HOME}
API = "/api/v1"
BYTES = {"content-type": "application/octet-stream"}
PASS = "a passphrase of the tests"
LIST = (
    "No,Description,Price,Provenance\n"
    '1,"Pewter flagon, c. 1720, touch mark of John Smith struck once",MARKPRICE-1200,\n'
    '2,"Brass candlestick, George I, 1911",900,\n'
    '3,"Bronze mortar, dated 1650, height 12 cm",700,\n'
)
OTHER = 'No,Description,Price\n1,"MARKOTHER copper kettle, 19th century",80\n'


@dataclass
class Served:
    """The fair: its desk, its app, clients by role or stand."""

    folder: Path
    desk: Desk
    app: Any
    clients: dict[str, TestClient] = field(default_factory=dict)
    cards: dict[str, str] = field(default_factory=dict)

    def stranger(self, **headers: str) -> TestClient:
        """A client that is not signed in."""
        return TestClient(
            self.app, base_url=HOME, headers={**HEADERS, **headers}, raise_server_exceptions=False
        )

    def __getitem__(self, who: str) -> TestClient:
        return self.clients[who]

    def sign_in(self, person: str) -> TestClient:
        """A client signed in as a person."""
        client = self.stranger()
        said = client.post(f"{API}/session", json={"person": person, "passphrase": PASS})
        assert said.status_code == 201, said.text
        return client

    def let_in(self, person: str) -> TestClient:
        """A client with a session, without the time that checking a passphrase takes."""
        client = self.stranger()
        client.cookies.set("planish", self.desk.accounts.begin(person))
        return client

    def card(self, stand: str) -> TestClient:
        """A client signed in as an exhibitor."""
        code = self["chair"].post(f"{API}/stands/{stand}/card").json()["secret"]
        self.cards[stand] = code
        client = self.stranger()
        said = client.post(f"{API}/session/card", json={"code": code})
        assert said.status_code == 201, said.text
        return client

    def send(self, who: str, stand: str, content: str, name: str = "list.csv") -> dict[str, Any]:
        """Send a list and wait until it was read."""
        client = self[who]
        said = client.post(
            f"{API}/stands/{stand}/lists", params={"name": name}, content=content.encode(), headers=BYTES
        )
        assert said.status_code == 202, said.text
        for _ in range(400):
            shown = client.get(f"{API}/intakes/{said.json()['id']}").json()
            if shown["state"] not in ("reading", "taking"):
                return dict(shown)
            time.sleep(0.05)
        raise AssertionError("the list was never read")

    def take(self, who: str, stand: str, content: str) -> dict[str, Any]:
        """Send a list and take it in."""
        sent = self.send(who, stand, content)
        said = self[who].post(f"{API}/intakes/{sent['id']}/take")
        assert said.status_code == 200, said.text
        return dict(said.json())

    def vote(
        self, who: str, object_id: str, *, reason: str = "", outcome: str = "relabel", round_: int = 1
    ) -> None:
        """Lock a ballot as a member."""
        ballot = {
            "object": object_id,
            "outcome": outcome,
            "round": round_,
            "reasons": [reason] if reason else [],
        }
        said = self[who].post(f"{API}/ballots", json={"ballots": [ballot]})
        assert said.status_code == 201, said.text


IDS = {"office": "olga"}
"""A client's name is its role; the desk itself writes as `office`, so the person has another id."""
SIGN_THEMSELVES = {"office", "leader", "member"}
PEOPLE = {
    "office": ["office"],
    "leader": ["leader", "member"],
    "member": ["member"],
    "other": ["member"],
    "third": ["member"],
    "scribe": ["scribe"],
    "steward": ["steward"],
    "laboratory": ["laboratory"],
    "appeals": ["appeals"],
    "auditor": ["auditor"],
    "deputy": ["deputy"],
}


@contextmanager
def served(folder: Path) -> Iterator[Served]:
    """An empty folder made into a fair with people of every role, two stands and their lists."""
    desk = Desk(folder / "fair")
    fair = Served(folder / "fair", desk, create_app(desk))
    chair = fair.stranger()
    said = chair.post(
        f"{API}/setup",
        json={
            "code": desk.setup_code,
            "rules": "saltmere",
            "opens": "2026-12-01",
            "chair": "chair",
            "chair_name": "MARKNAME Chair",
            "passphrase": PASS,
        },
    )
    assert said.status_code == 201, said.text
    fair.clients["chair"] = chair
    for person, roles in PEOPLE.items():
        id_ = IDS.get(person, person)
        body = {"id": id_, "name": f"MARKNAME {person}", "roles": roles}
        assert chair.post(f"{API}/people", json=body).status_code == 201
        if person in SIGN_THEMSELVES:
            desk.accounts.set_passphrase(id_, PASS)
        fair.clients[person] = fair.let_in(id_)
    panel = {"members": ["leader", "member", "other", "third"], "leader": "leader"}
    assert chair.put(f"{API}/panels/metal", json=panel).status_code == 200
    for stand in ("7", "8"):
        body = {"id": stand, "exhibitor": f"Stand {stand} of the tests"}
        assert chair.post(f"{API}/stands", json=body).status_code == 201
        fair.clients[f"stand {stand}"] = fair.card(stand)
    fair.take("office", "7", LIST)
    fair.take("office", "8", OTHER)
    yield fair
    desk.close()
