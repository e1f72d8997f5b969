"""The sample fair: its lists read as they were meant, its answer sheet fits them, its forms are ones the desk takes."""

import importlib.util
import json
import sys
import tomllib
from collections import Counter
from pathlib import Path

import pytest

from planish.doors.papers import forms
from planish.doors.papers.lists import read_list, stand_problems
from planish.errands.panel.ballots import MAY_BE_UNSAID
from planish.facts.loading import load
from planish.facts.rulebooks import load_rulebook
from planish.facts.words import english
from planish.reasoning.measuring import measure
from planish.reasoning.reading import read
from planish.records import TakenList

SAMPLES = Path(__file__).parents[2] / "samples"
FAIR = SAMPLES / "saltmere"
ANSWERS = tomllib.loads((FAIR / "answers.toml").read_text(encoding="utf-8"))
STANDS = tomllib.loads((FAIR / "stands.toml").read_text(encoding="utf-8"))["stand"]
PEOPLE = tomllib.loads((FAIR / "people.toml").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def taken() -> dict[str, TakenList]:
    return {stand["id"]: read_list(FAIR / stand["list"]) for stand in STANDS}


def form(name: str, make):
    made, problems = forms.lines((FAIR / "tables" / f"{name}.jsonl").read_text(encoding="utf-8"), name, make)
    assert problems == []
    return made


def test_every_stand_lists_forty_objects_with_number_words_and_price(taken) -> None:
    assert {stand: len(found.objects) for stand, found in taken.items()} == {
        stand["id"]: 40 for stand in STANDS
    }
    for found in taken.values():
        assert all(one.number and one.text and one.price for one in found.objects)


def test_the_lists_come_in_every_form(taken) -> None:
    assert Counter(found.form for found in taken.values()) == {
        "xlsx": 3, "csv": 3, "json": 2, "text": 2, "ods": 1, "tsv": 1, "xls": 1,
    }  # fmt: skip


def test_about_one_label_in_six_carries_a_fault() -> None:
    assert ANSWERS["fair"]["objects"] == 520
    assert ANSWERS["fair"]["faulty"] == len(ANSWERS["object"])
    assert 1 / 7 < len(ANSWERS["object"]) / 520 < 1 / 5.5
    assert {one["severity"] for one in ANSWERS["object"]} == {1, 2, 3, 4}


def test_every_answer_names_one_object_of_the_lists(taken) -> None:
    for answer in ANSWERS["object"]:
        assert [one.number for one in taken[answer["stand"]].objects].count(answer["number"]) == 1


def test_years_that_became_days_are_put_back(taken) -> None:
    found = {f"1/{one.number}": one.fields.get("date") for one in taken["1"].objects}
    for name, year in ANSWERS["lists"]["years_put_back"].items():
        assert found[name] == year
    assert [p.code for p in taken["1"].problems].count("cell.year_became_date") == 4


def test_coloured_rows_are_asked_about(taken) -> None:
    coloured = [f"1/{one.number}" for one in taken["1"].objects if one.fields.get("shade")]
    assert coloured == ANSWERS["lists"]["coloured_rows"]


def test_a_wrong_stand_on_a_whole_sheet_is_one_problem(taken) -> None:
    wrong = ANSWERS["lists"]["wrong_stand"]
    (problem,) = stand_problems(taken[wrong["stand"]], wrong["stand"])
    assert problem.found == wrong["says"]
    assert stand_problems(taken["7"], "7") == ()


def test_two_objects_with_one_number_are_named(taken) -> None:
    (name,) = ANSWERS["lists"]["numbers_twice"]
    (problem,) = [p for p in taken["12"].problems if p.code == "row.number_twice"]
    assert name.partition("/")[2] in problem.what


def test_nearly_every_label_is_worded_in_its_own_way(taken) -> None:
    texts = [one.text for found in taken.values() for one in found.objects]
    assert len(set(texts)) > 0.98 * len(texts)


def test_observations_are_forms_the_desk_takes_and_instruments_read(taken) -> None:
    book, _ = load("metalware")
    names = {f"{stand}/{one.number}" for stand, found in taken.items() for one in found.objects}
    for seen in form("observations", forms.observation):
        assert seen.object_id in names
        assert measure(seen, book).problems == (), seen


def test_every_claim_a_ballot_answers_is_one_its_label_makes_or_should_make(taken) -> None:
    rules, _ = load_rulebook("saltmere")
    texts = {f"{stand}/{one.number}": one.text for stand, found in taken.items() for one in found.objects}
    sides = {
        name: {claim.side for claim in read(text, words=english(), conventions=rules.conventions).claims}
        for name, text in texts.items()
    }
    for name in ("ballots-1", "ballots-2", "ballots-again"):
        for ballot in form(name, forms.ballot):
            for claim, answer in zip(ballot.claims, ballot.ballot.answers, strict=True):
                asked = answer.verdict == "does_not_hold" and claim["side"] in MAY_BE_UNSAID
                assert claim["side"] in sides[ballot.object] or asked, (ballot.object, claim)


def test_nobody_votes_on_a_stand_with_which_a_conflict_was_declared() -> None:
    away = {(one["id"], stand) for one in PEOPLE["person"] for stand in one.get("conflicts", ())}
    for name in ("ballots-1", "ballots-2", "ballots-again", "passes"):
        for ballot in form(name, forms.ballot):
            assert (ballot.ballot.person, ballot.object.partition("/")[0]) not in away


def test_every_object_is_seen_by_its_panel_but_those_with_one_number(taken) -> None:
    seen = Counter(b.object for name in ("ballots-1", "passes") for b in form(name, forms.ballot))
    every = {f"{stand}/{one.number}" for stand, found in taken.items() for one in found.objects}
    assert every - seen.keys() == set(ANSWERS["lists"]["numbers_twice"])
    assert min(seen.values()) >= 3


def test_one_object_loses_its_quorum() -> None:
    (name,) = ANSWERS["tables"]["no_quorum"]
    ballots = [b.ballot for b in form("ballots-1", forms.ballot) if b.object == name]
    assert sum(not ballot.recused for ballot in ballots) < 3


def test_building_the_sample_again_gives_the_same_fair(tmp_path) -> None:
    spec = importlib.util.spec_from_file_location("build_saltmere", SAMPLES / "build_saltmere.py")
    assert spec is not None
    assert spec.loader is not None
    built = importlib.util.module_from_spec(spec)
    sys.modules["build_saltmere"] = built
    spec.loader.exec_module(built)
    built.build(tmp_path)
    for path in sorted(FAIR.rglob("*.toml")):
        assert (tmp_path / path.relative_to(FAIR)).read_text("utf-8") == path.read_text("utf-8")
    for path in sorted((FAIR / "lists").iterdir()):
        again = read_list(tmp_path / "lists" / path.name).objects
        assert [(o.number, o.text) for o in again] == [(o.number, o.text) for o in read_list(path).objects]
    first = (FAIR / "tables" / "observations.jsonl").read_text("utf-8").splitlines()
    assert [json.loads(line)["object"] for line in first] == [
        json.loads(line)["object"]
        for line in (tmp_path / "tables" / "observations.jsonl").read_text("utf-8").splitlines()
    ]
