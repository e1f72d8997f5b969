"""Bad input is a Problem that says where, what and the way out, and never a number."""

from dataclasses import replace

import pytest

from planish.errands.panel.looks import looks_for
from planish.reasoning.weighing import Case, CasePart, Found, Look, Settings, next_looks, weigh
from planish.records import EvidenceItem, Link, Years
from tests.weighing.weighing_cases import case_of, claim, hinge_object, window

GOOD = window("mark", 1725, 1760)
BAD = {
    "years.outside": case_of(GOOD, window("old", 1100, 1200)),
    "part.unknown": case_of(GOOD, window("x", 1700, 1720, part="spout", event="part_made")),
    "years.none": case_of(EvidenceItem(id="x", sentence="x")),
    "curve.zero": case_of(EvidenceItem(id="x", sentence="x", curve=((1700, 0.0), (1720, 0.0)))),
    "curve.height": case_of(EvidenceItem(id="x", sentence="x", curve=((1700, -1.0), (1720, 1.0)))),
    "case.number": case_of(window("x", 1700, 1720, 1.5)),
    "name.twice": case_of(GOOD, GOOD),
    "chain.event": case_of(
        window("x", 1700, 1720, event="imported"), chain=(Link(earlier="made", later="repair"),)
    ),
    "chain.circle": case_of(
        GOOD, chain=(Link(earlier="made", later="repair"), Link(earlier="repair", later="made"))
    ),
    "years.none_left": case_of(
        window("a", 1700, 1720, hard=True, binding=True), window("b", 1800, 1820, hard=True, binding=True)
    ),
}


@pytest.mark.parametrize("code", BAD)
def test_bad_input_gives_a_problem_and_no_number(code: str) -> None:
    w = weigh(BAD[code])
    assert w.blocked
    assert code in [p.code for p in w.problems]
    assert all(p.remedy and p.what for p in w.problems)
    assert (w.claims, w.events, w.items, w.copy, w.main) == ((), (), (), None, None)


def test_two_imitable_hard_windows_without_a_common_year_are_a_problem_too() -> None:
    w = weigh(case_of(window("a", 1700, 1720, hard=True), window("b", 1800, 1820, hard=True)))
    assert w.blocked
    assert "cannot both be true" in w.problems[0].what


def test_a_hard_mark_before_a_hard_hinge_is_weighed_because_a_copy_explains_both() -> None:
    w = weigh(
        case_of(
            window("mark", 1725, 1760, hard=True), window("hinge", 1840, None, 0.02, hard=True, binding=True)
        )
    )
    assert not w.blocked
    assert w.clashes


def test_a_claim_outside_the_grid_or_on_a_missing_part_is_a_problem() -> None:
    assert weigh(Case(claims=(claim(1200, 1210),), items=(GOOD,))).problems[0].code == "years.outside"
    assert (
        weigh(Case(claims=(claim(1700, 1710, part="lid"),), items=(GOOD,))).problems[0].code == "part.unknown"
    )


def test_certain_items_that_leave_no_year_give_no_number() -> None:
    w = weigh(case_of(window("a", 1700, 1720, 0.0, binding=True), window("b", 1800, 1820, 0.0, binding=True)))
    assert w.blocked


def test_a_statement_about_the_words_of_the_label_is_noted_and_not_weighed() -> None:
    w = weigh(case_of(GOOD, window("word", 1900, None, event="label")))
    assert not w.blocked
    assert [p.code for p in w.problems] == ["item.label"]
    assert [i.item for i in w.items] == ["mark"]


def test_settings_out_of_range_are_problems() -> None:
    assert weigh(case_of(GOOD), Settings(copy_chance=1.4)).blocked
    assert weigh(case_of(GOOD), Settings(first=1900, last=1800)).blocked


def test_no_evidence_leaves_the_prior_and_says_that_nothing_helped() -> None:
    w = weigh(case_of())
    assert w.claims[0].lift == pytest.approx(1 - 0.1)
    assert w.claims[0].if_period_piece == pytest.approx(21 / 631)


def test_too_exact_and_too_vague_words_are_told_apart() -> None:
    mark = window("mark", 1725, 1760, 0.02)
    exact = weigh(case_of(mark, years=(1740, 1742)), Settings(copy_chance=0.01)).claims[0]
    vague = weigh(case_of(mark, years=(1650, 1830)), Settings(copy_chance=0.01)).claims[0]
    assert (exact.width, vague.width) == ("too exact", "too vague")
    assert "1725–1760" in exact.sentence


def test_the_stress_test_says_when_the_answer_hangs_on_a_default() -> None:
    w = weigh(case_of(*hinge_object()))
    assert {s.assumption for s in w.stress} == {
        "every doubt × 3",
        "base rate of copies 2%",
        "base rate of copies 30%",
    }
    firm = weigh(case_of(window("mark", 1722, 1738, 0.001), window("letter", 1725, 1735, 0.001)))
    assert not firm.depends_on_assumptions
    pair = [window(name, 1722, 1742, 0.05, group="touch table") for name in ("mark", "second mark")]
    shaky = weigh(case_of(*pair, window("hinge", 1840, None, 0.05, binding=True)))
    assert {"items of one group independent", "items of one group counted once"} < {
        s.assumption for s in shaky.stress
    }
    assert shaky.depends_on_assumptions


def test_a_named_prior_is_always_shown_beside_the_flat_one() -> None:
    prior = Settings(prior=((1400, 0.0), (1700, 1.0), (2030, 1.0)), prior_name="pewter pots on the market")
    w = weigh(case_of(GOOD), prior)
    assert w.beside_flat is not None
    assert w.beside_flat.probability == pytest.approx(weigh(case_of(GOOD)).claims[0].probability)
    assert weigh(case_of(GOOD)).beside_flat is None


# --- the next look ------------------------------------------------------------------------------------------------------


def split(id: str, year: int, minutes: float, **more: object) -> Look:
    finds = (
        Found(words="late", windows=(Years(year, None),)),
        Found(words="early", windows=(Years(None, year - 1),)),
    )
    return Look(id=id, sentence=f"look at {id}", minutes=minutes, finds=finds, binding=True, **more)  # type: ignore[arg-type]


def test_a_look_that_splits_the_open_question_comes_first_and_minutes_count() -> None:
    case = case_of(window("form", 1700, 1900, 0.05), years=(1700, 1800))
    looks = (split("useless", 1950, 1), split("useful", 1800, 1), split("useful but slow", 1800, 30))
    order = [v.look.id for v in next_looks(case, looks)]
    assert order[0] == "useful"
    assert order.index("useful but slow") > 0


def test_the_mean_of_the_claim_after_a_look_is_the_claim_before_it() -> None:
    # law of total probability: what one expects to believe is what one believes
    case = case_of(*hinge_object())
    before = weigh(case).claims[0].probability
    for value in next_looks(case, looks_for("metalware")[0], most=10):
        if value.look.event == "body_made":
            assert sum(c * after for _, c, after in value.finds) == pytest.approx(before, abs=1e-9)
            assert sum(c for _, c, _ in value.finds) == pytest.approx(1.0)


def test_looks_already_taken_or_at_missing_parts_are_left_out() -> None:
    case = case_of(window("form", 1700, 1900))
    looks = (split("a", 1800, 1), split("b", 1800, 1, part="lid"))
    assert [v.look.id for v in next_looks(case, looks)] == ["a"]
    assert next_looks(replace(case, looked=("a",)), looks) == ()
    with_lid = replace(case, parts=(CasePart(name="lid"),))
    assert {v.look.id for v in next_looks(with_lid, looks)} == {"a", "b"}


def test_the_table_of_looks_is_sound_and_leans_on_facts_on_file() -> None:
    from planish.facts.loading import load

    looks, problems = looks_for("metalware")
    book, _ = load("metalware")
    assert problems == ()
    assert len(looks) >= 5
    assert [k.id for k in looks if book.look(k.basis).state != "known"] == []
    assert looks_for("no such discipline") == ((), ())


def test_the_stress_line_for_doubts_equals_weighing_with_every_doubt_tripled() -> None:
    items = hinge_object()
    tripled = weigh(case_of(*(replace(item, doubt=item.doubt * 3) for item in items))).claims[0].probability
    line = next(s for s in weigh(case_of(*items)).stress if s.assumption == "every doubt × 3")
    assert line.probability == pytest.approx(tripled, rel=1e-9)


def test_what_follows_from_a_misreading_equals_weighing_with_that_doubt() -> None:
    items = hinge_object()
    doubted = tuple(replace(item, doubt=0.5) if item.id == "hinge" else item for item in items)
    said = next(e for e in weigh(case_of(*items)).explanations if e.kind == "misreading")
    assert said.probability == pytest.approx(weigh(case_of(*doubted)).claims[0].probability, rel=1e-9)


def test_an_imitable_look_tells_less_than_the_same_look_at_something_binding() -> None:
    case = case_of(*hinge_object())
    before = weigh(case).claims[0].probability
    looks = (split("binding", 1790, 1), replace(split("imitable", 1790, 1), binding=False))
    values = {v.look.id: v for v in next_looks(case, looks)}
    assert values["binding"].change > values["imitable"].change
    for value in values.values():
        assert sum(c * after for _, c, after in value.finds) == pytest.approx(before, abs=1e-9)
        assert sum(c for _, c, _ in value.finds) == pytest.approx(1.0)
