"""Each fault of the trade is a readable case in data, with a sound twin beside it that raises nothing."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from planish.facts.loading import load
from planish.facts.rulebooks import load_rulebook
from planish.facts.words import english
from planish.reasoning.admitting import admit, undisclosed
from planish.reasoning.contradicting import against_looks
from planish.reasoning.contradicting.label_facts import against_facts
from planish.reasoning.reading import read
from planish.records import ListedObject, Observation, Quantity

BOOK, _ = load("metalware")
RULES, _ = load_rulebook("saltmere")
CASES: list[dict[str, Any]] = [
    case
    for path in sorted(Path(__file__).parent.glob("*.toml"))
    for case in tomllib.loads(path.read_text("utf-8")).get("case", ())
]

CENSUS: dict[str, dict[str, list[str]]] = tomllib.loads(
    Path(__file__).with_name("census.toml").read_text("utf-8")
)
SEVERITIES = {"off_the_floor": 1, "before_opening": 2, "today": 3, "advice": 4}


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
    if "seen_metals" in case:
        look = Observation(
            id="m", object_id="o", kind="composition", by="p", surface="cleaned spot",
            values={name: Quantity(amount, "wt%", max(0.1, amount / 100)) for name, amount in case["seen_metals"].items()},
        )  # fmt: skip
        against = against_looks(found, [look], BOOK)
    else:
        against = ()
    raised = {a.fault: (a.severity, a.facts) for a in answers if a.fault and a.answer != "met"}
    raised.update((c.fault, (c.severity, c.facts)) for c in (*against_facts(found, BOOK), *against))
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


def test_every_fault_of_the_census_has_cases_on_file_as_bad_as_it_is() -> None:
    """The faults are the trade's own (common practice, no source); the list is counted so that none is lost."""
    by_name = {case["name"]: case for case in CASES}
    assert len(by_name) == len(CASES), "two cases have one name"
    told = [(soon, fault, names) for soon, group in CENSUS.items() for fault, names in group.items()]
    assert len(told) >= 54
    for soon, fault, cases in told:
        assert cases, fault
        for name in cases:
            assert name in by_name, f"{fault}: no case is called {name!r}"
            assert by_name[name]["severity"] == SEVERITIES[soon], name
            assert by_name[name]["sound"].strip(), f"{name} has no sound twin"


def test_every_case_stands_in_the_census() -> None:
    counted = [name for group in CENSUS.values() for cases in group.values() for name in cases]
    assert sorted(counted) == sorted(case["name"] for case in CASES)
