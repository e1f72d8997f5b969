"""The packs on disk become one fact book, with nothing lost and nothing silent."""

from collections import Counter

import pytest

from planish.facts.loading import load


def test_the_metalware_book_is_read_without_a_single_problem() -> None:
    book, problems = load("metalware")
    assert problems == ()
    assert len(book) > 1600


def test_every_family_is_as_large_as_the_reference_it_came_from() -> None:
    book, _ = load("metalware")
    sizes = Counter(fact.family for fact in book)
    expected = {
        "alloy": 84,
        "date_fact": 99,
        "xrf_rule": 55,
        "xrf_caution": 13,
        "element": 16,
        "physics_rule": 12,
        "alloy_density": 34,
        "water_density": 21,
        "melting": 18,
        "assay": 8,
        "thread_system": 14,
        "thread_size": 123,
        "thread_pair": 11,
        "condition_term": 33,
        "caution": 19,
        "uk_design": 21,
        "uk_design_year": 43,
        "uk_design_number": 82,
        "patent_year_us": 223,
        "capacity_measure": 76,
        "legal": 24,
    }
    assert {family: sizes[family] for family in expected if sizes[family] < expected[family]} == {}


def test_every_fact_names_a_source_and_says_who_vouches_for_it() -> None:
    book, _ = load("metalware")
    assert [
        f.id
        for f in book
        if not f.source.body or f.verified not in ("found", "memory", "derived", "practice")
    ] == []


def test_a_discipline_nobody_wrote_is_refused_with_the_ones_on_file() -> None:
    with pytest.raises(LookupError, match=r"on file: .*metalware"):
        load("millinery")
