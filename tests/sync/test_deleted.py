"""Texts that were deleted at the desk go from the tablets as well, and work without them can still be handed in."""

import json
import shutil
from pathlib import Path
from typing import Any

from planish.errands.record import redacting
from planish.errands.record.redacting import Wanted
from planish.ledger.verifying import verify
from tests.sync.tablets import API, Tablet, pair
from tests.sync.test_pulling import again, closed, store
from tests.web.fairs import Served

MARK = "MARKWORDS of a name"
SEEN = {"kind": "wear", "words": MARK}


def delete(fair: Served, words: str) -> None:
    """Two people delete every text that holds these words."""
    texts = redacting.chosen(fair.desk.fair, Wanted(words=words))
    assert texts
    redacting.redact(fair.desk.fair, texts, ground="request", who="office", second="chair")
    fair.desk.forget()


def noted(fair: Served, *people: str) -> list[Tablet]:
    """Tablets that read all; the first noted something with the words."""
    tablets = [pair(fair, person) for person in people]
    tablets[0].make("observation.made", "7-001", SEEN)
    tablets[0].push_all()
    for tablet in tablets:
        tablet.pull()
        assert MARK in json.dumps(tablet.objects["7-001"])
    return tablets


def pages(tablet: Tablet, **asked: Any) -> dict[str, Any]:
    """One page of a pull from the tablet's own cursor."""
    where = {"epoch": tablet.epoch, "after": tablet.after, "hash": tablet.hash, **asked}
    return dict(tablet.client.get(f"{API}/pull", params=where).json())


def test_the_writers_tablet_is_told_which_texts_to_drop_and_the_others_get_the_object_without(
    fair: Served,
) -> None:
    writer, reader = noted(fair, "member", "leader")
    delete(fair, MARK)
    told = pages(writer, proto=2)
    assert told["redacted"] == [{"id": writer.ids()[0], "path": ""}]
    for tablet in (writer, reader):
        page = pages(tablet, proto=2)
        assert [doc["id"] for doc in page["objects"]] == ["7-001"]
        assert MARK not in json.dumps(page)
    assert pages(reader, proto=2)["redacted"] == []


def test_a_deletion_that_is_not_for_this_reader_tells_neither_its_object_nor_its_id(fair: Served) -> None:
    fair.vote("other", "7-001", reason=MARK)
    tablet = pair(fair, "member")
    tablet.pull()
    texts = redacting.chosen(fair.desk.fair, Wanted(people=("other",)), ground="mistake")
    redacting.redact(fair.desk.fair, texts, ground="mistake", who="office", second="chair")
    page = pages(tablet, proto=2)
    assert page["redacted"] == []
    assert page["objects"] == []


def test_an_app_of_the_protocol_before_reads_everything_again_and_so_loses_the_words(fair: Served) -> None:
    writer, reader = noted(fair, "member", "leader")
    delete(fair, MARK)
    page = pages(writer)
    assert "redacted" not in page
    assert page["again"]
    reader.pull()
    assert MARK not in json.dumps(reader.objects["7-001"])


def test_a_tablet_that_reads_from_the_beginning_is_told_of_deletions_it_slept_through(fair: Served) -> None:
    writer, _ = noted(fair, "member", "leader")
    delete(fair, MARK)
    page = pages(writer, after=0, hash="", proto=2)
    assert [one["id"] for one in page["redacted"]] == writer.ids()


def test_work_whose_text_was_deleted_is_handed_in_without_it_to_a_desk_that_went_back(
    fair: Served, template: Served, tmp_path: Path
) -> None:
    writer = pair(fair, "member")
    writer.pull()
    closed(fair)
    shutil.copytree(fair.folder, tmp_path / "yesterday")
    fair = again(fair, template)
    writer.make("observation.made", "7-001", SEEN)
    writer.make("observation.made", "7-002", {"kind": "wear", "words": "thin"})
    writer.push_all()
    writer.pull()
    delete(fair, MARK)
    writer.pull()
    writer.made[0]["open"] = []  # dropped, as told
    kept = (fair.folder / "deleted.jsonl").read_bytes()
    closed(fair)
    shutil.rmtree(fair.folder)
    shutil.copytree(tmp_path / "yesterday", fair.folder)
    (fair.folder / "deleted.jsonl").write_bytes(kept)
    fair = again(fair, template)
    writer.pull()
    writer.push_all()
    assert [writer.told[id_]["status"] for id_ in writer.ids()] == ["ok", "ok"]
    assert verify(store(fair)) == ()
    assert store(fair).entry_of(writer.ids()[0]).openings == {}


def test_an_event_that_merely_lost_its_text_is_refused_as_before(fair: Served) -> None:
    tablet = pair(fair, "member")
    tablet.make("observation.made", "7-001", SEEN)["open"] = []
    assert tablet.push().json()["results"][0]["status"] == "refused"
    assert store(fair).entry_of(tablet.ids()[0]) is None
