"""Three tablets offline, contradicting each other: nothing is lost, and every contradiction becomes a card."""

from collections.abc import Callable

import pytest

from tests.floor.hall import Hall
from tests.floor.tablet import Tablet

pytestmark = pytest.mark.browser
New = Callable[..., Tablet]
OBJECTS = [f"{stand}-00{n}" for stand in ("7", "8") for n in range(1, 7)]


def test_three_tablets_offline_contradict_each_other_and_each_contradiction_is_a_card(
    hall: Hall, tablet: New
) -> None:
    hands = {person: tablet() for person in ("ben", "cleo", "dora")}
    devices = {hand.pair(person) for person, hand in hands.items()}
    hall.line.cut()
    wanted: dict[str, set[str]] = {}
    for person, hand in hands.items():
        for object_id in OBJECTS:
            words = f"Words of {person} for {object_id}"
            hand.asks_words(object_id, words, f"Seen by the light of {person}'s lamp.")
            wanted.setdefault(object_id, set()).add(words)
        hand.sees(f"{len(OBJECTS)} on this tablet only")
    hall.line.mend()
    for hand in hands.values():
        hand.sent(len(OBJECTS), seconds=120)
    asked = [one for one in hall.entries() if one["dev"] in devices]
    assert len(asked) == 3 * len(OBJECTS)
    for object_id in OBJECTS:
        states = sorted(one["status"] for one in asked if one["sub"] == object_id)
        assert states == ["ok", "stale", "stale"]
    cards = hall.get("/cards")
    assert len(cards) == 2 * len(OBJECTS)
    for object_id in OBJECTS:
        of = [card for card in cards if card["sub"] == object_id]
        stands = {str(card["stands"]["fields"]["text"]) for card in of}
        assert len(stands) == 1
        assert {str(card["yours"]["text"]) for card in of} | stands == wanted[object_id]
    loser = next(hand for hand in hands.values() if any(o["status"] == "stale" for o in hand.rows("events")))
    loser.go("#/work")
    loser.sees("Cards for you", seconds=30)
    loser.sees("Somebody changed it first. Both are kept; a person decides at the desk.")
    for hand in hands.values():
        hand.clean()


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
