"""Like cases: the index finds what the stated distance says, and unlike outcomes sound an alarm."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from planish.reasoning.matching import Case, CaseIndex, distance, unlike_outcomes
from planish.reasoning.matching.like_cases import LIKE

COVER = Case(
    id="17-4",
    fair="Saltmere",
    stand="17",
    order=10,
    outcome="relabel",
    fault="part.married",
    side="state",
    discipline="metalware",
    material="pewter",
    part="cover",
    kind="tankard",
    severity=2,
    year=1730,
)

words = st.sampled_from(["", "p", "q", "r"])
cases = st.builds(
    Case,
    id=st.integers(0, 10**6).map(str),
    fair=st.sampled_from(["here", "there"]),
    stand=st.just("1"),
    order=st.integers(0, 20),
    fault=words,
    side=words,
    discipline=words,
    material=words,
    part=words,
    kind=words,
    severity=st.none() | st.integers(1, 4),
    year=st.none() | st.integers(1400, 2030),
)


@settings(deadline=None)
@given(st.lists(cases, max_size=30), cases, st.booleans())
def test_the_index_finds_exactly_what_the_stated_distance_says(pool, case, earlier):
    index = CaseIndex(pool)
    got = index.like_cases(case, most=1000, earlier_fairs=earlier)
    expected = [
        c
        for c in pool
        if c.id != case.id
        and distance(case, c) <= LIKE + 1e-9
        and ((c.fair == case.fair and c.order < case.order) or (earlier and c.fair != case.fair))
    ]
    assert sorted(c.case.id for c in got) == sorted(c.id for c in expected)
    assert [c.distance for c in got] == sorted(c.distance for c in got)
    assert all(abs(c.distance - distance(case, c.case)) < 1e-9 for c in got)


@given(cases, cases)
def test_the_distance_is_symmetric_and_nought_from_a_case_to_itself(a, b):
    assert distance(a, b) == distance(b, a) >= 0
    assert distance(a, a) == 0


def test_the_same_fault_treated_otherwise_within_the_hour_sounds_the_alarm():
    earlier = replace(COVER, id="3-9", stand="3", order=9, outcome="remove")
    same = replace(COVER, id="5-1", stand="5", order=8)
    like = CaseIndex([earlier, same]).like_cases(COVER)
    assert [c.case.id for c in like] == ["3-9", "5-1"]
    (said,) = unlike_outcomes(COVER, like)
    assert said.startswith("17-4 (17): relabel; like case 3-9 (3): remove. Alike in fault: part.married")
    assert unlike_outcomes(replace(COVER, outcome=None), like) == ()


def test_another_fault_is_no_like_case():
    other = replace(COVER, id="3-9", order=9, fault="date.too_vague")
    assert CaseIndex([other]).like_cases(COVER) == ()


def test_later_cases_and_other_fairs_are_left_out_unless_the_rule_book_allows_them():
    later = replace(COVER, id="a", order=11)
    elsewhere = replace(COVER, id="b", fair="Fennhithe", order=99)
    index = CaseIndex([later, elsewhere])
    assert index.like_cases(COVER) == ()
    assert [c.case.id for c in index.like_cases(COVER, earlier_fairs=True)] == ["b"]
    assert CaseIndex([]).like_cases(COVER) == ()
