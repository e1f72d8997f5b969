"""Whole labels, invented, in the manner of different exhibitors: what they claim, readable in data (cases/*.toml)."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

import planish
from planish.records import Claim, DateValue, MakerValue, MeasureValue, Reading, TermValue

CASES = [
    (file.stem, case)
    for file in sorted((Path(__file__).parent / "cases").glob("*.toml"))
    for case in tomllib.loads(file.read_text(encoding="utf-8"))["label"]
]


def told(claim: Claim) -> str:
    """One claim as the case files write it: term, then its part after "of", then its strength unless stated."""
    value = claim.value
    if isinstance(value, MeasureValue):
        words = f"{value.role} {value.amount:g} {value.base_unit}"
    elif isinstance(value, MakerValue):
        words = f"{value.name} ({value.qualifier or value.role})"
    elif isinstance(value, DateValue):
        words = f"{value.years.earliest}-{value.years.latest} {value.event}"
    else:
        words = value.term if isinstance(value, TermValue) else ""
    words += f" of {claim.part}" if claim.part else ""
    return words + (f" [{claim.strength}]" if claim.strength != "stated" else "")


def of_side(reading: Reading, side: str) -> list[str]:
    """What the reading says of one side; forms and parts of the object are sides of their own here."""
    if side in ("part", "form", "mention"):
        claims = [c for c in reading.claims if isinstance(c.value, TermValue) and c.value.kind == side]
    else:
        claims = [
            c
            for c in reading.claims
            if c.side == side
            and not (
                side == "object"
                and isinstance(c.value, TermValue)
                and c.value.kind in ("part", "form", "mention")
            )
        ]
    return [told(c) for c in claims]


@pytest.mark.parametrize(("file", "case"), CASES, ids=[f"{f}: {c['text'][:40]}" for f, c in CASES])
def test_a_label_claims_what_its_case_says_and_no_more(file: str, case: dict[str, Any]) -> None:
    reading = planish.read_label(case["text"])
    for side, expected in case.items():
        if side == "unread":
            assert [left.words for left in reading.unread] == expected
        elif side != "text":
            assert of_side(reading, side) == expected, (file, side)


@pytest.mark.parametrize(("file", "case"), CASES, ids=[f"{f}: {c['text'][:40]}" for f, c in CASES])
def test_every_claim_quotes_the_label(file: str, case: dict[str, Any]) -> None:
    del file
    reading = planish.read_label(case["text"])
    assert all(case["text"][c.span.start : c.span.end] == c.words and c.words for c in reading.claims)
    assert all(case["text"][u.span.start : u.span.end] == u.words for u in reading.unread)
