"""Readings of the metal: classes that fit, what each metal bounds, and how the surface weakens it."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planish.facts.book import FactBook
from planish.facts.loading import load
from planish.reasoning.measuring import measure
from planish.reasoning.measuring.alloys import rank
from planish.reasoning.measuring.composition import chance_of, kinds_of, parts_compared
from planish.reasoning.measuring.elements import SYMBOLS
from planish.reasoning.measuring.measured import LADDER, Settings, doubt_of, window_share
from planish.reasoning.measuring.reading_facts import ranges, text
from planish.records import EvidenceItem, Quantity, Years

from .conftest import Look, observation

BRASS = {"Cu": (65.2, 0.6), "Zn": (34.3, 0.4)}


def _of(items: tuple[EvidenceItem, ...], fact: str) -> EvidenceItem | None:
    return next((item for item in items if item.facts[0] == fact), None)


@pytest.mark.parametrize(
    ("reading", "fact", "event", "years"),
    [
        ({"Cu": 64, "Zn": 35.5}, "xrf.zn.over33", "body_made", Years(1781, None)),
        ({"Cu": 68.5, "Zn": 30.5}, "xrf.zn.28_33", "body_made", Years(1723, None)),
        ({"Cu": 62, "Zn": 22, "Ni": 15}, "xrf.ni.european", "body_made", Years(1823, None)),
        ({"Cu": 45, "Zn": 45, "Ni": 9}, "xrf.ni.white", "body_made", Years(None, 1820)),
        ({"Fe": 74, "Cr": 18, "Ni": 8}, "xrf.cr.stainless", "part_made", Years(1912, None)),
        ({"Cu": 70, "Zn": 22, "Ni": 5, "Cr": 3}, "xrf.cr.plate", "finish_applied", Years(1924, None)),
        ({"Cu": 91, "Al": 8}, "xrf.al.bulk", "body_made", Years(1856, None)),
        ({"Sn": 92, "Sb": 6, "Cu": 1.8, "Pb": (0.02, 0.02)}, "xrf.sb.pewter", "body_made", Years(1769, None)),
        ({"Zn": 95.5, "Al": 4}, "xrf.zn_al.diecast", "part_made", Years(1929, None)),
    ],
)  # fmt: skip
def test_a_metal_bounds_its_event(
    look: Look, reading: dict[str, object], fact: str, event: str, years: Years
) -> None:
    item = _of(look("composition", reading, surface="drilling").items, fact)
    assert item is not None
    assert (item.event, item.windows) == (event, (years,))


def test_mercury_with_gold_names_the_method_and_no_year(look: Look) -> None:
    found = look("composition", {"Cu": 70, "Zn": 10, "Au": 15, "Hg": 3}, surface="gilt")
    assert any("Amalgam (fire) gilding" in s for s in found.sentences)
    assert not any(i.event == "finish_applied" for i in found.items)
    assert any(c.startswith("Mercury:") for c in found.cautions)


def test_very_pure_copper_needs_a_laboratory(look: Look) -> None:
    handheld = {"Cu": 99.9, **{m: (0.0, 0.03) for m in ("As", "Sb", "Ag", "Bi", "Pb")}}
    laboratory = {"Cu": 99.99, **{m: (0.0003, 0.0002) for m in ("As", "Sb", "Ag", "Bi", "Pb")}}
    assert _of(look("composition", handheld, surface="drilling").items, "xrf.trace.none") is None
    assert _of(look("composition", laboratory, surface="drilling").items, "xrf.trace.none") is not None


def test_zinc_a_little_under_the_ceiling_is_said_to_be_undecided(look: Look) -> None:
    found = look("composition", {"Cu": 66.9, "Zn": (32.4, 0.6)}, surface="drilling")
    assert _of(found.items, "xrf.zn.over33") is None
    assert any("Cannot tell" in s and "33 %" in s for s in found.sentences)


def test_the_same_metal_read_twice_counts_once(look: Look) -> None:
    clean = {m: (0.01, 0.01) for m in ("Pb", "Sn", "As", "Sb", "Ag", "Ni")}
    found = look("composition", {"Cu": 64.9, "Zn": (35.0, 0.3), **clean}, surface="drilling")
    assert [i.facts[0] for i in found.items if i.event == "body_made"] == ["xrf.zn.pure_modern_pattern"]


def test_a_rule_that_needs_a_word_of_make_waits_for_it(look: Look) -> None:
    reading = {"Cu": 59.5, "Zn": 39.5}
    assert _of(look("composition", reading, surface="drilling").items, "xrf.zn.over38_worked") is None
    item = _of(
        look("composition", reading, surface="drilling", words="rolled sheet").items, "xrf.zn.over38_worked"
    )
    assert item is not None
    assert item.windows == (Years(1832, None),)


def test_an_element_that_was_not_reported_is_not_taken_for_absent(book: FactBook) -> None:
    rule = book.look("xrf.zn.pure_modern_pattern").fact
    assert rule is not None
    reading = {"Cu": Quantity(64.9, "wt%", 0.3), "Zn": Quantity(35.0, "wt%", 0.3)}
    assert chance_of(rule, reading, kinds_of(reading)) == 0.0


def test_the_strength_falls_by_the_steps_the_rules_give(look: Look) -> None:
    def strength(surface: str, spots: int = 1) -> str | None:
        item = _of(look("composition", BRASS, surface=surface, more={"spots": spots}).items, "xrf.zn.over33")
        return item.strength if item else None

    assert strength("drilling") == "strong"
    assert strength("polished", 3) == "strong"
    assert strength("polished") == "moderate"
    assert strength("") == "moderate"
    assert strength("patina") == strength("lacquered") == strength("plated") == strength("solder") == "weak"


SURFACES = ["drilling", "polished", "", "patina"]
"""Best to worst."""


@given(
    zinc=st.floats(2, 45), lead=st.floats(0, 5), tin=st.floats(0, 5), nickel=st.floats(0, 20), spread=st.floats(0.05, 2),
    better=st.integers(0, 3), worse=st.integers(0, 3), spots=st.integers(1, 3),
)  # fmt: skip
def test_strength_never_rises_when_the_surface_gets_worse(
    zinc: float, lead: float, tin: float, nickel: float, spread: float, better: int, worse: int, spots: int
) -> None:
    better, worse = sorted((better, worse))
    book = load("metalware")[0]
    metals = {"Cu": 100 - zinc - lead - tin - nickel, "Zn": zinc, "Pb": lead, "Sn": tin, "Ni": nickel}
    values = {m: (w, spread) for m, w in metals.items()}

    def strengths(surface: str) -> dict[str, int]:
        look = observation("composition", values, surface=surface, more={"spots": spots})
        rules = measure(look, book).details["rules"]
        return {
            r["fact"]: LADDER.index(r["strength"]) if r["strength"] in LADDER else len(LADDER) for r in rules
        }  # type: ignore[attr-defined]

    good, bad = strengths(SURFACES[better]), strengths(SURFACES[worse])
    assert good.keys() == bad.keys()
    assert all(bad[rule] >= good[rule] for rule in good)


@given(seed=st.integers(0, 10**6))
def test_the_order_of_the_metals_never_matters(seed: int) -> None:
    book = load("metalware")[0]
    values = {
        "Cu": (62.0, 0.5),
        "Zn": (34.5, 0.5),
        "Pb": (2.4, 0.2),
        "Sn": (0.4, 0.1),
        "Fe": (0.2, 0.05),
        "Ni": (0.1, 0.05),
    }
    names = list(values)
    random.Random(seed).shuffle(names)
    one = measure(observation("composition", values), book)
    other = measure(observation("composition", {n: values[n] for n in names}), book)
    assert one == other


def test_doubt_gives_the_ratio_that_the_words_promise() -> None:
    """Statistics: L inside over outside is ((1-e)/F + e)/e; weak 3, moderate 30, strong 300 to one."""
    settings = Settings()
    windows = (Years(1781, None),)
    share = window_share(windows, settings)
    assert share == pytest.approx(250 / 631)
    for word, ratio in (("weak", 3), ("moderate", 30), ("strong", 300)):
        doubt = doubt_of(word, windows, 0.0, settings)  # type: ignore[arg-type]
        assert ((1 - doubt) / share + doubt) / doubt == pytest.approx(ratio)


@pytest.mark.parametrize(
    ("reading", "best"),
    [
        ({"Cu": 70, "Zn": 30}, {"alloy.brass.c26000"}),
        ({"Cu": 61.5, "Zn": 35.3, "Pb": 3.0, "Fe": 0.2}, {"alloy.brass.c36000"}),
        ({"Cu": 85, "Sn": 5, "Pb": 5, "Zn": 5}, {"alloy.bronze.c83600"}),
        ({"Cu": 80.5, "Sn": 19.3}, {"alloy.bronze.bell_c91300"}),
        ({"Sn": 91, "Sb": 7, "Cu": 2}, {"alloy.pewter.b560_type2", "alloy.pewter.b560_type1", "alloy.pewter.britannia"}),
        ({"Sn": 82, "Pb": 18}, {"alloy.pewter.lay", "alloy.pewter.french_legal", "alloy.pewter.london_1348"}),
        ({"Fe": 73.5, "Cr": 18, "Ni": 8.5}, {"alloy.iron.stainless_18_8"}),
        ({"Cu": 55, "Zn": 27, "Ni": 18}, {"alloy.nickel.c77000"}),
    ],
)  # fmt: skip
def test_a_reading_at_the_middle_of_a_class_puts_it_first(
    book: FactBook, reading: dict[str, float], best: set[str]
) -> None:
    values = {m: Quantity(w, "wt%", max(0.02 * w, 0.05)) for m, w in reading.items()}
    ranked = rank(values, book, Settings())
    assert ranked[0].fits
    assert ranked[0].alloy.id in best


def test_a_miss_is_said_with_the_metal_and_the_points(look: Look) -> None:
    found = look("composition", {"Cu": (40, 0.5), "Zn": (20, 0.5), "Pb": (40, 0.5)})
    assert found.sentences[0].startswith("No class on file fits; nearest:")
    assert "points above the range" in found.sentences[0] or "points below the range" in found.sentences[0]


def test_conditions_of_rules_name_real_metals_in_real_ranges(book: FactBook) -> None:
    with_conditions = [f for f in book.family("xrf_rule") if "when" in f.more]
    assert len(with_conditions) >= 40
    for rule in with_conditions:
        assert text(rule, "strength") in ("decisive", "strong", "weak")
        for metal, (low, high) in ranges(rule, "when").items():
            assert metal in SYMBOLS, rule.id
            assert 0 <= low < high <= 100, rule.id


def test_every_item_names_a_fact_on_file_its_doubt_and_its_limits(look: Look, book: FactBook) -> None:
    for item in look("composition", BRASS).items:
        assert all(book.look(fact).state == "known" for fact in item.facts)
        assert 0 < item.doubt < 1
        assert item.limits
        assert item.observations == ("o1",)


def test_parts_of_one_melt_and_of_two_are_told_apart(book: FactBook) -> None:
    body = observation("composition", {"Cu": (70, 0.5), "Zn": (29, 0.5), "Pb": (0.8, 0.1)}, part="body")
    lid = observation("composition", {"Cu": (61, 0.5), "Zn": (36, 0.5), "Pb": (2.6, 0.2)}, part="lid")
    same = observation("composition", {"Cu": (70.3, 0.5), "Zn": (28.7, 0.5), "Pb": (0.9, 0.1)}, part="foot")
    apart, together = parts_compared(body, lid, book), parts_compared(body, same, book)
    assert "different melts" in apart.sentences[1]
    assert apart.details["furthest_in_uncertainties"] > 4
    assert "One melt" in together.sentences[1]
    assert apart.items == together.items == ()


def test_the_next_spot_is_the_one_that_would_lift_most(look: Look) -> None:
    assert any("lift this by two steps" in s for s in look("composition", BRASS, surface="patina").sentences)
    assert any(
        "nickel plate" in s
        for s in look("composition", {"Cu": 60, "Zn": 25, "Ni": 14}, surface="polished").sentences
    )


def test_reading_a_plating_is_no_loss_for_a_rule_about_platings(look: Look) -> None:
    reading = {"Cu": 70, "Zn": 22, "Ni": 5, "Cr": 3}
    plated = _of(look("composition", reading, surface="plated").items, "xrf.cr.plate")
    patinated = _of(look("composition", reading, surface="patina").items, "xrf.cr.plate")
    assert plated is not None
    assert patinated is not None
    assert (plated.strength, patinated.strength) == ("strong", "moderate")


def test_a_named_instrument_takes_the_smaller_doubt(look: Look) -> None:
    named = _of(
        look("composition", BRASS, surface="drilling", instrument="laboratory").items, "xrf.zn.over33"
    )
    plain = _of(look("composition", BRASS, surface="drilling").items, "xrf.zn.over33")
    assert named is not None
    assert plain is not None
    assert named.doubt < plain.doubt


def test_sentences_without_items_still_name_their_facts(look: Look, book: FactBook) -> None:
    for found in (
        look("density", {"air": 812.4, "water": 716.9}),
        look("capacity", {"capacity": (568, 4, "ml")}),
    ):
        assert found.items == ()
        assert found.facts
        assert all(book.look(i).state == "known" for i in found.facts)
