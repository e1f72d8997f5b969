"""Labels composed at random: later sentences leave earlier spans alone, and a maker rendered is read back."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import planish
from planish.facts.words import english
from planish.reasoning.wording.phrases import phrase
from planish.records import Conventions, MakerValue, Reading

THINGS = ("Pewter flagon", "A pair of brass candlesticks", "Silver cream jug", "Bell-metal mortar", "Copper kettle and cover",
          "Sheffield plate tray", "Wrought iron trivet", "A bronze figure of a horse")  # fmt: skip
DATES = (
    "c. 1760",
    "late 18th century",
    "George III",
    "1790-1810",
    "dated 1689",
    "second quarter of the 19th century",
)
PLACES = ("English", "London", "probably Dutch", "Nuremberg")
MAKERS = (
    "by Josiah Penhallow",
    "attributed to Otmar Falk",
    "workshop of Jonas Ellacott",
    "touchmark of Abel Wrexley",
)
SIZES = ("height 24 cm", "9 1/2 in.", "22 oz", "13 cm diameter", "32 x 14 cm", "1 pint")
STATES = ("foot resoldered", "no repairs", "the cover later", "handle replaced", "unmarked", "regilt")
SECOND = ("Sold with its stand", "Repaired in 1890", "The handle is later", "Provenance: by descent in the Ashgrove family",
          "Height 30 cm", "It was made in Norwich", "Illustrated in a catalogue of 1962", "Engraved with arms",
          "Not silver", "Another of brass is known", "Marked WM", "Price £200")  # fmt: skip

HEADING = st.tuples(
    st.sampled_from(THINGS),
    *(st.sampled_from(("", *words)) for words in (DATES, PLACES, MAKERS, SIZES, STATES)),
).map(lambda pieces: ", ".join(piece for piece in pieces if piece))


def spans(reading: Reading, end: int) -> list[tuple[object, ...]]:
    """Side, characters, part and strength of every claim that ends before `end`."""
    return [
        (c.side, c.span.start, c.span.end, c.part, c.strength) for c in reading.claims if c.span.end <= end
    ]


@settings(deadline=None)
@given(
    HEADING, st.lists(st.sampled_from(SECOND), min_size=1, max_size=3), st.sampled_from((". ", ".\n", "\n"))
)
def test_a_sentence_added_never_changes_what_was_read_before(first: str, more: list[str], stop: str) -> None:
    alone = planish.read_label(first + stop.strip(" "))
    longer = planish.read_label(first + stop + ". ".join(more) + ".")
    assert spans(longer, len(first) + 1) == spans(alone, len(first) + 1), (first, more)


@settings(deadline=None, max_examples=150)
@given(HEADING, st.lists(st.sampled_from(SECOND), max_size=3))
def test_every_claim_of_a_composed_label_quotes_its_characters(first: str, more: list[str]) -> None:
    text = ". ".join((first, *more))
    for claim in planish.read_label(text).claims:
        assert claim.words == text[claim.span.start : claim.span.end]


QUALIFIERS = [line for group in english().tables["makers"]["qualifier"] for line in group["words"]]
STRUCK = ("stamped", "marked", "impressed", "branded")
"""Before letters these open a mark, so a name after them is not always a maker: left to the tests of marks."""


@pytest.mark.parametrize("qualifier", [q for q in QUALIFIERS if q not in STRUCK])
def test_a_maker_rendered_with_its_qualifier_is_read_back(qualifier: str) -> None:
    value = MakerValue(name="Josiah Penhallow", qualifier=qualifier)
    words = phrase(value, side="maker", conventions=Conventions(), form={})
    makers = [
        c.value
        for c in planish.read_label(f"Pewter flagon, {words}, height 24 cm").claims
        if c.side == "maker"
    ]
    assert [(m.name, m.qualifier) for m in makers if isinstance(m, MakerValue)] == [(value.name, qualifier)]
