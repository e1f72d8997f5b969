"""What a word of a label speaks of: one rule of the grammar a test, on invented labels, each beside a twin that turns it."""

import pytest

import planish
from tests.reading.test_labels import of_side


def says(text: str, side: str) -> list[str]:
    """Claims of one side as the cases write them."""
    return of_side(planish.read_label(text), side)


@pytest.mark.parametrize(
    ("text", "side", "claims"),
    [
        # the first noun is the thing; the same noun after a thing is what the ornament shows
        ("Owl, bronze, marble plinth", "object", ["owl"]),
        ("Owl, bronze, marble plinth", "material", ["bronze", "marble of plinth"]),
        ("Pewter plate engraved with an owl", "object", ["plate"]),
        ("Pewter plate engraved with an owl", "decoration", ["engraved", "owl"]),
        ("Brass tankard, owl finial", "decoration", ["owl of finial"]),
        # a likeness is no thing and no ornament
        ("Bronze tap in the form of a dolphin", "style", ["dolphin"]),
        # ornament is on the part that it is told of, and a substance before it is the ornament's
        ("Clock, the dial engraved with tulips", "decoration", ["engraved of dial", "tulip of dial"]),
        ("Iron box inlaid with silver poppies", "material", ["iron", "silver of inlay"]),
        ("Copper tray applied with silver poppies", "material", ["copper", "silver of poppy"]),
        # a shape before a part is the part's, before the thing the thing's
        ("Square brass tray", "form", ["square"]),
        ("Copper pan, two square handles", "form", ["square of handle"]),
        # a hinged cover is of silver, not its hinge
        ("Horn mull, silver hinged cover", "material", ["horn", "silver of cover"]),
        # serpentine is a shape of fenders and a stone of vases
        ("Serpentine brass fender", "form", ["serpentine"]),
        ("Serpentine vase", "material", ["serpentine"]),
        # what is worn off, cracked or tarnished is no substance of the whole
        ("Iron figure, worn paint", "material", ["iron"]),
        ("Iron figure, worn paint", "state", ["worn of paint"]),
        ("Dressing case of rosewood, cracked glass", "material", ["rosewood"]),
        # what it stands on is neither the thing's nor a part's
        ("Brass bells, mounted on leather", "material", ["brass", "leather of stand"]),
        # one of several
        ("Pair of brass candlesticks. One drilled", "state", ["drilled of one"]),
        # a need is a change not made; a good state says nothing of the next part
        ("Sheffield plate urn, needs replating", "state", ["re-plated [denied]"]),
        ("Copper kettle, good colour with gooseneck spout", "state", ["good colour"]),
        # a question about the maker leaves the substance alone; one about the thing does not
        ("Brass clock by Peter Clane?", "material", ["brass"]),
        ("Brass clock?", "material", ["brass [possible]"]),
        # an answer denies its own clause only
        ("Bronze bell, silver? No.", "material", ["bronze", "silver [denied]"]),
        # damage is told by its kind and its place: neither is a further substance or part
        ("Gold box, enamelled, chip to enamel", "material", ["gold"]),
        ("Copper kettle, bullet dents", "state", ["dent"]),
        ("Copper kettle, clapper dented", "state", ["dent of clapper"]),
        ("Copper pan, stamped 'AB', retinned", "state", ["re-tinned"]),
        ("Pewter pan, touch of J. Aldous rubbed", "state", ["rubbed of mark"]),
        # a thing and what it shows, side by side
        ("Copper weathervane horse", "object", ["weathervane"]),
        # a shortened century may end its sentence, and the next part keeps no date of it
        ("Pewter flagon, 18thC. Chain handle", "date", ["1701-1800 body_made"]),
        # what is set with a stone is of the part that is so set; a limb counted and mended is the figure's
        ("Horn mull, cover set with a citrine", "material", ["horn", "citrine of cover"]),
        ("Bronze figure of a dancer, one hand restored", "state", ["restored of hand"]),
        ("Sconce, gilt metal, two arms", "part", ["arm of arm"]),
        ("Silver box, lid pierced with scrolls", "decoration", ["pierced of cover", "scrollwork of cover"]),
        # a date's own stop may end the sentence
        ("Tankard. Danish, 18thC. Ball feet", "place", ["Denmark"]),
        # two verbs on one lid; what is lacking, though no list has it; losses to paint
        ("Brass pan, lid pierced and engraved with a peacock", "decoration", ["pierced of cover", "engraved of cover", "peacock of cover"]),
        ("Tinder box, brass. Lacks damper", "state", ["missing of damper"]),
        ("Tin tray, gallery pierced, losses to paint", "state", ["missing of paint"]),
        # figures and foliage are two things; a state far from a part, or after "unmarked", tells of the whole
        ("Brass ewer engraved with figures and foliage", "decoration", ["engraved", "figure", "foliate"]),
        ("Pewter salt, unmarked, some corrosion", "state", ["corrosion"]),
        ("Set of four sticks, brass candlesticks, square bases, 21 cm high, two drilled", "state", ["drilled"]),
        ("Brass candlestick, two nozzles, one bent", "state", ["bent of nozzle"]),
        # coats lie on their base
        ("Plated on copper tray", "object", ["tray"]),
        # a capital between substance and thing is no name; alone it may be one
        ("Pewter Passover plate", "material", ["pewter"]),
        ("Lidded mug, Silver Wharton", "material", []),
        # six arms hold candles, other arms are heraldry
        ("Brass chandelier, six arms", "part", ["arm of arm"]),
        ("Silver salver engraved with arms", "part", []),
    ],
)  # fmt: skip
def test_a_word_speaks_of_what_its_phrase_gives_it(text: str, side: str, claims: list[str]) -> None:
    assert says(text, side) == claims


@pytest.mark.parametrize(
    ("text", "measures"),
    [
        ("Brass cannon, 25 cm barrel", ["length 250 mm of barrel [likely]"]),
        ("Bronze posnet, 3 feet, one short", []),
        ("Iron railing, 3 feet high", ["height 914.4 mm"]),
        ("Brass dial, 9 in in diameter", ["diameter 228.6 mm"]),
        ("Stick pin, 15ct", []),
        ("Rushlight holder, on elm base, 27 cm. Base wormed", ["height 270 mm [likely]"]),
        ("Pewter plate, initials E.H. to rim, 22 cm diameter", ["diameter 220 mm"]),
        (
            "Iron box, 30 x 20 x 12 cm",
            ["length 300 mm [likely]", "width 200 mm [likely]", "height 120 mm [likely]"],
        ),
        (
            "Iron box, 12 x 30 x 20 cm",
            ["height 120 mm [likely]", "width 300 mm [likely]", "depth 200 mm [likely]"],
        ),
        (
            "Fender, 120 x 35 x 20 cm",
            ["width 1200 mm [likely]", "depth 350 mm [likely]", "height 200 mm [likely]"],
        ),
        ("Sapphire, 2ct stone", ["weight 0.4 g"]),
        ("Globe: 3in pocket globe, in a case", ["length 76.2 mm [likely]"]),
    ],
)
def test_a_figure_measures_what_stands_beside_it(text: str, measures: list[str]) -> None:
    assert says(text, "measure") == measures


@pytest.mark.parametrize(
    ("text", "types"),
    [
        ("Silver creamer", ("cream jug", "creamer")),
        ("Silver teaspoon", ("teaspoon", "spoon")),
        ("Silver candy dish", ("candy dish", "dish")),
    ],
)
def test_the_labels_own_word_and_the_noun_it_ends_with_are_types_too(
    text: str, types: tuple[str, ...]
) -> None:
    assert planish.read_label(text).object_types[:2] == types


@pytest.mark.parametrize("text", ["Gold earring", "Brass door plate", "Copper printing plate"])
def test_a_noun_of_another_sense_is_no_wider_word(text: str) -> None:
    assert not {"ring", "plate"} & set(planish.read_label(text).object_types)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Sundial, signed 'J. Merrow fecit 1711'", "J. Merrow"),
        ("Copper pan, marked Café Royal", "Café Royal"),
    ],
)
def test_a_makers_name_is_whole_and_nothing_else(text: str, name: str) -> None:
    makers = [c.value.name for c in planish.read_label(text).claims if c.side == "maker"]  # type: ignore[union-attr]
    assert makers == [name]
