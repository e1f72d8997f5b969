"""Fifty labels written after a freeze: how many claims the reader makes that are not true of the label (fresh.toml)."""

import tomllib
from collections import Counter
from pathlib import Path

import planish
from tests.reading.test_labels import of_side

LABELS = tomllib.loads((Path(__file__).parent / "fresh.toml").read_text(encoding="utf-8"))["label"]
SIDES = ("object", "mention", "part", "form", "count", "date", "place", "maker", "material", "surface", "technique",
         "decoration", "mark", "inscription", "measure", "state", "style", "provenance", "evidence", "puff", "price")  # fmt: skip
AT_MOST = 3


def wrong_claims(label: dict[str, object]) -> list[str]:
    """Claims that the label's truth does not hold, each once more than it does."""
    reading = planish.read_label(str(label["text"]))
    wrong = []
    for side in SIDES:
        true = label.get(side, ())
        assert isinstance(true, list | tuple)
        wrong += [
            f"{side}: {claim}" for claim in (Counter(of_side(reading, side)) - Counter(true)).elements()
        ]
    return wrong


def test_fifty_fresh_labels_are_read_with_hardly_a_wrong_claim() -> None:
    assert len(LABELS) == 50
    wrong = [(label["text"], claim) for label in LABELS for claim in wrong_claims(label)]
    assert len(wrong) <= AT_MOST, wrong


def test_a_wrong_claim_is_counted() -> None:
    assert wrong_claims({"text": "Pewter plate", "object": ["plate"], "material": ["brass"]}) == [
        "material: pewter"
    ]
