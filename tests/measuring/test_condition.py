"""Condition words, cautions, and the promises every instrument keeps."""

import re
from collections.abc import Mapping
from typing import Any

import pytest

from planish.facts.book import FactBook
from planish.reasoning.measuring import measure
from planish.reasoning.measuring.cautioning import BY_ELEMENT, BY_METHOD, BY_TERM, DEFER, XRAY
from planish.reasoning.measuring.condition import term
from planish.records import Observation, Years

from .conftest import Look, observation

LOOKS: list[Observation] = [
    observation("composition", {"Cu": 64, "Zn": 34.3, "Pb": 1.5}, surface="patina", instrument="handheld XRF"),
    observation("composition", {"Cu": 70, "Zn": 10, "Au": 15, "Hg": 3}, surface="gilt"),
    observation("density", {"air": 812.4, "water": 716.9, "Cu": 65, "Zn": 35}, more={"alloy": "brass"}),
    observation("capacity", {"capacity": (473, 2, "ml")}),
    observation("thread", {"tpi": 20, "diameter": 6.3}),
    observation("mark", more={"diamond": {"circle": "I", "top": "P", "right": "5", "bottom": "1", "left": "C"}}, original=True),
    observation("mark", more={"registered": 412211}),
    observation("mark", more={"patent": "12345/1890", "country": "gb"}),
    observation("mark", words="Made in Occupied Japan"),
    observation("members", {"1": 310, "2": 305, "3": 298, "4": 402}),
    observation("weight", {"weight": 690}, more={"engraved": "22-10"}),
    observation("condition", terms=("cond.repatination", "cond.electrified", "cond.lead_bloom")),
]  # fmt: skip
BANNED = re.compile(r"\b(authentic\w*|certified|guaranteed|approved|fake\w*|score\w*|grade\w*)\b", re.I)


def test_every_condition_term_says_what_it_looks_like_and_how_a_label_owns_up(
    look: Look, book: FactBook
) -> None:
    for fact in book.family("condition_term"):
        found = look("condition", terms=(fact.id,))
        for lead in ("Looks like: ", "Shown by: ", "A label says: "):
            assert any(s.startswith(lead) and len(s) > len(lead) + 3 for s in found.sentences), fact.id


def test_no_condition_ever_dates_the_body(look: Look, book: FactBook) -> None:
    for fact in book.family("condition_term"):
        for item in look("condition", terms=(fact.id,)).items:
            assert item.event != "body_made", fact.id
            assert not item.hard
            assert item.windows[0].latest is None


@pytest.mark.parametrize(
    ("word", "event", "floor"),
    [
        ("repatination", "finish_applied", None),
        ("electrified", "repair", 1881),
        ("resin_fill", "repair", 1945),
        ("later engraving", "inscribed", None),
        ("Later engraving", "inscribed", None),
        ("replaced_part", "part_made", None),
    ],
)
def test_a_condition_is_of_its_event(look: Look, word: str, event: str, floor: int | None) -> None:
    (item,) = look("condition", words=word).items
    assert (item.event, item.windows) == (event, (Years(floor, None),))


def test_a_replaced_part_is_of_a_part_even_when_nobody_named_it(look: Look) -> None:
    (item,) = look("condition", terms=("cond.replaced_part",)).items
    assert (item.event, item.part) == ("part_made", "replaced part")
    (named,) = look("condition", terms=("cond.replaced_part",), part="finial").items
    assert named.part == "finial"


def test_terms_are_found_by_id_short_name_and_trade_word(book: FactBook) -> None:
    assert term("cond.retinning", book) is term("retinning", book) is term("Re-tinned", book) is not None
    assert term("shiny", book) is None


def test_every_caution_named_is_on_file(book: FactBook) -> None:
    tables: list[Mapping[str, Any]] = [BY_ELEMENT, BY_METHOD, BY_TERM]
    for table in tables:
        for ids in table.values():
            assert all(book.look(i).state == "known" for i in ids)
    assert all(book.look(i).state == "known" for i in XRAY)
    assert all(book.look(i).state == "known" for i in BY_TERM)


@pytest.mark.parametrize("index", [0, 1, 2, 3, 9, 10, 11])
def test_cautions_come_with_the_method_and_defer_to_law_and_licence(book: FactBook, index: int) -> None:
    assert measure(LOOKS[index], book).cautions[-1] == DEFER


def test_an_x_ray_reading_always_brings_the_caution_of_its_tube(book: FactBook) -> None:
    said = measure(LOOKS[0], book).cautions
    assert any("X-ray analyser" in c for c in said)
    assert any(c.startswith("Lead") for c in said)


@pytest.mark.parametrize("one", LOOKS, ids=lambda o: f"{o.kind}{o.words[:8]}")
def test_no_word_that_screens_never_use_comes_out(book: FactBook, one: Observation) -> None:
    found = measure(one, book)
    said = [
        *found.sentences,
        *found.cautions,
        *(str(p) for p in found.problems),
        *(i.sentence for i in found.items),
    ]
    assert said
    assert [s for s in said if BANNED.search(s)] == []


@pytest.mark.parametrize("one", LOOKS, ids=lambda o: f"{o.kind}{o.words[:8]}")
def test_every_answer_prints_the_house_settings_it_used_and_facts_on_file(
    book: FactBook, one: Observation
) -> None:
    found = measure(one, book)
    assert found.details["settings"]
    for item in found.items:
        assert item.facts
        assert [i for i in item.facts if book.look(i).state != "known"] == []
        assert item.id.startswith("o1:")
        assert 0 < item.doubt < 1
    assert len({i.id for i in found.items}) == len(found.items)


@pytest.mark.parametrize("one", LOOKS, ids=lambda o: f"{o.kind}{o.words[:8]}")
def test_the_same_look_gives_the_same_answer(book: FactBook, one: Observation) -> None:
    assert measure(one, book) == measure(one, book)


def test_a_look_in_words_alone_is_kept_and_not_measured(look: Look) -> None:
    assert look("construction", words="seamed and hammered").problems == ()
    assert [p.code for p in look("sonar").problems] == ["measure.kind"]
