"""Readable cases from `cases.toml`; a specialist adds one there."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from planish.facts.words import english
from planish.reasoning.reading.dates import read_date_text, read_dates
from planish.records import Conventions, Reading, Years

CASES = tomllib.loads((Path(__file__).parent / "cases.toml").read_text(encoding="utf-8"))["case"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["text"])
def test_the_words_give_the_years(case: dict[str, Any]) -> None:
    house = Conventions()
    expected = Years(case.get("from"), case.get("to"))
    if case.get("field"):
        assert read_date_text(case["text"], words=english(), conventions=house).years == expected
        return
    claims = read_dates(case["text"], words=english(), conventions=house)
    assert Reading(text=case["text"], claims=claims, conventions=house).years == expected
