"""A tablet in Python: it keeps its queue, its chain and its cursor as the app on the floor does, and checks the desk."""

import base64
import hashlib
import json
import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ec import (
    ECDSA,
    SECP256R1,
    EllipticCurvePrivateKey,
    generate_private_key,
)
from cryptography.hazmat.primitives.asymmetric.utils import decode_dss_signature
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

from planish.errands.hall.pairing import four_words
from planish.ledger import chain
from planish.ledger.commitments import commit_body
from planish.ledger.events import compose
from planish.ledger.identity import uuid7
from planish.ledger.kinds import KINDS
from tests.web.fairs import IDS

API = "/api/v1"
PIN = "27182845"
STORED = ("ok", "have", "stale", "held", "denied")


def spki(key: EllipticCurvePrivateKey) -> str:
    return base64.b64encode(
        key.public_key().public_bytes(Encoding.DER, PublicFormat.SubjectPublicKeyInfo)
    ).decode()


def signature(key: EllipticCurvePrivateKey | None, raw: bytes) -> str:
    assert key is not None
    r, s = decode_dss_signature(key.sign(raw, ECDSA(SHA256())))
    return base64.b64encode(r.to_bytes(32, "big") + s.to_bytes(32, "big")).decode()


@dataclass
class Tablet:
    """`client` is anything with get, post, put, head as httpx has them."""

    client: Any
    fair: str = "saltmere"
    dev: str = ""
    who: str = ""
    key: EllipticCurvePrivateKey | None = None
    made: list[dict[str, Any]] = field(default_factory=list)
    digests: list[str] = field(default_factory=list)
    acked: int = 0
    told: dict[str, dict[str, Any]] = field(default_factory=dict)
    epoch: str = ""
    after: int = 0
    hash: str = ""
    safe_n: int = 0
    objects: dict[str, dict[str, Any]] = field(default_factory=dict)
    entries: list[dict[str, Any]] = field(default_factory=list)
    cards: dict[str, dict[str, Any]] = field(default_factory=dict)
    heads: list[tuple[int, str]] = field(default_factory=list)
    again: bool = False

    # -- pairing

    def ask(self, code: str, *, sign: bool = True, name: str = "", again: str = "") -> dict[str, Any]:
        self.key = generate_private_key(SECP256R1()) if sign else None
        nonce = secrets.token_hex(32)
        key = spki(self.key) if self.key else ""
        given = {"code": code, "key": key, "nonce": nonce, "name": name, "again": again}
        said = self.client.post(f"{API}/pair", json=given)
        if said.status_code != 201:
            return dict(said.json())
        asked = dict(said.json())
        own = four_words(code, desk_key=asked["desk_key"], key=key, nonce=nonce)
        assert tuple(asked["words"]) == own
        self.fair = asked["fair"]
        return asked

    def paired(self) -> str:
        said = self.client.get(f"{API}/pair/state").json()
        self.dev, self.who = said["dev"] or self.dev, said["person"] or self.who
        return str(said["state"])

    def unlock(self, who: str = "", pin: str = PIN, *, first: bool = True) -> int:
        self.who = who or self.who
        if first:
            said = self.client.post(f"{API}/pair/pin", json={"person": self.who, "pin": pin})
            if said.status_code != 204:
                return int(said.status_code)
        said = self.client.post(f"{API}/unlock", json={"person": self.who, "pin": pin})
        return int(said.status_code)

    # -- writing

    def make(
        self,
        kind: str,
        sub: str,
        body: Mapping[str, Any] | None = None,
        *,
        who: str = "",
        base: str | None = None,
        att: tuple[str, ...] = (),
        version: int | None = None,
    ) -> dict[str, Any]:
        """One event, serialised once, kept until it is safe."""
        spec = KINDS.get(kind)
        private = spec.private if spec is not None else ()
        shown, openings = commit_body(body or {}, private, lambda: secrets.token_bytes(32))
        raw = compose(
            fair=self.fair,
            dev=self.dev,
            seq=len(self.made) + 1,
            dprev=self.digests[-1] if self.digests else "",
            id=uuid7(1_790_000_000_000, secrets.token_bytes(10)),
            who=who or self.who,
            kind=f"{kind}/{version or 1}",
            sub=sub,
            base=base,
            seen=(self.epoch, self.after),
            t=1_790_000_000_000,
            body=shown,
            att=att,
        )
        event = {
            "raw": raw.decode(),
            "open": [
                {"path": one.path, "salt": one.salt.hex(), "value": one.value.decode()} for one in openings
            ],
            "sig": signature(self.key, raw) if self.key else "",
        }
        self.made.append(event)
        self.digests.append(hashlib.sha256(raw).hexdigest())
        return event

    def ids(self) -> list[str]:
        return [json.loads(event["raw"])["id"] for event in self.made]

    # -- the line

    def queue(self) -> list[dict[str, Any]]:
        return self.made[self.acked :]

    def body(self, events: list[dict[str, Any]]) -> dict[str, Any]:
        waiting = len(self.made) - self.acked
        return {"proto": 1, "epoch": self.epoch, "dev": self.dev, "events": events, "queue": waiting}

    def push(self, most: int = 200) -> Any:
        """Hand in from the head of the queue."""
        sent = self.queue()[:most]
        said = self.client.post(f"{API}/push", json=self.body(sent))
        if said.status_code == 200:
            self.hear(sent, said.json())
        return said

    def hear(self, sent: list[dict[str, Any]], said: dict[str, Any]) -> None:
        for event, result in zip(sent, said.get("results", ()), strict=False):
            if result["status"] == "epoch":
                self.forget(result["epoch"], result["last"])
                return
            if result["status"] == "gap":
                self.acked = min(self.acked, result["last"])
                return
            self.told[result["id"]] = result
            if result["status"] not in STORED:
                return
            seq = json.loads(event["raw"])["seq"]
            self.acked = max(self.acked, seq)

    def push_all(self) -> None:
        """Until nothing waits; not for ever."""
        for _ in range(20 + 2 * len(self.made)):
            if not self.queue():
                return
            said = self.push()
            assert said.status_code == 200, said.text

    def forget(self, epoch: str, last: int) -> None:
        """The desk was restored: drop copies, hand in again what it has not."""
        self.epoch, self.acked = epoch, min(self.acked, last)
        self.after, self.hash = 0, ""
        self.objects.clear()
        self.entries.clear()

    def pull(self) -> Any:
        """Everything new, page by page; every page is checked against the chain."""
        start = ""
        for _ in range(10_000):
            asked: dict[str, Any] = {"epoch": self.epoch, "after": self.after, "hash": self.hash}
            asked |= {"from": start, "queue": len(self.made) - self.acked}
            said = self.client.get(f"{API}/pull", params=asked)
            if said.status_code == 409 and said.json()["problem"]["code"] == "epoch":
                self.forget(said.json()["epoch"], said.json()["last"])
                return said
            if said.status_code != 200:
                return said
            page = said.json()
            self.apply(page)
            start = page["next"]["from"]
            if not page["more"]:
                return said
        raise AssertionError("the pull never ended")

    def apply(self, page: dict[str, Any]) -> None:
        at = bytes.fromhex(self.hash) if self.hash else b""
        for entry in page["entries"]:
            at = chain.link(at, bytes.fromhex(entry["leaf"]))
            assert entry["n"] == self.after + 1, "an entry was passed over"
            self.after = entry["n"]
            self.entries.append(entry)
        if page["entries"]:
            assert at.hex() == page["next"]["hash"], "the chain does not hold"
        self.after, self.hash = page["next"]["after"], page["next"]["hash"]
        self.epoch, self.safe_n = page["epoch"], page["safe_n"]
        self.heads.append((self.after, self.hash))
        self.objects |= {doc["id"]: doc for doc in page["objects"]}
        for one in page["gone"]:
            self.objects.pop(one, None)
        self.cards |= {card["id"]: card for card in page["cards"]}
        self.again = self.again or page["again"]


def pair(fair: Any, person: str, *, sign: bool = True, by: str = "steward") -> Tablet:
    """A tablet of the served fair, paired for `person` and unlocked."""
    code = fair[by].post(f"{API}/devices/codes").json()
    tablet = Tablet(fair.stranger())
    asked = tablet.ask(code["code"], sign=sign)
    said = fair[by].post(
        f"{API}/devices/waiting/{asked['pairing']}/yes", json={"person": IDS.get(person, person)}
    )
    assert said.status_code == 201, said.text
    assert tablet.paired() == "yes"
    assert tablet.unlock() == 201
    tablet.epoch = tablet.client.get(f"{API}/device").json()["epoch"]
    return tablet
