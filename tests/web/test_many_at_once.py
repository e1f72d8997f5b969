"""Many at the same moment: exactly one counts, nothing anybody wrote is lost, and everything shown is on the disk."""

from collections import Counter
from concurrent.futures import ThreadPoolExecutor

from planish.ledger import sqlite
from planish.ledger.verifying import verify
from tests.web.fairs import API, Served

OBJECT, MANY = "7-001", 150


def proposed(fair: Served) -> None:
    for who in ("leader", "member", "other"):
        fair.vote(who, OBJECT, reason="the foot is later")
    assert fair["leader"].post(f"{API}/objects/{OBJECT}/count", json={}).status_code == 201


def test_150_confirm_at_once_and_one_counts_and_149_are_kept_and_shown(fair: Served) -> None:
    proposed(fair)
    on = fair["leader"].get(f"{API}/objects/{OBJECT}").json()["on_outcome"]
    leader = fair["leader"]
    with ThreadPoolExecutor(24) as many:
        said = list(
            many.map(lambda _: leader.post(f"{API}/objects/{OBJECT}/confirm", json={"base": on}), range(MANY))
        )
    assert Counter(one.status_code for one in said) == {201: 1, 409: MANY - 1}
    assert {one.json()["problem"]["code"] for one in said if one.status_code == 409} == {"ledger.stale"}
    shown = leader.get(f"{API}/objects/{OBJECT}").json()
    assert shown["examination"] == "confirmed"
    assert len(shown["beside"]) == MANY - 1
    assert fair["stand 7"].get(f"{API}/counter/objects/{OBJECT}").text.count("beside") == 0
    reader = sqlite.read_ledger(fair.folder / "ledger.db")
    statuses = Counter(e.status for e in reader.entries() if e.event.name == "outcome.confirmed")
    assert statuses == {"ok": 1, "stale": MANY - 1}
    assert verify(reader) == ()
    reader.close()


def test_two_who_ask_for_other_words_at_once_lose_neither(fair: Served) -> None:
    proposed(fair)
    on = fair["leader"].get(f"{API}/objects/{OBJECT}").json()["on_label"]
    first = {"text": "Pewter flagon, English, c. 1720", "base": on}
    second = {"text": "Pewter flagon with a later foot", "reason": "the foot", "base": on}
    at = f"{API}/objects/{OBJECT}/words/ask"
    assert fair["leader"].post(at, json=first).status_code == 201
    late = fair["chair"].post(at, json=second)
    assert (late.status_code, late.json()["problem"]["code"]) == (409, "ledger.stale")
    shown = fair["leader"].get(f"{API}/objects/{OBJECT}").json()
    assert shown["labels"][-1]["text"] == first["text"]
    assert [one["words"] for one in shown["beside"]] == [second["text"]]


def test_what_a_crowd_locks_at_once_is_on_the_disk_when_it_is_told(fair: Served) -> None:
    """Each answer comes after the sync that holds it, though one sync serves many; a device's numbers have no gap."""
    ids = ["7-001", "7-002", "7-003", "8-001"]
    jobs = [(who, one) for one in ids for who in ("leader", "member", "other", "third")]

    def lock(job: tuple[str, str]) -> bool:
        who, one = job
        given = {"ballots": [{"object": one, "outcome": "accept"}]}
        said = fair[who].post(f"{API}/ballots", json=given)
        assert said.status_code == 201, said.text
        reader = sqlite.read_ledger(fair.folder / "ledger.db")
        there = any(e.event.who == who and e.event.sub == one for e in reader.entries())
        reader.close()
        return there

    with ThreadPoolExecutor(16) as many:
        assert all(many.map(lock, jobs))
    again = {"ballots": [{"object": "7-001", "outcome": "remove"}]}
    assert fair["member"].post(f"{API}/ballots", json=again).status_code == 409
    reader = sqlite.read_ledger(fair.folder / "ledger.db")
    assert verify(reader) == ()
    cast = [e for e in reader.entries() if e.event.name == "ballot.locked" and e.status == "ok"]
    assert len(cast) == len(jobs)
    reader.close()


def test_one_person_locking_the_same_view_many_times_at_once_has_one_ballot(fair: Served) -> None:
    given = {"ballots": [{"object": OBJECT, "outcome": "accept"}]}
    member = fair["member"]
    with ThreadPoolExecutor(16) as many:
        said = list(many.map(lambda _: member.post(f"{API}/ballots", json=given).status_code, range(40)))
    assert Counter(said) == {201: 1, 409: 39}
    assert len(fair.desk.fair.state.objects[OBJECT].ballots) == 1
