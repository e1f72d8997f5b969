"""Whatever is left out of a label, however its phrases were parted: no doubled, loose or lonely punctuation is left."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planish.reasoning.wording import in_house_form, render
from tests.wording.test_properties import CASES, KIT, Drawn, as_read

PHRASES = (
    "English", "c. 1740", "1761", "pierced panel", "engraved with a ship", "chased", "the cover replaced", "unique", "rare", "A/F",
    "height 24 cm", "diameter 38 cm (15 in)", "re-tinned inside", "by Josiah Thornbeck", "later handle", "marked “IT”",
)  # fmt: skip
PARTED = (", ", " – ", " - ", " — ", "; ", ". ", " | ", ": ")
DOUBLED = re.compile(
    r"[,;:–—|]\s*[,;:–—|.]|\.\s*[,;:.|]|(?:\s-\s*)+[,;:–—|.]|[,;:–—|.]\s*-\s|\s-\s+-\s|\(\s*[,;:.)–—|-]|[,;:–—|]\s*\)"
)
LOOSE = re.compile(r"[,;:–—|]$|\s-$|\s-\.$|^[,;:.–—|)-]|\s\s|\s[,;:.]")


@st.composite
def parted(draw: st.DrawFn) -> Drawn:
    """A label of drawn phrases with drawn marks between them, some in brackets, and up to four claims that fall."""
    text = draw(st.sampled_from(["Pewter flagon", "Pair of brass candlesticks", "Kettle"]))
    for phrase in draw(st.lists(st.sampled_from(PHRASES), max_size=5, unique=True)):
        mark = draw(st.sampled_from(PARTED))
        said = phrase[:1].upper() + phrase[1:] if mark == ". " else phrase
        text += f" ({phrase})" if draw(st.integers(0, 5)) == 0 else f"{mark}{said}"
    reading = as_read(text + draw(st.sampled_from(["", "."])))
    fallen = draw(st.lists(st.sampled_from([c.id for c in reading.claims]), max_size=4, unique=True))
    return Drawn(reading, tuple(fallen), {}, ())


def plain(text: str) -> str:
    """Without the stops of abbreviations, which end no sentence."""
    return re.sub(r"\b(c|ca|in|No)\.", r"\1", text)


def faults(text: str) -> list[str]:
    return DOUBLED.findall(plain(text)) + LOOSE.findall(plain(text))


@CASES
@given(parted())
def test_what_is_left_of_a_label_has_no_doubled_or_loose_punctuation(case: Drawn) -> None:
    if faults(case.reading.text):
        return
    agreed = case.agreed().text
    assert faults(agreed) == [], (case.reading.text, case.fallen, agreed)


@CASES
@given(parted())
def test_no_form_of_a_label_doubles_its_punctuation(case: Drawn) -> None:
    form, conventions = KIT.rules.house_form, KIT.rules.conventions
    housed = in_house_form(case.reading, form, as_read)
    rendered = render(case.reading.claims, conventions=conventions, form=form)
    for text in (housed, rendered):
        assert faults(text) == [] or faults(case.reading.text), (case.reading.text, text)


@pytest.mark.parametrize(
    ("hung", "gone", "left"),
    [
        ("Brass kettle, English – pierced panel – height 25 cm", ("pierced", "panel"), "Brass kettle, English – height 25 cm"),
        ("Brass kettle, English - pierced panel - height 25 cm", ("pierced", "panel"), "Brass kettle, English - height 25 cm"),
        ("Brass kettle, English - rare.", ("rare",), "Brass kettle, English."),
        ("Brass kettle – English – c. 1760", ("English",), "Brass kettle – c. 1760"),
        ("Brass kettle (English, c. 1760)", ("English",), "Brass kettle (c. 1760)"),
        ("Brass kettle (English, c. 1760)", ("c. 1760",), "Brass kettle (English)"),
    ],
)  # fmt: skip
def test_a_claim_between_two_marks_takes_one_of_them_along(
    hung: str, gone: tuple[str, ...], left: str
) -> None:
    reading = as_read(hung)
    fallen = tuple(c.id for c in reading.claims if c.words in gone)
    assert len(fallen) == len(gone), reading.claims
    assert Drawn(reading, fallen, {}, ()).agreed().text == left
