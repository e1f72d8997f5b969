"""The period table of the word pack against the fact book: one set of years, not two."""

import tomllib
from importlib.resources import files
from typing import Any

import pytest

from planish.facts.loading import load
from planish.records import Years

ROWS: list[dict[str, Any]] = tomllib.loads(
    (files("planish") / "packs/words/en/periods.toml").read_text(encoding="utf-8")
)["period"]
CITED = [row for row in ROWS if "fact" in row]


@pytest.mark.parametrize("row", CITED, ids=lambda row: row["id"])
def test_a_period_s_fact_is_on_file_with_the_same_years(row: dict[str, Any]) -> None:
    fact = load()[0].look(row["fact"]).fact
    assert fact is not None
    assert fact.years == Years(*row["years"])


def test_a_row_without_a_fact_names_a_source_and_says_that_it_is_from_memory() -> None:
    bare = [row for row in ROWS if "fact" not in row]
    assert all(row["source"] for row in bare)
    assert {row["verified"] for row in bare} == {"memory"}


def test_rows_stand_in_order_and_under_one_name_each() -> None:
    assert len({row["id"] for row in ROWS}) == len(ROWS)
    assert all(row["years"] == sorted(row["years"]) for row in ROWS)
