"""Leaving a claim out leaves good trade English behind (words: common practice, no source)."""

import pytest

from planish.errands.opening.wiring import Kit
from planish.errands.words.reading_words import instead_value
from planish.facts.rulebooks import load_rulebook
from planish.facts.words import english
from planish.reasoning.reading import read
from planish.reasoning.wording import agree
from planish.records import Conventions, Finding, Reading

LEFT = {
    # label as hung, words of the claim that falls, label agreed
    "the property goes with its owner": (
        "Pewter charger engraved with a coat of arms, formerly the property of the Earls of Ludmere, English. Diameter 45 cm.",
        "formerly the property of",
        "Pewter charger engraved with a coat of arms, English. Diameter 45 cm.",
    ),
    "a participle leaves what it bears": (
        "Pewter flagon, English, engraved with a ship and scrolls. Height 27 cm.",
        "engraved",
        "Pewter flagon, English, decorated with a ship and scrolls. Height 27 cm.",
    ),
    "a participle alone goes": ("Pewter flagon, English, engraved. Height 27 cm.", "engraved", "Pewter flagon, English. Height 27 cm."),
    "hedges go with their name": (
        "Brass warming pan, possibly probably attributed to Nahum Orrick, English – length 108 cm",
        "attributed to Nahum Orrick",
        "Brass warming pan, English – length 108 cm",
    ),
    "a sentence of praise goes whole": (
        "Cast iron money box, English. Height 15 cm. All original.", "original", "Cast iron money box, English. Height 15 cm.",
    ),
    "one word of praise leaves one stop": (
        "Cast iron urn, English. Height 61 cm. Unique.", "Unique", "Cast iron urn, English. Height 61 cm.",
    ),
    "the first of two measures": (
        "Silver salver, English. Three hoof feet. Diameter 25 cm, 22 oz.", "Diameter 25 cm", "Silver salver, English. Three hoof feet. 22 oz.",
    ),
    "between dashes": (
        "Brass tobacco box, Dutch – engraved – length 15 cm", "engraved", "Brass tobacco box, Dutch – length 15 cm",
    ),
    "in brackets": ("Pewter dish (engraved), English.", "engraved", "Pewter dish, English."),
    "the first word": ("Unique copper jug, English, c.1840.", "Unique", "Copper jug, English, c.1840."),
    "an article by sound": ("A unique iron trivet, English.", "unique", "An iron trivet, English."),
    "a figure by sound": ("With an original 1740 lid, English. A rare 18th century dish.", "rare", "With an original 1740 lid, English. An 18th century dish."),
    "the last, with its stop": ("Copper kettle, English, engraved.", "engraved", "Copper kettle, English."),
    "a name at the end": ("Pewter dish, English, by Josiah Thornbeck", "by Josiah Thornbeck", "Pewter dish, English"),
}  # fmt: skip


@pytest.mark.parametrize("case", LEFT.values(), ids=LEFT)
def test_what_is_left_is_good_english(case: tuple[str, str, str]) -> None:
    hung, words, agreed = case
    reading = read(hung, words=english(), conventions=Conventions())
    assert said(reading, words) == agreed


def said(reading: Reading, words: str) -> str:
    """The label agreed when the claim made with `words` falls and nobody gives others."""
    fallen = [c.id for c in reading.claims if c.words.strip(".") == words]
    assert fallen, [c.words for c in reading.claims]
    finding = Finding(claim="", answer="falls", holds=0, does_not_hold=4, cannot_say=0, rule="falls")
    return agree(reading, findings=dict.fromkeys(fallen, finding)).text


def test_other_years_for_an_event_stay_years_of_that_event() -> None:
    hung = "Pewter flagon, English, c. 1740, engraved 1801. Height 24 cm."
    reading = read(hung, words=english(), conventions=Conventions())
    claim = next(c for c in reading.claims if "1801" in c.words)
    finding = Finding(claim="", answer="falls", holds=0, does_not_hold=4, cannot_say=0, rule="falls")
    value = instead_value(claim, {"words": "1850–1870"}, Kit(load_rulebook("saltmere")[0]))
    assert value is not None
    agreed = agree(reading, findings={claim.id: finding}, carried={claim.id: [value]})
    assert agreed.text == "Pewter flagon, English, c. 1740, engraved c. 1860. Height 24 cm."
