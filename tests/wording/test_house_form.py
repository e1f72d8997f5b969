"""House forms: the same claims and every word, in the order, with the circa and the lengths of the fair's rule book.

Inches: 1 in = 25.4 mm (international yard and pound agreement of 1959; NIST Handbook 44, appendix C, from memory).
"""

import json
from pathlib import Path

import pytest

from planish.facts.rulebooks import load_rulebook
from planish.facts.words import english
from planish.reasoning.reading import read
from planish.reasoning.wording import in_house_form, render
from planish.reasoning.wording.phrases import inches
from planish.records import Reading, RuleBook

BOOKS = {name: load_rulebook(name)[0] for name in ("saltmere", "fennhithe")}
LABELS = {
    "Pewter flagon by J. Orrin, English, c. 1740. Height 24 cm.": {
        "saltmere": "Flagon, by J. Orrin, English, c.1740, pewter. Height 24 cm (9½ in).",
        "fennhithe": "Pewter flagon, circa 1740, English, by J. Orrin. Height 24 cm.",
    },
    "Teapot, EPNS, English, ca 1890, engraved with ferns, height 15 cm": {
        "saltmere": "Teapot, English, c.1890, EPNS, engraved with ferns. Height 15 cm (5⅞ in).",
        "fennhithe": "EPNS teapot, circa 1890, English, engraved with ferns. Height 15 cm.",
    },
    "Brass kettle, English, 1900–1935 – marked “Made in England” – height 25 cm": {
        "saltmere": "Kettle, English, 1900–1935, brass, marked “Made in England”. Height 25 cm (9⅞ in).",
        "fennhithe": "Brass kettle, 1900–1935, English, marked “Made in England”. Height 25 cm.",
    },
}  # fmt: skip


def reading(text: str, rules: RuleBook) -> Reading:
    return read(text, words=english(), conventions=rules.conventions)


def housed(text: str, rules: RuleBook) -> str:
    return in_house_form(reading(text, rules), rules.house_form, lambda words: reading(words, rules))


@pytest.mark.parametrize("book", BOOKS)
@pytest.mark.parametrize("label", LABELS)
def test_each_fair_writes_labels_in_its_own_form(label: str, book: str) -> None:
    assert housed(label, BOOKS[book]) == LABELS[label][book]


@pytest.mark.parametrize("book", BOOKS)
def test_a_house_form_of_a_house_form_is_the_same(book: str) -> None:
    for forms in LABELS.values():
        assert housed(forms[book], BOOKS[book]) == forms[book]


@pytest.mark.parametrize("book", BOOKS)
def test_no_word_of_the_sample_labels_is_lost_and_no_claim_changes(book: str) -> None:
    rules, offered = BOOKS[book], 0
    labels = sample_labels()
    for text in labels:
        form = housed(text, rules)
        if not form:
            continue
        offered += 1
        assert letters(text) <= letters(form) | {"c", "ca", "circa"}, (text, form)
        sides = sorted(c.side for c in reading(text, rules).claims)
        assert sorted(c.side for c in reading(form, rules).claims) == sides
    assert offered >= 0.9 * len(labels)


def letters(text: str) -> set[str]:
    return {word for word in "".join(s if s.isalpha() else " " for s in text.casefold()).split() if word}


def sample_labels() -> list[str]:
    """Every label of one stand of the sample fair that came as lines of JSON."""
    path = Path(__file__).parents[2] / "samples" / "saltmere" / "lists"
    lines = [line for file in sorted(path.glob("*.jsonl")) for line in file.read_text("utf-8").splitlines()]
    found = [str(value) for line in lines for value in json.loads(line).values() if len(str(value)) > 30]
    assert len(found) >= 30
    return found


def test_a_label_without_a_name_gets_no_house_form() -> None:
    assert housed("c. 1740, 24 cm", BOOKS["saltmere"]) == ""


def test_lengths_in_inches_come_to_the_nearest_eighth_and_quarter() -> None:
    assert [inches(mm) for mm in (25.4, 3.2, 241.3, 240, 305, 711.2)] == ["1", "⅛", "9½", "9½", "12", "28"]


def test_a_label_can_be_written_from_its_claims_alone() -> None:
    rules = BOOKS["fennhithe"]
    claims = reading("Pewter flagon by J. Orrin, English, c. 1740. Height 24 cm.", rules).claims
    assert render(claims, conventions=rules.conventions, form=rules.house_form) == (
        "Pewter flagon, circa 1740, England, by J. Orrin. Height 24 cm."
    )
