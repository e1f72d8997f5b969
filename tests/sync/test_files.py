"""A tablet that cannot reach the desk: its work is saved as a file, and taken in at the desk by hand."""

import json
from typing import Any

from tests.sync.tablets import API, Tablet, pair
from tests.sync.test_pulling import store
from tests.web.fairs import BYTES, Served

SEEN = {"kind": "wear", "words": "rubbed at the rim"}


def saved(tablet: Tablet, **named: Any) -> bytes:
    """The file as the app on the tablet saves it; `named` puts another name on it."""
    rows = [
        {**event, "seq": n, "id": id_, "status": "waiting", "n": 0}
        for n, (event, id_) in enumerate(zip(tablet.made, tablet.ids(), strict=True), start=1)
    ]
    about = {"dev": tablet.dev, "fair": tablet.fair, "seq": len(rows), "state": "paired", **named}
    return json.dumps({"tablet": about, "events": rows}).encode()


def hand_in(fair: Served, who: str, content: bytes) -> Any:
    return fair[who].post(f"{API}/devices/files", content=content, headers=BYTES)


def test_a_file_is_taken_in_once_and_the_tablet_that_comes_back_later_doubles_nothing(fair: Served) -> None:
    tablet = pair(fair, "member")
    tablet.make("observation.made", "7-001", SEEN)
    tablet.push_all()
    tablet.make("observation.made", "7-002", SEEN)
    tablet.make("ballot.locked", "7-001", {"round": 1, "ballot": {"round": 1, "outcome": "accept"}})
    first = hand_in(fair, "steward", saved(tablet))
    assert first.status_code == 201, first.text
    assert {name: first.json()[name] for name in ("fresh", "known", "cards", "left")} == {
        "fresh": 2,
        "known": 1,
        "cards": 0,
        "left": 0,
    }
    assert hand_in(fair, "office", saved(tablet)).json()["fresh"] == 0
    tablet.push_all()
    assert [tablet.told[id_]["status"] for id_ in tablet.ids()[1:]] == ["have", "have"]
    assert [entry.event.seq for entry in store(fair).entries_of(tablet.dev)] == [1, 2, 3]
    codes = [one["code"] for one in fair["office"].get(f"{API}/devices").json()["alarms"]]
    assert codes == ["file", "file"]


def test_a_file_with_one_changed_byte_or_another_tablets_name_is_not_taken(fair: Served) -> None:
    tablet, other = pair(fair, "member"), pair(fair, "leader")
    tablet.make("observation.made", "7-001", SEEN)
    spoiled = json.loads(saved(tablet))
    spoiled["events"][0]["raw"] = spoiled["events"][0]["raw"].replace("7-001", "7-002")
    said = hand_in(fair, "steward", json.dumps(spoiled).encode()).json()
    assert (said["fresh"], said["left"]) == (0, 1)
    assert "signature" in said["why"]
    said = hand_in(fair, "steward", saved(tablet, dev=other.dev)).json()
    assert (said["fresh"], said["left"]) == (0, 1)
    assert store(fair).last_of(tablet.dev).seq == 0


def test_a_file_of_a_tablet_that_does_not_sign_needs_the_chair(fair: Served) -> None:
    tablet = pair(fair, "member", sign=False)
    tablet.make("observation.made", "7-001", SEEN)
    said = hand_in(fair, "steward", saved(tablet))
    assert said.json()["problem"]["code"] == "file.unsigned"
    assert store(fair).last_of(tablet.dev).seq == 0
    assert hand_in(fair, "chair", saved(tablet)).json()["fresh"] == 1


def test_a_file_of_a_lost_tablet_waits_for_the_chair_entry_by_entry(fair: Served) -> None:
    tablet = pair(fair, "member")
    tablet.make("observation.made", "7-001", SEEN)
    fair["office"].post(f"{API}/devices/{tablet.dev}/revoke", json={"how": "lost"})
    said = hand_in(fair, "office", saved(tablet)).json()
    assert (said["fresh"], said["cards"]) == (1, 1)
    assert store(fair).entry_of(tablet.ids()[0]).status == "held"


def test_what_is_no_such_file_or_of_another_fair_is_refused_in_words_and_members_take_none_in(
    fair: Served,
) -> None:
    tablet = pair(fair, "member")
    for content, code in (
        (b"{", "file.form"),
        (b"\xff\xfe", "file.form"),
        (saved(tablet)[:-3], "file.form"),
        (saved(tablet, fair="elsewhere"), "file.fair"),
        (saved(tablet, dev="desk"), "file.dev"),
        (saved(tablet, dev="tablet-99"), "file.dev"),
    ):
        said = hand_in(fair, "office", content)
        assert said.json()["problem"]["code"] == code
    assert hand_in(fair, "member", saved(tablet)).status_code == 403
