"""Clause by clause: met, broken, cannot tell, with the share on the wrong side and a sentence that points at its grounds."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planish.facts.loading import load
from planish.facts.rulebooks import load_rulebook
from planish.reasoning.admitting import admit, undisclosed
from planish.reasoning.admitting.dateline import wrong_share
from planish.records import Clause, ClauseAnswer, Observation, Reading, RuleBook, Years
from tests.admitting.hand_reading import listed, reading, years

BOOK, _ = load("metalware")
SALTMERE, _ = load_rulebook("saltmere")
FENNHITHE, _ = load_rulebook("fennhithe")


def answer(
    found: Reading, clause: str, rules: object = SALTMERE, discipline: str = "metalware"
) -> ClauseAnswer:
    answers = admit(listed(), found, rules=rules, book=BOOK, discipline=discipline)  # type: ignore[arg-type]
    return next(one for one in answers if one.clause == clause)


@pytest.mark.parametrize(
    ("earliest", "latest", "said", "share"),
    [
        (1700, 1750, "met", 0.0),
        (1951, 1960, "broken", 1.0),
        (1941, 1960, "broken", 0.5),
        (1946, 1951, "cannot_tell", 1 / 6),
        (1940, None, "cannot_tell", None),
        (None, 1950, "met", 0.0),
        (1960, None, "broken", 1.0),
    ],
)
def test_a_date_is_held_against_the_dateline_with_the_share_on_the_wrong_side(
    earliest: int | None, latest: int | None, said: str, share: float | None
) -> None:
    found = answer(reading("when", ("when", "date", years(earliest, latest))), "2.1")
    assert (found.answer, found.wrong_side) == (said, pytest.approx(share) if share is not None else None)


def test_a_label_without_a_date_cannot_be_held_against_the_dateline() -> None:
    assert answer(Reading(text=""), "2.1").answer == "cannot_tell"


def test_new_work_belongs_in_the_contemporary_section_where_the_fair_has_one() -> None:
    found = reading("2021", ("2021", "date", years(2021, 2021)))
    assert answer(found, "2.1", FENNHITHE).answer == "met"
    assert answer(found, "2.1", SALTMERE).answer == "broken"


def test_each_missing_part_of_a_label_is_named() -> None:
    answers = admit(listed(), Reading(text=""), rules=SALTMERE, book=BOOK)
    assert {a.fault for a in answers if a.fault.startswith("label.")} == {
        "label.no_object",
        "label.no_date",
        "label.no_material",
        "label.no_place",
        "label.no_measure",
    }


def test_a_gated_material_is_a_question_that_defers_to_the_authority() -> None:
    found = answer(reading("ivory knop", ("ivory", "material", "ivory")), "5.1")
    assert (found.answer, found.fault, found.severity) == ("cannot_tell", "material.paper_due", 1)
    assert "authority" in found.sentence


def test_a_prompt_of_law_never_decides() -> None:
    text = "Teapot with ivory insulators"
    answers = admit(listed(), reading(text, ("ivory", "material", "ivory")), rules=SALTMERE, book=BOOK)
    law = [a for a in answers if a.fault.startswith("law.")]
    assert {a.answer for a in law} == {"cannot_tell"}
    assert [a.facts for a in law] == [("lf-uk-ivory-2022",)]
    assert all("not advice" in a.sentence and "authority" in a.sentence for a in law)


def test_only_the_law_packs_that_the_rule_book_lists_speak() -> None:
    found = reading("ivory", ("ivory", "material", "ivory"))
    abroad = {f for a in admit(listed(), found, rules=FENNHITHE, book=BOOK) for f in a.facts}
    assert "lf-eu-ivory-2022" in abroad
    assert "lf-us-ivory-2016" not in abroad


def test_what_the_table_saw_and_the_label_does_not_say_is_broken() -> None:
    seen = Observation(
        id="x", object_id="o", kind="condition", by="p", part="handle", terms=("cond.replaced_part",)
    )
    silent = undisclosed(reading("Kettle", ("Kettle", "object", "kettle")), [seen], BOOK, "4.5")
    assert [(a.fault, a.severity, a.facts) for a in silent] == [
        ("state.unsaid_replaced_part", 2, ("cond.replaced_part",))
    ]
    told = reading("Kettle, handle replaced", ("replaced", "state", "replaced"))
    assert undisclosed(told, [seen], BOOK) == ()


def test_a_condition_word_that_is_not_on_file_is_left_alone() -> None:
    seen = Observation(id="x", object_id="o", kind="condition", by="p", terms=("cond.never_heard_of",))
    assert undisclosed(Reading(text=""), [seen], BOOK) == ()


def test_a_check_that_is_not_known_is_said_and_never_passed_over() -> None:
    settings = {"rules": ("smells_right",), "parts": ("smell",)}
    for kind in ("wording", "required"):
        clause = Clause(number="9", text="x", check=kind, settings=settings)  # type: ignore[arg-type]
        rules = RuleBook(id="x", fair="X", version="1", clauses=(clause,))
        answers = admit(listed(), Reading(text="Kettle"), rules=rules, book=BOOK)
        assert [(a.answer, a.fault) for a in answers] == [("cannot_tell", "rulebook.unknown_check")]


def test_a_label_carries_at_least_date_country_and_description() -> None:
    """Common practice, no source: the least of a label is on file, and the sample rule book asks for it."""
    least = next(f for f in BOOK.family("custom") if f.more["name"] == "least of a label")
    asked = {p for c in SALTMERE.clauses if c.check == "required" for p in c.settings["parts"]}  # type: ignore[attr-defined]
    assert set(least.more["parts"]) <= asked  # type: ignore[call-overload]
    assert least.verified == "practice"


@given(st.integers(1400, 2030), st.integers(0, 400), st.integers(1400, 2030))
def test_the_share_counts_years_as_a_person_would(first: int, width: int, line: int) -> None:
    late = [year for year in range(first, first + width + 1) if year > line]
    assert wrong_share(Years(first, first + width), line) == pytest.approx(len(late) / (width + 1))


@given(st.text(max_size=200))
def test_any_text_with_no_claims_is_answered_without_an_error(text: str) -> None:
    assert admit(listed(text), Reading(text=text), rules=SALTMERE, book=BOOK)
