"""Three tablets offline, contradicting each other: nothing is lost, and every contradiction becomes a card."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest

from tests.floor.hall import Hall, listing
from tests.floor.tablet import Tablet

pytestmark = pytest.mark.browser
New = Callable[..., Tablet]
STANDS = ("7", "8", "9", "10", "11", "12", "13")
OBJECTS = [f"{stand}-00{n}" for stand in STANDS for n in range(1, 7)][:40]
BY_HAND = OBJECTS[:2]
CLOCKS = {"ben": timedelta(days=-365), "cleo": timedelta(0), "dora": timedelta(days=3, minutes=7)}
"""How wrong each tablet's clock is."""
HOURS = 4 * 3600


def words_of(person: str, object_id: str) -> tuple[str, str]:
    return f"Words of {person} for {object_id}", f"Seen by the light of {person}'s lamp."


def asks_for_all(hand: Tablet, person: str) -> None:
    """Ask for other words of every object: two by hand, the rest through the app's own outbox."""
    for object_id in BY_HAND:
        hand.asks_words(object_id, *words_of(person, object_id))
    docs = {doc["id"]: doc for doc in hand.rows("objects")}
    drafts = []
    for object_id in OBJECTS[len(BY_HAND) :]:
        doc, (text, reason) = docs[object_id], words_of(person, object_id)
        body = {"version": doc["label_version"] + 1, "text": text, "reason": reason}
        base = doc["bases"]["label"]
        drafts.append({"kind": "label.asked/1", "sub": object_id, "who": person, "base": base, "body": body})
    hand.writes(drafts)
    hand.sees(f"{len(OBJECTS)} on this tablet only", seconds=60)


def test_forty_objects_contradicted_by_three_tablets_four_hours_offline_with_wrong_clocks(
    hall: Hall, tablet: New
) -> None:
    hall.post("/stands", {"id": "13", "number": "13", "exhibitor": "Rushlight and Daughter, 13"})
    hall.take("13", listing(4))
    hands = {person: tablet() for person in CLOCKS}
    for person, hand in hands.items():
        hand.clock_at(datetime.now(UTC) + CLOCKS[person])
    devices = {hand.pair(person): person for person, hand in hands.items()}
    for hand in hands.values():
        hand.until(lambda hand=hand: len(hand.rows("objects")) == len(OBJECTS), "not all objects came")
    hall.line.cut()
    for person, hand in hands.items():
        asks_for_all(hand, person)
        hand.later(HOURS)
        hand.sees("Your PIN")  # nobody touched it; the queue goes in all the same
        hand.sees("oldest 4 h")
    hall.line.mend()
    for hand in hands.values():
        hand.sent(len(OBJECTS), seconds=180)
    asked = [one for one in hall.entries() if one["dev"] in devices]
    assert {(one["sub"], one["who"]) for one in asked} == {(o, p) for o in OBJECTS for p in hands}
    assert len(asked) == 3 * len(OBJECTS)
    for dev in devices:
        assert [one["seq"] for one in asked if one["dev"] == dev] == [*range(1, len(OBJECTS) + 1)]
    cards = hall.get("/cards")
    assert len(cards) == 2 * len(OBJECTS)
    for object_id in OBJECTS:
        states = sorted(one["status"] for one in asked if one["sub"] == object_id)
        assert states == ["ok", "stale", "stale"]
        of = [card for card in cards if card["sub"] == object_id]
        stands = {str(card["stands"]["fields"]["text"]) for card in of}
        assert len(stands) == 1
        told = {str(card["yours"]["text"]) for card in of} | stands
        assert told == {words_of(person, object_id)[0] for person in hands}
    _the_losers_see_their_cards(hands)


def _the_losers_see_their_cards(hands: dict[str, Tablet]) -> None:
    shown = 0
    for hand in hands.values():
        lost = sum(own["status"] == "stale" for own in hand.rows("events"))
        hand.unlock()
        hand.go("#/work")
        if lost:
            hand.sees(f"{lost} card{'s' if lost > 1 else ''} for you", seconds=60)
            hand.sees("Somebody changed it first. Both are kept; a person decides at the desk.")
        shown += lost
        hand.clean()
    assert shown == 2 * len(OBJECTS)


def test_views_of_the_same_object_by_three_people_are_no_contradiction(hall: Hall, tablet: New) -> None:
    hands = [tablet() for _ in range(3)]
    for person, hand in zip(("ben", "cleo", "dora"), hands, strict=True):
        hand.pair(person)
    hall.line.cut()
    for hand, outcome in zip(hands, ("Relabel", "Remove", "Refer"), strict=True):
        hand.views("9-001", outcome, "The foot.")
    hall.line.mend()
    for hand in hands:
        assert [one["status"] for one in hand.sent(1, seconds=60)] == ["ok"]
        assert "Remove" not in hand.text()
