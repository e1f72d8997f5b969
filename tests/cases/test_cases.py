"""Each fault of the trade is a readable case in data, with a sound twin beside it that raises nothing."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from planish.facts.loading import load
from planish.facts.rulebooks import load_rulebook
from planish.facts.words import english
from planish.reasoning.admitting import admit, undisclosed
from planish.reasoning.contradicting.label_facts import against_facts
from planish.reasoning.reading import read
from planish.records import ListedObject, Observation

BOOK, _ = load("metalware")
RULES, _ = load_rulebook("saltmere")
CASES: list[dict[str, Any]] = [
    case
    for path in sorted(Path(__file__).parent.glob("*.toml"))
    for case in tomllib.loads(path.read_text("utf-8"))["case"]
]


def faults(case: dict[str, Any], text: str, seen: bool) -> dict[str, tuple[int, tuple[str, ...]]]:
    """Every fault that `text` raises: its word, how bad it is, and the facts it rests on."""
    found = read(text, words=english(), conventions=RULES.conventions)
    listed = ListedObject(id="o", stand="A1", number="1", text=text)
    answers = [*admit(listed, found, rules=RULES, book=BOOK, discipline=case.get("discipline", "metalware"))]
    if seen:
        look = Observation(
            id="x",
            object_id="o",
            kind="condition",
            by="p",
            part=case.get("seen_part", ""),
            terms=tuple(case["seen"]),
        )
        answers += undisclosed(found, [look], BOOK)
    raised = {a.fault: (a.severity, a.facts) for a in answers if a.fault and a.answer != "met"}
    raised.update((c.fault, (c.severity, c.facts)) for c in against_facts(found, BOOK))
    return raised


def names(case: dict[str, Any]) -> str:
    return str(case["name"])


@pytest.mark.parametrize("case", CASES, ids=names)
def test_the_faulty_label_is_caught_as_badly_as_it_is(case: dict[str, Any]) -> None:
    raised = faults(case, case["says"], "seen" in case)
    assert case["fault"] in raised, raised
    severity, facts = raised[case["fault"]]
    assert severity == case["severity"]
    if "fact" in case:
        assert case["fact"] in facts


@pytest.mark.parametrize("case", CASES, ids=names)
def test_its_sound_twin_raises_nothing(case: dict[str, Any]) -> None:
    twin_says_it = case["sound"] != case["says"]  # else the object is what the label says: nothing is seen
    assert faults(case, case["sound"], "seen" in case and twin_says_it) == {}


def test_there_are_forty_odd_faults_of_every_severity() -> None:
    assert len(CASES) >= 40
    assert {case["severity"] for case in CASES} == {1, 2, 3, 4}
