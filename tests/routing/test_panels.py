"""Every object goes to the panels that must see it; what cannot be said is asked; nothing is dropped."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planish.facts.loading import disciplines
from planish.reasoning.routing import route
from planish.records import Claim, ListedObject, Reading, Route, Side, Span, Strength, TermValue

PANELS, _ = disciplines()


def claim(text: str, words: str, side: Side, part: str = "", strength: Strength = "stated") -> Claim:
    start = text.lower().index(words)
    return Claim(
        id=f"{side}-{words}",
        side=side,
        value=TermValue(term=words),
        words=text[start : start + len(words)],
        span=Span(start, start + len(words)),
        part=part,
        strength=strength,
    )


def listed(text: str, **fields: str) -> ListedObject:
    return ListedObject(id="o", stand="A1", number="1", text=text, fields=fields)


def routed(text: str, *claims: tuple[str, Side] | tuple[str, Side, str], **fields: str) -> Route:
    reading = Reading(text=text, claims=tuple(claim(text, *one) for one in claims))
    return route(listed(text, **fields), reading, PANELS)


def test_no_discipline_on_file_has_a_problem() -> None:
    assert disciplines()[1] == ()


@pytest.mark.parametrize(
    ("text", "claims", "lead", "seconds"),
    [
        ("Brass-mounted oak bracket clock", [("bracket clock", "object"), ("brass", "material")], "clocks", ("metalware",)),
        ("Silver-mounted glass claret jug", [("silver", "material"), ("glass", "material"), ("claret jug", "object")], "glass", ("silver",)),
        ("Pewter charger, English, c.1690", [("charger", "object"), ("pewter", "material")], "pewter", ()),
        ("Copper jelly mould, c.1880", [("jelly mould", "object"), ("copper", "material")], "kitchen", ()),
        ("Lead cistern, dated 1721", [("cistern", "object"), ("lead", "material")], "garden", ()),
        ("Pair of brass candlesticks", [("candlesticks", "object"), ("brass", "material")], "metalware", ()),
        ("Pair of silver candlesticks", [("candlesticks", "object"), ("silver", "material")], "silver", ()),
        ("Porcelain candlesticks", [("candlesticks", "object"), ("porcelain", "material")], "ceramics", ()),
        ("Pewter candlestick", [("candlestick", "object"), ("pewter", "material")], "pewter", ()),
        ("Brass microscope", [("microscope", "object"), ("brass", "material")], "instruments", ()),
        ("Steel-hilted small sword", [("sword", "object"), ("steel", "material")], "arms", ()),
        ("Oak chest of drawers with brass handles", [("chest of drawers", "object"), ("oak", "material"), ("brass", "material")], "furniture", ("metalware",)),
    ],
)  # fmt: skip
def test_objects_go_to_their_lead_panel_and_parts_to_a_second(
    text: str, claims: list[tuple[str, Side]], lead: str, seconds: tuple[str, ...]
) -> None:
    found = routed(text, *claims)
    assert (found.lead, found.seconds, found.ask) == (lead, seconds, False)


def test_a_part_named_in_the_claim_calls_in_a_second_panel() -> None:
    found = routed(
        "Stoneware jug, the cover pewter", ("stoneware", "material"), ("pewter", "material", "cover")
    )
    assert (found.lead, found.seconds) == ("ceramics", ("pewter",))


def test_two_materials_of_different_fields_are_asked_about() -> None:
    found = routed("Plaque of porcelain and silver", ("porcelain", "material"), ("silver", "material"))
    assert (found.lead, found.ask) == ("ceramics", True)


def test_the_list_s_own_column_comes_first() -> None:
    assert (
        routed("Brass object", ("brass", "material"), category="Scientific and nautical instruments").lead
        == "instruments"
    )


def test_words_nobody_settled_lead_only_with_a_question() -> None:
    found = routed("A fine barometer")
    assert (found.lead, found.ask) == ("clocks", True)


def test_an_object_that_says_nothing_is_asked_about_and_not_dropped() -> None:
    found = routed("Lot of boxes, various")
    assert (found.lead, found.ask, found.why) == (
        "metalware",
        True,
        ("nothing in the words says which panel",),
    )


def test_a_settled_term_with_a_capital_letter_leads_all_the_same() -> None:
    text = "Britannia metal teapot"
    made = Claim(
        id="c",
        side="material",
        value=TermValue(term="Britannia metal"),
        words="Britannia metal",
        span=Span(0, 15),
    )
    assert route(listed(text), Reading(text=text, claims=(made,)), PANELS).lead == "pewter"


def test_a_denied_material_calls_nobody() -> None:
    text = "Candlestick, not silver"
    reading = Reading(text=text, claims=(claim(text, "silver", "material", strength="denied"),))
    assert route(listed(text), reading, PANELS).lead != "silver"


@given(st.text(max_size=300))
def test_every_text_finds_a_panel(text: str) -> None:
    assert route(listed(text), Reading(text=text), PANELS).lead in {panel.id for panel in PANELS}
