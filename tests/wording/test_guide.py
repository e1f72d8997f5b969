"""The examples of docs/wording.md are run as they stand there."""

import re
from pathlib import Path

import pytest

from planish.errands.opening import wiring
from planish.errands.panel.checking import check
from planish.errands.words.grounding import doubted, style_words
from planish.errands.words.labelling import trees
from planish.errands.words.reading_words import instead_value
from planish.facts.rulebooks import load_rulebook
from planish.reasoning.reading import read
from planish.reasoning.wording import agree, in_house_form
from planish.records import Finding, Ground, ListedObject, Reading

GUIDE = (Path(__file__).parents[2] / "docs" / "wording.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"```words (\w+)\n(.*?)```", GUIDE, re.DOTALL)
FALLS = Finding(claim="", answer="falls", holds=0, does_not_hold=4, cannot_say=0, rule="falls")


def lines(block: str, name: str) -> list[str]:
    return [line.partition(":")[2].strip() for line in block.splitlines() if line.startswith(f"{name}:")]


def test_the_guide_has_examples_of_both_rule_books() -> None:
    assert len(EXAMPLES) >= 8
    assert {book for book, _ in EXAMPLES} == {"saltmere", "fennhithe"}


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda e: lines(e[1], "hung")[0][:30])
def test_an_example_of_the_guide_comes_out_as_it_stands_there(example: tuple[str, str]) -> None:
    book, block = example
    kit = wiring.Kit(load_rulebook(book)[0])
    checked = check(ListedObject(id="1", stand="1", number="1", text=lines(block, "hung")[0]), kit)
    reading = checked.reading

    def again(words: str) -> Reading:
        return read(words, words=kit.words, conventions=kit.rules.conventions)

    fallen = {c.id: c for c in reading.claims if c.words in lines(block, "falls")}
    assert len(fallen) == len(lines(block, "falls"))
    values = {
        name: [instead_value(claim, dict(given(words)), kit) for words in lines(block, "carried")]
        for name, claim in fallen.items()
    }
    clashes = [
        Ground(claim=claim.id, kind="contradiction", ref=clash.id, sentence="", instead=style_words(claim))
        for clash in checked.clashes
        for claim in doubted(clash.claims, reading)
        if clash.hard
    ]
    agreed = agree(
        reading,
        findings=dict.fromkeys(fallen, FALLS),
        grounds=clashes,
        carried={name: [v for v in found if v is not None] for name, found in values.items()},
        trees=trees(kit.words),
        form=kit.rules.house_form,
    )
    for wanted in lines(block, "agreed"):
        assert agreed.text == wanted
    for wanted in lines(block, "house"):
        assert in_house_form(reading, kit.rules.house_form, again) == wanted


def given(words: str) -> list[tuple[str, str]]:
    return [("words", words)]
