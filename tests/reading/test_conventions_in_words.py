"""What turned words into years is told in words, whatever the setting."""

import pytest

from planish.doors.papers.underlined import says, setting_in_words
from planish.errands.opening import rulebooks, wiring
from planish.reasoning.reading import read

KIT = wiring.Kit(rulebooks.read("saltmere")[0])


@pytest.mark.parametrize(
    "text",
    ["Pewter plate, c.1760", "Brass jug, George I", "Copper pan, early 18th century", "Iron pot, turn of the century",
     "Bronze bell, circa 1850s", "Tin box, the 1800s", "Brass box, late 1870s", "Copper jug, 1760?", "Plate, 17th century"],
)  # fmt: skip
def test_no_setting_is_shown_as_code(text: str) -> None:
    claims = read(text, words=KIT.words, conventions=KIT.rules.conventions).claims
    said = " ".join(says(claim) for claim in claims)
    assert "=" not in said
    assert "_" not in said


def test_a_circa_says_how_wide_it_is_taken() -> None:
    assert setting_in_words("circa_years=10") == "“circa” taken as 10 years on both sides"
    assert setting_in_words("period as glossed") == "period as glossed"
