"""Smallest clashes of dated statements, with Helly's theorem, Reiter's duality and a SAT solver as witnesses."""

import itertools
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pysat.examples.hitman import Hitman
from pysat.examples.mcsls import MCSls
from pysat.examples.musx import MUSX
from pysat.formula import WCNF

from planish.reasoning.contradicting import (
    claim_as_item,
    conflicts_and_corrections,
    fewest_to_doubt,
    hitting_sets,
    in_full,
    smallest_clashes,
)
from planish.reasoning.contradicting.masks import mask_of, spans_of, years_allowed
from planish.records import EvidenceItem, Link, Years

EVENTS = ("body_made", "decorated", "inscribed", "repair")


def item(id: str, *spans: tuple[int | None, int | None], **more: object) -> EvidenceItem:
    windows = tuple(Years(a, b) for a, b in spans)
    return EvidenceItem(id=id, sentence=f"{id} says so", windows=windows, **more)  # type: ignore[arg-type]


def members(items: list[EvidenceItem]) -> set[tuple[str, ...]]:
    return {tuple(sorted(c.claims + c.items)) for c in smallest_clashes(items)}


# --- sets of years -------------------------------------------------------------------------------------------------


@given(st.lists(st.tuples(st.integers(1400, 2030), st.integers(0, 60)), max_size=6))
@settings(max_examples=60, deadline=None)
def test_a_set_of_years_becomes_windows_and_back(spans: list[tuple[int, int]]) -> None:
    mask = mask_of(Years(a, min(a + w, 2030)) for a, w in spans)
    assert mask_of(spans_of(mask)) == mask
    assert mask.bit_count() == len({y for a, w in spans for y in range(a, min(a + w, 2030) + 1)})


def test_a_curve_allows_the_years_where_it_stands_above_zero() -> None:
    curve = EvidenceItem(id="c", sentence="c", curve=((1700, 0.0), (1710, 1.0), (1720, 0.0), (1730, 0.0)))
    assert spans_of(years_allowed(curve)) == (Years(1701, 1719),)


# --- pairs -----------------------------------------------------------------------------------------------------------


def test_the_hinge_clashes_with_the_label_and_the_sentence_names_both_sources_and_the_ways_out() -> None:
    label = claim_as_item("c1", "c. 1740", Years(1730, 1750))
    hinge = item("hinge", (1840, None), binding=True, hard=True, facts=("fact.hinge",))
    (clash,) = smallest_clashes(
        [label, hinge, item("form", (1700, 1900))], sources={"fact.hinge": "Handbook of hinges, p. 7"}
    )
    assert (clash.claims, clash.items, clash.facts, clash.hard) == (
        ("c1",),
        ("hinge",),
        ("fact.hinge",),
        True,
    )
    assert clash.sentence.startswith(
        "These two cannot both be true: the label says “c. 1740” (1730–1750); hinge says so"
    )
    assert "source: Handbook of hinges, p. 7" in clash.sentence
    assert "Either the label is wrong about the making, or what" in in_full(clash)


def test_three_thousand_random_families_of_windows_clash_in_pairs_only() -> None:
    # Helly 1923 (from memory): intervals without a common year contain a disjoint pair
    rng = random.Random(1923)
    for _ in range(3000):
        items = []
        for n in range(rng.randrange(2, 7)):
            low = rng.randrange(1400, 1990)
            items.append(item(f"i{n}", (low, low + rng.randrange(0, 200))))
        common = max(i.windows[0].earliest for i in items) <= min(i.windows[0].latest for i in items)  # type: ignore[type-var]
        found = smallest_clashes(items)
        assert (not found) == common
        assert all(len(c.items) == 2 for c in found)


def test_unions_of_windows_can_need_three() -> None:
    # counterexample for date-letter cycles: {1, 2}, {2, 3}, {1, 3} meet in pairs and share no year
    years = {"a": (1701, 1702), "b": (1702, 1703), "c": (1701, 1703)}
    items = [item(n, *((y, y) for y in two)) for n, two in years.items()]
    assert members(items) == {("a", "b", "c")}
    assert smallest_clashes(items)[0].sentence.startswith("These three cannot all be true")


def test_a_clash_along_the_order_of_events_names_the_links() -> None:
    body, words = item("tube", (1838, None)), item("dedication", (None, 1790), event="inscribed")
    (clash,) = smallest_clashes([body, words, item("style", (1700, 1900), event="decorated")])
    assert set(clash.items) == {"tube", "dedication"}
    assert (
        "The making cannot come after the decoration and the decoration cannot come after the inscription."
        in clash.sentence
    )


def test_parts_do_not_clash_with_each_other_and_a_repair_may_be_late() -> None:
    fine = [
        item("body", (1700, 1720)),
        item("hinge", (1840, None), part="hinge", event="part_made"),
        item("solder", (1900, None), event="repair"),
    ]
    assert smallest_clashes(fine) == ()
    assert len(smallest_clashes([*fine, item("early repair", (1600, 1650), event="repair")])) == 2


# --- every smallest conflict and correction ----------------------------------------------------------------------------


def test_the_published_example_of_conflicts_and_corrections() -> None:
    # Liffiton and Sakallah 2008, J. Automated Reasoning 40:1-33, running example {a, not a, not a or b, not b} (from memory)
    clauses = [[(0, True)], [(0, False)], [(0, False), (1, True)], [(1, False)]]

    def can_hold(chosen: frozenset[int]) -> bool:
        return any(
            all(any(world[v] == sign for v, sign in clauses[i]) for i in chosen)
            for world in itertools.product((False, True), repeat=2)
        )

    conflicts, corrections = conflicts_and_corrections(4, can_hold)
    assert [sorted(i + 1 for i in c) for c in conflicts] == [[1, 2], [1, 3, 4]]
    assert [sorted(i + 1 for i in c) for c in corrections] == [[1], [2, 3], [2, 4]]
    assert hitting_sets(corrections) == conflicts
    assert hitting_sets(conflicts) == corrections


def encoded(items: list[EvidenceItem], years: range) -> WCNF:
    """Order encoding: variable (event, y) means that the event happened in or before y; one selector an item."""
    events = sorted({i.event for i in items}, key=EVENTS.index)
    var = {(e, y): 1 + n for n, (e, y) in enumerate(itertools.product(events, years))}
    w = WCNF()
    for e in events:
        w.append([var[e, years[-1]]])
        for a, b in itertools.pairwise(years):
            w.append([-var[e, a], var[e, b]])
    for earlier, later in itertools.pairwise(events):
        for y in years:
            w.append([-var[later, y], var[earlier, y]])
    for n, i in enumerate(items):
        selector = len(var) + 1 + n
        for y in years:
            if not any(s.holds(y) for s in i.windows):  # not exactly in y
                exactly = [-var[i.event, y]] + ([var[i.event, y - 1]] if y > years[0] else [])
                w.append([-selector, *exactly])
        w.append([selector], weight=1)
    return w


@given(
    st.lists(
        st.tuples(
            st.sampled_from(EVENTS),
            st.lists(st.tuples(st.integers(1700, 1708), st.integers(0, 3)), min_size=1, max_size=2),
        ),
        min_size=2,
        max_size=7,
    )
)
@settings(max_examples=60, deadline=None)
def test_all_smallest_conflicts_agree_with_a_sat_solver(
    drawn: list[tuple[str, list[tuple[int, int]]]],
) -> None:
    items = [
        item(f"i{n}", *((a, min(a + w, 1708)) for a, w in spans), event=e)
        for n, (e, spans) in enumerate(drawn)
    ]
    formula = encoded(items, range(1700, 1709))
    with MCSls(formula, use_cld=True, solver_name="g3") as solver:
        corrections = []
        for found in solver.enumerate():
            solver.block(found)
            corrections.append(found)
    with Hitman(bootstrap_with=corrections, htype="sorted") as hitman:
        expected = (
            {tuple(sorted(f"i{n - 1}" for n in h)) for h in hitman.enumerate()}
            if corrections != [[]]
            else set()
        )
    assert members(items) == expected
    if expected:
        with MUSX(formula, solver="g3", verbosity=0) as extractor:
            assert tuple(sorted(f"i{n - 1}" for n in extractor.compute())) in expected
        assert len(fewest_to_doubt(items).items) == min(map(len, corrections))


# --- fewest to doubt -----------------------------------------------------------------------------------------------------


def test_the_fewest_items_to_doubt_is_all_but_the_most_windows_over_one_year() -> None:
    items = [
        item("a", (1700, 1750)),
        item("b", (1720, 1760)),
        item("c", (1740, 1800)),
        item("d", (1840, None)),
    ]
    doubted = fewest_to_doubt(items)
    assert doubted.items == ("d",)
    assert doubted.years == ((("", "made"), 1740),)


def test_weights_let_one_firm_item_stand_against_two_shaky_ones() -> None:
    items = [
        item("a", (1700, 1750), doubt=0.4),
        item("b", (1700, 1750), doubt=0.4),
        item("d", (1840, None), doubt=0.01),
    ]
    assert fewest_to_doubt(items).items == ("d",)
    assert fewest_to_doubt(items, weighted=True).items == ("a", "b")


def test_an_order_of_events_takes_part_in_the_fewest_to_doubt() -> None:
    items = [
        item("made", (1838, None)),
        item("words", (None, 1790), event="inscribed"),
        item("letters", (None, 1795), event="inscribed"),
    ]
    assert fewest_to_doubt(items).items == ("made",)
    free = (Link(earlier="inscribed", later="repair"),)
    assert fewest_to_doubt(items, chain=free).items == ()


@pytest.mark.parametrize("seed", range(5))
def test_the_order_of_statements_never_matters(seed: int) -> None:
    rng = random.Random(seed)
    items = [item(f"i{n}", (1700 + 10 * n, 1725 + 10 * n)) for n in range(8)]
    shuffled = list(items)
    rng.shuffle(shuffled)
    assert smallest_clashes(items) == smallest_clashes(shuffled)
