"""What a word or date of a label belongs to: the making, the repair, the mark, the maker; each beside a twin that turns it.

Invented labels; how the trade writes them is common practice, no source.
"""

import pytest

import planish
from planish.records import MakerValue, MeasureValue, TermValue
from tests.reading.test_labels import of_side


def says(text: str, side: str) -> list[str]:
    """Claims of one side as the cases write them."""
    return of_side(planish.read_label(text), side)


@pytest.mark.parametrize(
    ("text", "years"),
    [
        # a date right before a repair dates the repair; before "repaired" it dates the thing
        ("Oak stool, bears a 19th century repair, c. 1680", (1670, 1690)),
        ("Brass clock, c. 1680, 19th century restoration", (1670, 1690)),
        ("18th century repaired pewter tankard", (1701, 1800)),
        # work done again is later than the thing; between commas the date is the thing's
        ("Tole tray. Repainted, c1870", (None, 1880)),
        ("Carved mirror, re-gilt c. 1900", (None, 1910)),
        ("Bronze clock, replacement movement c. 1900", (None, 1910)),
        ("Tole tray, repainted, c. 1870", (1860, 1880)),
        # a later cast carries the date of its model
        ("Bronze mortar, dated 1649 but later casting", (1649, None)),
        ("Bronze mortar, dated 1649, but a later cast", (1649, None)),
        ("Bronze mortar, dated 1649, but a later copy", (1649, None)),
        ("Bronze mortar, dated 1649", (1649, 1649)),
        # nobody engraves "circa"
        ("Brass clock, dial engraved Tho. Wheelham, c. 1690", (1680, 1700)),
        ("Brass clock, engraved T. Wheelham 1690", (None, None)),
        # behind a closed bracket the whole is spoken of
        ("Steel chatelaine with five attachments (one associated), English c. 1850", (1840, 1860)),
        # behind a closed clause of a part, circa dates the whole that has no date yet
        ("Pair of plated candelabra, branches later, c.1810", (1800, 1820)),
        ("Pair of plated candelabra, branches later c.1810", (None, None)),
        ("Pair of plated candelabra, branches later, c.1850, c.1810", (1800, 1820)),
        # the last words of a provenance: set off with circa they date the thing, else the story
        ("Silver mug, formerly the property of a lady, c. 1680", (1670, 1690)),
        ("Silver mug, formerly the property of a lady in 1680", (None, None)),
        # the war of 1642 to 1651 and the war of 1861 to 1865 (general history, from memory)
        ("English Civil War pot helmet", (1642, 1651)),
        ("Civil War period canteen", (1861, 1865)),
    ],
)
def test_a_date_belongs_to_the_making_only_when_nothing_else_claims_it(
    text: str, years: tuple[int | None, int | None]
) -> None:
    read = planish.read_label(text).years
    assert (read.earliest, read.latest) == years


@pytest.mark.parametrize(
    ("text", "side", "claims"),
    [
        ("Oak stool, bears a 19th century repair", "decoration", []),
        ("Oak stool carved with two bears", "decoration", ["bear"]),
        ("Pewter dish by a London maker working 1660-1690", "state", []),
        ("Brass clock, working", "state", ["working order"]),
        ("Bronze mortar by a member of the Coalbrookdale group", "mention", []),
        ("Bronze mortar, orb & sceptre stamp", "mention", []),
        ("Bronze mortar, orb & sceptre stamp", "mark", ["orb", "sceptre", "stamp"]),
        ("Pewter measure, punched T.B under a crown", "mark", ["stamp", "crown"]),
        ("Pewter measure engraved with a crown", "decoration", ["engraved", "crown"]),
        ("Gold crown", "object", ["crown"]),
        ("Pewter plate, touch of crown and rose", "mark", ["crowned rose"]),
        ("Papier-mâché tray, Great Exhibition, 1851", "puff", []),
        ("Great brass dish", "puff", ["great"]),
        ("Small brass candlestick", "puff", []),
        ("Small brass candlestick", "form", ["small"]),
        ("Tole tray, gold chinoiserie", "material", ["toleware", "gold of chinoiserie"]),
        ("Tole tray and gold box", "material", ["toleware", "gold"]),
        ("Pewter measure, Yates & Birch, Birmingham", "material", ["pewter"]),
        ("Pewter measure, Yates & Birch, Birmingham", "maker", ["Yates & Birch (maker) [likely]"]),
        ("Oak & birch table", "material", ["oak", "birch"]),
        ("Josiah Wexcombe & Sons pewter teapot", "maker", ["Josiah Wexcombe & Sons (maker) [likely]"]),
        ("A fine Wexcombe & Sons pewter teapot", "maker", ["Wexcombe & Sons (maker) [likely]"]),
        ("Pewter teapot, the Wexcombe & Sons catalogue", "maker", []),
        ("Pewter teapot, the Wexcombe & Sons catalogue", "unread", ["Wexcombe & Sons"]),
        ("Brass trivet, leg stumps worn", "state", ["worn of leg"]),
        ("Set of 3 graduated copper pans", "unread", []),
        ("Pewter plate, foundry mark of a bell", "mark", ["foundry mark", "bell"]),
        ("Pewter plate, mark of a bell", "mark", ["bell"]),
        ("Pewter plate, mark of a bell founder", "mark", []),
        ("Brass table, early 19th c., later black paint", "state", ["later of paint"]),
        ("Brass table, early 19th c., later, black paint", "state", ["later"]),
        ("Copper jug, spout added later", "state", ["later spout"]),
        ("Copper jug, spout worn, later", "state", ["worn of spout", "later"]),
        ("Copper pan, provenance: private collection, Bath", "place", []),
        ("Copper pan, Bath, provenance: private collection", "place", ["Bath"]),
        ("Copper pan, private collection, made in Bath", "place", ["Bath"]),
        ("Copper pan, private collection, English", "place", ["England"]),
        ("Cast-iron kettle, Japanese tetsubin, Meiji period", "place", ["Japan"]),
        ("Cast-iron kettle, Japanese trivet, Meiji period", "place", ["Japan of trivet"]),
        ("Tea caddy, ivory exempt, registered", "material", ["ivory"]),
        ("Tea caddy, ivory lid, registered", "material", ["ivory of cover"]),
        ("Brass medal, pierced for suspension worn", "state", ["worn"]),
        ("Brass clock, suspension worn", "state", ["worn of suspension"]),
        ("Brass candlestick bears no marks", "object", ["candlestick"]),
        ("Brass candlestick, bears no mark", "decoration", []),
        ("Brass candlestick cast with bears, no mark", "decoration", ["bear"]),
        ("Danish? 18thC. brass candlestick", "date", ["1701-1800 body_made"]),
        ("Brass candlestick, 18thC.?", "date", ["1701-1800 body_made [possible]"]),
    ],
)
def test_a_word_claims_what_it_is_said_of(text: str, side: str, claims: list[str]) -> None:
    if side == "unread":
        assert [left.words for left in planish.read_label(text).unread] == claims
    else:
        assert says(text, side) == claims


@pytest.mark.parametrize(
    ("text", "letters"),
    [("Pewter measure, stamped GR", "GR"), ("Pewter measure, punched T.B under a crown", "T.B")],
)
def test_initials_after_a_verb_of_marking_are_a_stamp(text: str, letters: str) -> None:
    marks = [c.value for c in planish.read_label(text).claims if c.side == "mark"]
    assert [m.more["letters"] for m in marks if isinstance(m, TermValue) and "letters" in m.more] == [letters]


def test_a_name_after_stamped_is_still_a_maker() -> None:
    makers = [
        c.value for c in planish.read_label("Brass tap, stamped R. Wallham").claims if c.side == "maker"
    ]
    assert [m.name for m in makers if isinstance(m, MakerValue)] == ["R. Wallham"]


@pytest.mark.parametrize(
    ("text", "sizes"),
    [
        ("Pewter dish, touch of a maker working 1660-1690, diam. 20 1/4in.", [("diameter", 514.35)]),
        ("Brass pan 10 in, diam. 20 in", [("diameter", 508.0)]),
        ("Brass pan 10 in high, 20 in diam.", [("height", 254.0), ("diameter", 508.0)]),
    ],
)
def test_a_role_behind_a_comma_is_of_the_figure_after_it(text: str, sizes: list[tuple[str, float]]) -> None:
    values = [c.value for c in planish.read_label(text).claims if c.side == "measure"]
    read = [(v.role, v.amount) for v in values if isinstance(v, MeasureValue)]
    assert read[-len(sizes) :] == sizes


@pytest.mark.parametrize(
    ("word", "never"),
    [("chatelaine", "box"), ("tsuba", "sculpture"), ("bronze medal", "sculpture"), ("buckle", "insignia")],
)
def test_small_work_is_of_its_own_kind(word: str, never: str) -> None:
    (thing,) = [c.value for c in planish.read_label(f"Antique {word}").claims if c.side == "object"]
    assert isinstance(thing, TermValue)
    assert never not in (thing.kind, *thing.more.get("is_a", ()))


@pytest.mark.parametrize(
    ("text", "things"),
    [
        ("Silver spoon, lion head finial", ["spoon"]),
        ("Silver spoon with ram head terminal", ["spoon"]),
        ("Bronze head, base worn", ["head"]),
    ],
)
def test_a_head_before_a_part_is_its_shape(text: str, things: list[str]) -> None:
    values = [c.value for c in planish.read_label(text).claims if c.side == "object"]
    assert [v.term for v in values if isinstance(v, TermValue) and v.kind != "part"] == things
