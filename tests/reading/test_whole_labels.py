"""What holds of any text: quoted spans, steady spans, no surprise; and what outside sources say of units and qualifiers."""

import sys

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import planish
from planish.facts.words import english
from planish.records import MakerValue, MeasureValue

WORDS = st.sampled_from(
    [
        "pewter",
        "flagon",
        "c.1720",
        "silver",
        "22",
        "oz",
        "9¾in",
        "x",
        "4",
        "by",
        "John",
        "Silver",
        "&",
        "Co,",
        "the",
        "cover",
        "later",
        ".",
        ";",
        ":",
        "\n",
        "'IB'",
        '"',
        "engraved",
        "not",
        "no",
        "without",
        "London",
        "maker's",
        "mark",
        "of",
        "£120",
        "height",
        "H.",
        "24cm",
        "diam",
        "(10",
        "x",
        "4",
        "in.)",
        "probably",
        "?",
        "Rd",
        "No",
        "412",
        "Dutch",
        "/",
        "-",
        "restored",
        "collection",
        "of",
        "½",
        "İ",
        "ß",
    ]
)
TRADE = st.lists(WORDS, max_size=40).map(" ".join)


@settings(max_examples=150, deadline=None)
@given(st.one_of(TRADE, st.text(max_size=300)))
def test_any_text_is_read_and_every_span_quotes_it(text: str) -> None:
    reading = planish.read_label(text)
    for piece in (*reading.claims, *reading.unread):
        assert text[piece.span.start : piece.span.end] == piece.words != ""
    assert [c.id for c in reading.claims] == [f"c{n}" for n in range(1, len(reading.claims) + 1)]


@settings(max_examples=60, deadline=None)
@given(TRADE)
def test_claims_and_leftovers_never_share_characters(text: str) -> None:
    reading = planish.read_label(text)
    claimed = {i for c in reading.claims for i in range(c.span.start, c.span.end)}
    assert not claimed.intersection(i for u in reading.unread for i in range(u.span.start, u.span.end))


LABELS = (
    "Pewter flagon, c. 1720, by John Copper. Height 24 cm.",
    "Pair of brass candlesticks, engraved 'IB 1743', 9¾in high, the nozzles later.",
    "Silver salver; maker's mark of Ann Gold; 22 oz; 10-1/8 x 4 in. (25.7 x 10.2 cm)",
    "COPPER KETTLE, ENGLISH, MID 18TH CENTURY, NO REPAIRS",
)


@pytest.mark.parametrize("label", LABELS)
@pytest.mark.parametrize(
    "more", ["The handle is replaced.", "Silver mounts, 4 cm wide.", "Sold by Marsh & Sons in 1901.", "Zorg."]
)
def test_adding_a_sentence_never_changes_earlier_spans(label: str, more: str) -> None:
    before = planish.read_label(label).claims
    after = planish.read_label(f"{label}\n{more}").claims
    assert [(c.side, c.span, c.words) for c in after if c.span.end <= len(label)] == [
        (c.side, c.span, c.words) for c in before
    ]


@pytest.mark.parametrize(
    "piece",
    ["9 ", "no ", "((", "a. ", "\"'", "1/2 x ", "by John ", "\n", "Silver ", "c. 17", "-", "A) ", "e\u0301"],
)
def test_a_text_four_times_as_long_takes_about_four_times_the_work(piece: str) -> None:
    def calls(times: int) -> int:
        counted = [0]

        def count(_frame: object, event: str, _argument: object) -> None:
            counted[0] += event in ("call", "c_call")

        sys.setprofile(count)
        try:
            planish.read_label(piece * times)
        finally:
            sys.setprofile(None)
        return counted[0]

    calls(10)
    assert calls(4000) < 5 * calls(1000) + 1000


# Pint's registry (its own definitions file, after NIST SP 811) is the reference for what a unit is worth.
PINT = {
    "mm": "millimeter", "cm": "centimeter", "m": "meter", "in": "inch", "ft": "foot", "yd": "yard", "g": "gram", "kg": "kilogram",
    "lb": "pound", "st": "stone", "cwt": "long_hundredweight", "oz": "ounce", "ozt": "troy_ounce", "dwt": "pennyweight", "grain": "grain",
    "ct": "carat", "ml": "milliliter", "cl": "centiliter", "l": "liter", "fl oz": "imperial_fluid_ounce", "gill": "imperial_gill",
    "pt": "imperial_pint", "qt": "imperial_quart", "gal": "imperial_gallon", "fl oz US": "fluid_ounce", "wine gallon": "gallon",
    "oz avoirdupois": "ounce", "oz troy": "troy_ounce", "pint of the wine gallon": "pint", "quart of the wine gallon": "quart",
    "gill of the wine gallon": "gill",
}  # fmt: skip
BASE = {"length": "millimeter", "weight": "gram", "capacity": "milliliter"}
ROWS = [
    (name, section, amount)
    for section in BASE
    for group in english().tables["units"][section]
    for name, amount in [
        (group["words"][0], group["amount"]),
        *((reading[0], reading[1]) for reading in group.get("readings", ())),
    ]
    if name in PINT
]


@pytest.mark.parametrize(("name", "section", "amount"), ROWS)
def test_units_are_worth_what_pint_says(name: str, section: str, amount: float) -> None:
    assert pint.UnitRegistry()(PINT[name]).to(BASE[section]).magnitude == pytest.approx(amount, rel=1e-9)


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        ("9¾in high", 247.65),
        ("9 3/4 in. high", 247.65),
        ("10-1/8in high", 257.175),
        ("H. 24,5 cm", 245),
        ("height 1,250 mm", 1250),
        ("3 ft 6 in high", 1066.8),
    ],
)
def test_figures_are_read_however_they_are_written(text: str, millimetres: float) -> None:
    (part,) = planish.read_label(f"Pewter flagon, {text}").measures
    assert part.height_mm == pytest.approx(millimetres, abs=0.01)


def test_a_size_given_twice_is_one_size() -> None:
    reading = planish.read_label("Brass box, 10-1/8 x 4 in. (25.7 x 10.2 cm)")
    assert [(m.length_mm, m.width_mm) for m in reading.measures] == [(257.18, 101.6)]
    assert reading.unread == ()


def test_the_role_of_a_size_given_twice_may_stand_behind_both() -> None:
    (part,) = planish.read_label("Brass box, 9¾ in (24.8 cm) long, 4 in wide").measures
    assert (part.length_mm, part.width_mm) == (pytest.approx(247.65), pytest.approx(101.6))


def test_an_ounce_is_two_readings_until_the_label_says_which() -> None:
    value = planish.read_label("Silver salver, 22 oz").claims[-1]
    assert isinstance(value.value, MeasureValue)
    assert {name for _, name, _ in value.value.readings} == {"oz avoirdupois", "oz troy"}
    assert value.told_apart_by
    plain = planish.read_label("Silver salver, 22 oz troy").claims[-1].value
    assert isinstance(plain, MeasureValue)
    assert plain.readings == ()


# Cataloging Cultural Objects (Visual Resources Association, 2006), part 2, chapter 2, "Attribution qualifiers":
# what each says of the named master's hand and workshop. From memory of the published definitions.
CCO = {
    "attributed to": ("yes", "open"),
    "workshop of": ("open", "yes"),
    "studio of": ("open", "yes"),
    "pupil of": ("no", "yes"),
    "circle of": ("no", "open"),
    "follower of": ("no", "no"),
    "manner of": ("no", "no"),
    "style of": ("no", "no"),
    "after": ("no", "no"),
}


@pytest.mark.parametrize("qualifier", CCO)
def test_qualifiers_mean_what_cataloguers_publish(qualifier: str) -> None:
    claims = planish.read_label(f"Bronze relief, {qualifier} Jacob Holloway").claims
    (maker,) = [c.value for c in claims if c.side == "maker"]
    assert isinstance(maker, MakerValue)
    assert (maker.name, maker.hand, maker.workshop) == ("Jacob Holloway", *CCO[qualifier])
    assert maker.copies == ("yes" if qualifier == "after" else "open")


@settings(max_examples=80, deadline=None)
@given(
    st.sampled_from(["height", "width", "diameter", "depth", "length"]),
    st.integers(5, 899),
    st.sampled_from([("mm", 1.0), ("cm", 10.0), ("in", 25.4)]),
)
def test_a_measure_rendered_and_read_again_is_the_same(
    role: str, figure: int, unit: tuple[str, float]
) -> None:
    name, worth = unit
    (claim,) = [
        c for c in planish.read_label(f"Pewter dish. {role} {figure} {name}.").claims if c.side == "measure"
    ]
    assert isinstance(claim.value, MeasureValue)
    assert (claim.value.role, claim.value.amount) == (role, pytest.approx(figure * worth))


@pytest.mark.parametrize("side", ["material", "object", "state", "surface"])
def test_a_settled_term_read_again_is_the_same_claim(side: str) -> None:
    table = {"material": "materials", "object": "objects", "state": "states", "surface": "surfaces"}[side]
    terms = [line.split("|")[0] for group in english().tables[table]["group"] for line in group["words"]]
    lost = []
    for term in terms:
        claims = planish.read_label(f"the {term}.").claims
        if not any(getattr(c.value, "term", "").lower() == term.lower() for c in claims):
            lost.append(term)
    assert len(lost) <= len(terms) * 0.03, lost
