"""Who sees what, asked of every address that reads, for every role, before the lock, after it, shown, and final.

The table is that of `planish.errands.people.access`; the marker strings stand in ballots, reasons, prices, names, papers,
laboratory readings and the neighbour's label. A marker may come out only where the table lets it.
"""

import io
import json
from pathlib import Path

import pytest
from pypdf import PdfReader

from planish.doors.web.app import operations
from planish.errands.record import archiving
from planish.ledger import sqlite
from planish.ledger.verifying import verify
from tests.web.fairs import API, PASS, Served

OBJECT = "7-001"
STATES = ("before lock", "after own lock", "split shown", "final")
VOTERS = ("leader", "member", "other")
READERS = (
    "chair", "deputy", "office", "leader", "member", "other", "third", "scribe", "steward", "laboratory", "appeals",
    "auditor", "stand 7", "stand 8",
)  # fmt: skip
STAFF_NAMES = set(READERS) - {"stand 7", "stand 8", "auditor"}
QUIET = {"paper", "counter_paper", "verify_log"}  # drawn or read back whole: asked once below


def prepare(fair: Served) -> None:
    """Markers that stand before anybody votes: a paper, a reading, a conflict."""
    lab = {
        "kind": "composition",
        "words": "MARKLAB",
        "values": {"Pb": {"amount": 0.2, "unit": "wt%", "uncertainty": 0.05}},
        "spot": "under the foot",
    }
    assert fair["chair"].post(f"{API}/objects/{OBJECT}/observations", json=lab).status_code == 201
    paper = {"sort": "provenance", "words": "MARKPAPER"}
    assert fair["stand 7"].post(f"{API}/counter/objects/{OBJECT}/papers", json=paper).status_code == 201
    conflict = {"stand": "8", "reason": "MARKTIE"}
    assert fair["chair"].post(f"{API}/people/third/conflicts", json=conflict).status_code == 201


def ballot(fair: Served, who: str) -> None:
    """A ballot whose wording nobody else may ever read, with a reason that waits for the count."""
    given = {
        "object": OBJECT,
        "outcome": "relabel",
        "reasons": [f"MARKREASON-{who}-"],
        "wording": f"MARKBALLOT-{who}-",
        "date": {"earliest": 1760, "latest": 1790},
    }
    said = fair[who].post(f"{API}/ballots", json={"ballots": [given]})
    assert said.status_code == 201, said.text


def reach(fair: Served, state: str) -> None:
    """Bring the fair from the state before to this one."""
    if state == "before lock":
        prepare(fair)
        ballot(fair, "other")
    elif state == "after own lock":
        ballot(fair, "member")
        ballot(fair, "leader")
    elif state == "split shown":
        said = fair["leader"].post(f"{API}/objects/{OBJECT}/count", json={})
        assert said.status_code == 201, said.text
        assert said.json()["answer"]["outcome"] == "relabel", said.text
    else:
        assert fair["leader"].post(f"{API}/objects/{OBJECT}/confirm", json={}).status_code == 201
        assert fair["office"].post(f"{API}/objects/{OBJECT}/final", json={}).status_code == 201


def locked(state: str) -> set[str]:
    return {"other"} if state == "before lock" else set(VOTERS)


def allowed(reader: str, state: str) -> set[str]:
    """Markers that may come out to a reader, from the table and the state."""
    may: set[str] = set()
    if reader in locked(state):
        may |= {f"MARKBALLOT-{reader}-", f"MARKREASON-{reader}-"}
        may |= {"MARKPAPER", "MARKLAB"}
    told = state in ("split shown", "final")
    if told and reader in (
        "chair",
        "deputy",
        "office",
        "leader",
        "member",
        "other",
        "third",
        "scribe",
        "appeals",
    ):
        may |= {f"MARKREASON-{who}-" for who in VOTERS}
    if state == "final" and reader == "stand 7":
        may |= {f"MARKREASON-{who}-" for who in VOTERS}
    if reader in ("office", "stand 7"):
        may |= {"MARKPRICE"}
    if reader in ("chair", "deputy", "office", "appeals", "stand 7"):
        may |= {"MARKPAPER"}
    if reader in ("chair", "deputy", "appeals", "laboratory"):
        may |= {"MARKLAB"}
    if reader not in ("stand 7", "third", "auditor"):
        may |= {"MARKOTHER"}
    return may | ({"MARKNAME"} if reader not in ("stand 7", "stand 8") else set())


MARKERS = [
    *(f"MARKBALLOT-{who}-" for who in VOTERS),
    *(f"MARKREASON-{who}-" for who in VOTERS),
    "MARKPRICE", "MARKPAPER", "MARKLAB", "MARKOTHER", "MARKNAME", "MARKTIE",
]  # fmt: skip


def addresses(fair: Served) -> list[tuple[str, str]]:
    """Every address that reads, filled in for the object and its neighbour, and with what is not there."""
    found = []
    for method, path, name in operations(fair.app):
        if method != "GET" or name in QUIET:
            continue
        for object_id in (OBJECT, "8-001") if "{object_id}" in path else ("",):
            address = path.replace("{object_id}", object_id).replace("{name}", "fennhithe")
            address = address.replace("{intake}", "0" * 16).replace("{digest}", "0" * 64)
            address = address.replace("{fact_id}", "MARK").replace("{paper}", "slips")
            assert "{" not in address, address
            found.append((name, address))
    for query in ("MARKBALLOT", "MARKREASON", "MARKOTHER", "flagon", "chair"):
        found.append(("search", f"{API}/search?q={query}"))
        found.append(("objects", f"{API}/objects?text={query}"))
    return [*found, ("gone", f"{API}/objects/9-999"), ("objects", f"{API}/objects?outcome=relabel&mine=true")]


def test_no_marker_comes_out_where_the_table_does_not_let_it(tmp_path: Path) -> None:
    from tests.web.fairs import served

    with served(tmp_path) as fair:
        asked = addresses(fair)
        leaks, seen = [], set()
        for state in STATES:
            reach(fair, state)
            for reader in READERS:
                may = allowed(reader, state)
                for name, address in asked:
                    said = fair[reader].get(address)
                    assert said.status_code < 500, (address, said.text)
                    text = said.text + json.dumps(dict(said.headers))
                    out = {marker for marker in MARKERS if marker in text}
                    if name == "search":
                        out = {m for m in out if f"={m.strip('-')}" not in address}
                    seen |= {(marker, reader) for marker in out}
                    leaks += [(state, reader, address, marker) for marker in out - may]
        assert leaks == []
        must = {
            ("MARKPRICE", "office"),
            ("MARKPAPER", "stand 7"),
            ("MARKLAB", "member"),
            ("MARKREASON-other-", "stand 7"),
        }
        must |= {(f"MARKBALLOT-{who}-", who) for who in VOTERS}
        assert must <= seen, f"the markers never came out where they should: {must - seen}"
        papers_hold_no_more_than_the_table_lets(fair)
        what_is_at_rest(fair, tmp_path)


def papers_hold_no_more_than_the_table_lets(fair: Served) -> None:
    """Papers, the state final: no ballot, no name of a specialist, a price only for who may see it."""
    for reader in ("office", "chair", "stand 7"):
        root = f"{API}/counter/papers" if reader.startswith("stand") else f"{API}/papers"
        names = ["slips", "wording", "labels"]
        names += [] if reader.startswith("stand") else ["sheets", "open-cases", "report", "receipts"]
        for name in names:
            said = fair[reader].get(f"{root}/{name}.pdf")
            assert said.status_code == 200, (name, said.text)
            text = "".join(page.extract_text() for page in PdfReader(io.BytesIO(said.content)).pages)
            assert "MARKBALLOT" not in text
            assert "MARKNAME" not in text
            assert reader == "office" or reader == "stand 7" or "MARKPRICE" not in text
            assert reader != "stand 7" or "MARKOTHER" not in text


def what_is_at_rest(fair: Served, tmp_path: Path) -> None:
    """As docs/serving.md says: entries hold no text; the archive no ballot, name or price; accounts no secret."""
    reader = sqlite.read_ledger(fair.folder / "ledger.db")
    entries = list(reader.entries())
    assert verify(reader) == ()
    reader.close()
    for entry in entries:
        for marker in MARKERS:
            assert marker.encode() not in entry.raw, (entry.event.kind, marker)
    archiving.archive(fair.desk.fair, tmp_path / "archive")
    for path in (tmp_path / "archive").rglob("*"):
        if path.is_file():
            data = path.read_bytes()
            for marker in (b"MARKBALLOT", b"MARKPRICE", b"MARKNAME", b"MARKTIE"):
                assert marker not in data, (path.name, marker)
    kept = b"".join(path.read_bytes() for path in fair.folder.glob("accounts.db*"))
    assert PASS.encode() not in kept
    tokens = [client.cookies.get("planish") for client in fair.clients.values()]
    assert all(token and token.encode() not in kept for token in tokens)
    assert fair.cards["7"].partition(":")[2].replace("-", "").encode() not in kept


def test_another_ballot_changes_nothing_that_anybody_can_see(fair: Served) -> None:
    """Bodies, sizes and ETags before and after a second member locks are the same, byte for byte."""
    prepare(fair)
    ballot(fair, "other")
    asked = [pair for pair in addresses(fair) if pair[0] not in ("log",)]
    readers = [one for one in READERS if one not in ("member", "auditor")]
    before = {(who, at): _bare(fair, who, at) for who in readers for _, at in asked}
    ballot(fair, "member")
    after = {(who, at): _bare(fair, who, at) for who in readers for _, at in asked}
    assert [key for key in before if before[key] != after[key]] == []


def _bare(fair: Served, who: str, at: str) -> tuple[int, bytes, str]:
    said = fair[who].get(at)
    return said.status_code, said.content, str(said.headers.get("etag", ""))


def _split(fair: Served, who: str) -> object:
    return fair[who].get(f"{API}/objects/{OBJECT}").json().get("split")


def test_the_split_is_withheld_from_a_panel_of_two(fair: Served) -> None:
    for who in ("leader", "member"):
        ballot(fair, who)
    said = fair["leader"].post(f"{API}/objects/{OBJECT}/count", json={})
    assert said.status_code == 201
    assert said.json()["split"] is None
    assert "withheld" not in said.json()["trace"]
    assert not any(" 2 " in line or "2 ballots" in line for line in said.json()["answer"]["rule"])
    for who in ("leader", "member", "chair", "other"):
        assert _split(fair, who) is None


def test_the_split_is_shown_to_who_locked_and_never_after_somebody_stepped_back(fair: Served) -> None:
    for who in VOTERS:
        ballot(fair, who)
    for who in READERS:
        body = fair[who].get(f"{API}/objects/{OBJECT}").json()
        assert body.get("split") is None, who
    assert fair["leader"].post(f"{API}/objects/{OBJECT}/count", json={}).status_code == 201
    assert {who for who in READERS if _split(fair, who) is not None} == {*VOTERS, "appeals"}
    assert _split(fair, "member")["outcomes"] == {"relabel": 3}  # type: ignore[index]
    assert fair["third"].post(f"{API}/objects/{OBJECT}/recusal").status_code == 201
    assert {who for who in READERS if _split(fair, who) is not None} == set()


def test_whoever_has_a_conflict_does_not_see_or_judge_the_object(fair: Served) -> None:
    prepare(fair)
    third = fair["third"]
    assert third.get(f"{API}/objects/8-001").status_code == 404
    assert "8-001" not in third.get(f"{API}/objects").text
    given = {"ballots": [{"object": "8-001", "outcome": "accept"}]}
    assert third.post(f"{API}/ballots", json=given).status_code == 404


WRITES = [
    ("POST", "/people", {"id": "new", "name": "New", "roles": []}, {"chair", "deputy", "office"}),
    ("POST", "/stands", {"id": "9", "exhibitor": "Nine"}, {"chair", "deputy", "office"}),
    ("PUT", "/panels/metal", {"members": ["leader", "member", "other", "third"], "leader": "leader"}, {"chair", "deputy", "office"}),
    ("POST", "/people/member/passphrase", None, {"chair", "deputy", "office"}),
    ("POST", "/people/chair/passphrase", None, {"chair", "deputy"}),
    ("POST", "/stands/8/card", None, {"chair", "deputy", "office"}),
    ("POST", "/people/auditor/roles", {"role": "auditor"}, {"chair", "deputy"}),
    ("POST", f"/objects/{OBJECT}/count", {}, {"chair", "deputy", "leader"}),
    ("POST", f"/objects/{OBJECT}/confirm", {}, {"chair", "deputy", "leader"}),
    ("POST", f"/objects/{OBJECT}/final", {}, {"chair", "deputy", "office"}),
    ("POST", f"/objects/{OBJECT}/reopen", {"reason": "x", "second": {"person": "olga", "passphrase": PASS}}, {"chair", "deputy"}),
    ("POST", f"/objects/{OBJECT}/redact", {"entry": 1, "ground": "law", "second": {"person": "olga", "passphrase": PASS}}, {"chair", "deputy"}),
    ("POST", "/ballots", {"ballots": [{"object": OBJECT, "outcome": "accept"}]}, {"leader", "member", "other", "third"}),
    ("POST", f"/objects/{OBJECT}/words/ask", {}, {"chair", "deputy", "leader"}),
    ("POST", f"/objects/{OBJECT}/observations", {"kind": "wear", "words": "even"}, {"chair", "deputy", "leader", "member", "other", "third", "scribe", "steward", "laboratory"}),
    ("POST", f"/objects/{OBJECT}/moves", {"to": "table", "given_by": "7"}, {"chair", "deputy", "office", "leader", "steward", "laboratory"}),
    ("POST", "/seals", {"labels": [{"object": OBJECT, "hangs": "x"}]}, {"chair", "deputy", "office", "steward"}),
    ("POST", "/keys/unlock", {"passphrase": "x"}, {"chair", "deputy", "office"}),
    ("POST", "/keys/lock", None, {"chair", "deputy", "office"}),
    ("POST", f"/objects/{OBJECT}/holds", {"sort": "incident", "reason": "x"}, {"chair", "deputy", "office", "leader", "member", "other", "third", "scribe", "steward", "laboratory"}),
    ("POST", f"/objects/{OBJECT}/holds/lift", {"hold": "incident", "reason": "x"}, {"chair", "deputy", "office"}),
    ("POST", "/second-looks", {"size": 1}, {"chair", "deputy", "office"}),
    ("POST", f"/objects/{OBJECT}/second-look", {"found": "nothing"}, {"chair", "deputy", "leader", "member", "other", "third"}),
    ("POST", f"/objects/{OBJECT}/appeal", {"words": "x"}, {"chair", "deputy", "office"}),
    ("POST", f"/objects/{OBJECT}/appeal/decision", {"outcome": "accept", "reasons": ["x"], "members": ["appeals"]}, {"chair", "deputy", "appeals"}),
    ("POST", f"/objects/{OBJECT}/appeal/view", {"outcome": "accept"}, {"chair", "deputy", "appeals"}),
    ("POST", f"/objects/{OBJECT}/appeal/count", None, {"chair", "deputy", "appeals"}),
    ("POST", "/seconds", {"what": "reopen", "object": OBJECT, "reason": "x"}, {"chair", "deputy"}),
    ("POST", f"/counter/objects/{OBJECT}/appeal", {"words": "new bill"}, {"stand 7"}),
    ("PUT", f"/counter/objects/{OBJECT}/label", {"text": "Pewter flagon", "version": 1}, {"stand 7"}),
]  # fmt: skip


@pytest.mark.parametrize(("method", "path", "body", "who"), WRITES, ids=[row[1] for row in WRITES])
def test_only_those_may_write_whom_the_table_names(
    shared_fair: Served, method: str, path: str, body: object, who: set[str]
) -> None:
    """Everybody else gets 403, or 404 where even the object is not theirs; those named get past that."""
    for reader in READERS:
        said = shared_fair[reader].request(method, f"{API}{path}", json=body)
        refused = said.status_code in (403, 404)
        assert refused == (reader not in who), (reader, said.status_code, said.text)
        if path.endswith("/passphrase") and said.status_code == 201:
            _again(shared_fair, path.split("/")[2])
        if path.endswith("/card") and said.status_code == 201:
            shared_fair.clients["stand 8"] = shared_fair.card("8")


def _again(fair: Served, person: str) -> None:
    fair.desk.accounts.set_passphrase(person, PASS)
    fair.clients[person] = fair.sign_in(person)
