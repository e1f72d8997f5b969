"""What may have been missed: capture-recapture, a clean audit in words, blind samples, the rare-fault guard."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planish.reasoning.trending import missed as m

# Published worked examples, all found in the tests of the R package FSA (Ogle), tests/testthat, "Validate Results":
# (first, second, both, estimate, standard error or None)
PUBLISHED = {
    "Krebs 1989, Ecological Methodology, box 2.1": (948, 421, 167, 2383, None),
    "Ricker 1975, Bulletin 191": (109, 177, 57, 337, None),
    "Pine et al. 2013, box 11.2": (421, 332, 88, 1578, None),
    "Seber 2002, tables 3.7 and 3.8, first": (500, 149, 7, 9393, 3022),
    "Seber 2002, tables 3.7 and 3.8, second": (1000, 243, 21, 11101, 2184),
}


@pytest.mark.parametrize("source", PUBLISHED)
def test_chapmans_estimate_of_published_examples(source):
    first, second, both, total, error = PUBLISHED[source]
    got = m.chapman(first, second, both)
    assert round(got[0]) == total
    if error is not None:
        assert round(got[1]) == error


def test_the_plain_interval_of_a_published_example():
    # Pine et al. 2013, box 11.2 (as above): 1330 to 1826 by the normal interval
    total, error = m.chapman(421, 332, 88)
    assert [round(total + z * error) for z in (-1.959964, 1.959964)] == [1330, 1826]


def test_chapmans_estimate_and_error_of_ten_turtles():
    # Encyclopaedia example "Mark and recapture" (from memory): 10 marked, 15 caught, 5 marked: 28.3, variance 6*... by hand
    total, error = m.chapman(10, 15, 5)
    assert total == pytest.approx(11 * 16 / 6 - 1)
    assert error**2 == pytest.approx(11 * 16 * 5 * 10 / (36 * 7))


def test_what_both_found_cannot_exceed_what_either_found():
    with pytest.raises(ValueError, match="cannot exceed"):
        m.chapman(3, 4, 5)


@given(st.integers(0, 60), st.integers(0, 60), st.data())
def test_the_interval_holds_the_estimate_and_never_falls_below_what_was_found(first, second, data):
    both = data.draw(st.integers(0, min(first, second)))
    got = m.missed(first, second, both, looked=500)
    assert got.found <= got.low <= got.high
    assert got.unfound_low <= got.unfound + 1e-9 <= got.unfound_high + 2e-9
    assert got.unfound_high > 0


def test_two_searches_that_found_the_same_still_allow_something():
    got = m.missed(4, 4, 4, looked=200)
    assert got.unfound == 0
    assert got.unfound_high == pytest.approx(200 * (1 - 0.05 ** (1 / 200)))
    assert "If some faults are hard for everyone, more." in got.sentence


def test_a_clean_audit_says_what_it_still_allows():
    assert m.clean_audit(60, 3000) == (
        "Nothing was found in 60 looked at again. That still allows up to 4.9 % with a missed fault: "
        "as many as 146 among all 3000."
    )
    assert m.clean_audit(60, 3000, found=2).startswith("2 of 60 looked at again had a fault that was passed")
    assert "nothing can be said" in m.clean_audit(0, 3000)


def test_the_blind_sample_depends_on_its_seed_and_not_on_the_order_of_the_list():
    objects = [f"{i}" for i in range(100)]
    first = m.blind_sample(objects, 10, seed=3)
    assert first == m.blind_sample(objects[::-1], 10, seed=3)
    assert first != m.blind_sample(objects, 10, seed=4)
    assert len(set(first)) == 10
    assert len(m.blind_sample(objects, 500, seed=1)) == 100


def test_every_object_is_as_likely_as_another_to_be_drawn():
    drawn = [o for seed in range(400) for o in m.blind_sample("abcdefghij", 3, seed)]
    assert all(85 <= drawn.count(o) <= 155 for o in "abcdefghij")


def test_hours_too_fast_or_with_far_too_few_finds_are_named():
    hours = [
        m.Hour(hour=9, looked=100, found=4),
        m.Hour(hour=10, looked=100, found=0),
        m.Hour(hour=11, looked=200, found=9),
    ]
    said = m.rare_fault_guard(hours, expected_rate=0.05)
    assert [s.split(":")[0] for s in said] == ["Hour 10", "Hour 11"]
    assert "faster than 150 an hour" in said[1]
