"""The agreed label is the strongest sentence that every finding and all hard evidence carry."""

from planish.reasoning.wording import Trees, agree, changes, entails, join
from planish.records import (
    Claim,
    Conventions,
    DateValue,
    Disclosure,
    Finding,
    Ground,
    MakerValue,
    MeasureValue,
    Reading,
    Span,
    TermValue,
    Unsaid,
    Years,
)

TEXT = "George II pewter flagon by J. Orrin, c. 1740. Height 24 cm."
TREES = Trees(
    broader={"material": {"pewter": "tin alloy", "britannia metal": "tin alloy", "tin alloy": "white metal"}},
    qualifiers={
        "by": ("yes", "yes", "yes", "open"),
        "workshop of": ("open", "yes", "yes", "open"),
        "circle of": ("open", "open", "yes", "open"),
    },
)


def claim(number: int, side: str, words: str, value: object) -> Claim:
    start = TEXT.index(words)
    span = Span(start, start + len(words))
    return Claim(id=f"c{number}", side=side, value=value, words=words, span=span)  # type: ignore[arg-type]


CLAIMS = (
    claim(1, "material", "pewter", TermValue(term="pewter")),
    claim(2, "object", "flagon", TermValue(term="flagon")),
    claim(
        3,
        "maker",
        "by J. Orrin",
        MakerValue(name="J. Orrin", qualifier="by", hand="yes", workshop="yes", period="yes"),
    ),
    claim(4, "date", "c. 1740", DateValue(years=Years(1730, 1750))),
)
READING = Reading(text=TEXT, claims=CLAIMS, conventions=Conventions())


def falls(claim_id: str) -> Finding:
    return Finding(claim=claim_id, answer="falls", holds=1, does_not_hold=4, cannot_say=0, rule="1 of 5 hold")


def test_a_label_whose_claims_all_stand_is_not_touched() -> None:
    agreed = agree(READING, findings={})
    assert (agreed.text, agreed.changed, agreed.claims) == (TEXT, False, CLAIMS)


def test_a_fallen_date_becomes_the_hull_of_what_the_opinions_carry() -> None:
    carried = {"c4": [DateValue(years=Years(1751, 1775)), DateValue(years=Years(1755, 1800))]}
    agreed = agree(READING, findings={"c4": falls("c4")}, carried=carried)
    assert (
        agreed.text == "George II pewter flagon by J. Orrin, second half of the 18th century. Height 24 cm."
    )
    assert [(s.claim, s.did) for s in agreed.steps if s.did != "kept"] == [("c4", "reworded")]


def test_a_maker_falls_to_the_strongest_qualifier_that_all_carry() -> None:
    shop = MakerValue(name="J. Orrin", hand="no", workshop="yes", period="yes")
    circle = MakerValue(name="J. Orrin", hand="no", workshop="open", period="yes")
    agreed = agree(READING, findings={"c3": falls("c3")}, carried={"c3": [shop, circle]}, trees=TREES)
    assert agreed.text == "George II pewter flagon circle of J. Orrin, c. 1740. Height 24 cm."


def test_a_claim_that_nobody_carries_is_left_out_with_the_words_that_led_to_it() -> None:
    agreed = agree(READING, findings={"c3": falls("c3")})
    assert agreed.text == "George II pewter flagon, c. 1740. Height 24 cm."


def test_materials_meet_at_the_lowest_common_broader_term() -> None:
    carried = {"c1": [TermValue(term="pewter"), TermValue(term="britannia metal")]}
    ground = Ground(claim="c1", kind="contradiction", ref="x", sentence="The alloy is not settled.")
    agreed = agree(READING, findings={}, grounds=[ground], carried=carried, trees=TREES)
    assert agreed.text.startswith("George II tin alloy flagon")
    assert [s.did for s in agreed.steps if s.claim == "c1"] == ["weakened"]


def test_hard_evidence_cuts_what_the_opinions_carry() -> None:
    carried = {"c4": [DateValue(years=Years(1740, 1780))]}
    agreed = agree(READING, findings={"c4": falls("c4")}, carried=carried, allowed=Years(1769, None))
    assert "1769–1780" in agreed.text


def test_a_disclosure_is_added_once() -> None:
    lid = Disclosure(words="the lid later", part="cover", sentence="The lid is of another alloy.")
    first = agree(READING, findings={}, disclosures=[lid])
    assert first.text == TEXT + " The lid later."


def test_a_climb_names_the_smallest_look_that_would_allow_one_rung_up() -> None:
    carried = {"c4": [DateValue(years=Years(1701, 1800))]}
    looks = {"date": ("Compare the mark with the touch plate under a loupe.", 6)}
    agreed = agree(READING, findings={"c4": falls("c4")}, carried=carried, looks=looks)
    assert [(c.claim, c.minutes, c.found_by) for c in agreed.climbs] == [("c4", 6, "house table")]


def test_differences_keep_every_character() -> None:
    new = TEXT.replace("pewter", "tin alloy")
    runs = changes(TEXT, new)
    assert "".join(r.words for r in runs if r.kind != "added") == TEXT
    assert "".join(r.words for r in runs if r.kind != "removed") == new


def test_a_narrower_span_entails_a_wider_one_and_not_the_other_way() -> None:
    narrow, wide = DateValue(years=Years(1740, 1750)), DateValue(years=Years(1701, 1800))
    assert (entails(narrow, wide), entails(wide, narrow)) == (True, False)
    assert join([narrow, wide]) == wide


def test_a_name_that_falls_and_that_nobody_replaces_stays_and_is_asked_about() -> None:
    agreed = agree(READING, findings={"c2": falls("c2")})
    assert agreed.text == TEXT
    assert [problem.code for problem in agreed.problems] == ["wording.name_asked"]


def test_words_that_own_up_to_a_state_stay_until_somebody_gives_better_ones() -> None:
    text = "Copper pan, A/F, 38 cm."
    state = Claim(id="s", side="state", value=TermValue(term="a/f"), words="A/F", span=Span(12, 15))
    reading = Reading(text=text, claims=(state,))
    agreed = agree(reading, findings={"s": falls("s")})
    assert (agreed.text, [p.code for p in agreed.problems]) == (text, ["wording.state_asked"])
    said = [TermValue(term="rim split", more={"words": "rim split"})]
    assert (
        agree(reading, findings={"s": falls("s")}, carried={"s": said}).text
        == "Copper pan, rim split, 38 cm."
    )


def test_a_clash_is_answered_once_one_of_its_claims_moves() -> None:
    text = "Pewter teapot of Britannia metal, English."
    first = Claim(id="a", side="material", value=TermValue(term="pewter"), words="Pewter", span=Span(0, 6))
    second = Claim(
        id="b", side="material", value=TermValue(term="britannia metal"), words="Britannia metal", span=Span(17, 32)
    )  # fmt: skip
    reading = Reading(text=text, claims=(first, second))
    clash = [
        Ground(claim=one, kind="contradiction", ref="x", sentence="Both cannot be.") for one in ("a", "b")
    ]
    agreed = agree(reading, findings={"a": falls("a")}, grounds=clash, trees=TREES)
    assert agreed.text == "Teapot of Britannia metal, English."
    unsaid = agree(reading, findings={}, grounds=clash, trees=TREES)
    assert unsaid.text == "Tin alloy teapot, English."


def test_exact_words_of_a_remedy_stand_only_when_the_claim_falls() -> None:
    spare = Ground(
        claim="c4", kind="clause", ref="3.3", sentence="One year.", keeps_out=False, instead="c.1740",
        value=DateValue(years=Years(1730, 1750)),
    )  # fmt: skip
    assert not agree(READING, findings={}, grounds=[spare]).changed
    assert "c.1740" in agree(READING, findings={"c4": falls("c4")}, grounds=[spare]).text


def unsaid(side: str, value: object) -> str:
    """The label when it says nothing of `side` and the opinions carry `value` for it."""
    kept = tuple(c for c in CLAIMS if c.side != side)
    words = next((c.words for c in CLAIMS if c.side == side), "")
    text = TEXT.replace(f", {words}" if side == "date" else f" {words}", "") if words else TEXT
    found = tuple(
        Claim(
            id=c.id,
            side=c.side,
            value=c.value,
            words=c.words,
            span=Span(text.index(c.words), text.index(c.words) + len(c.words)),
        )
        for c in kept
    )
    agreed = agree(Reading(text=text, claims=found), findings={}, unsaid=[Unsaid(side=side, values=(value,))])  # type: ignore[arg-type]
    assert [s.did for s in agreed.steps][-1] == "added"
    assert agreed.claims[-1].value == value
    return agreed.text


def test_what_a_label_must_say_and_does_not_goes_where_it_reads_well() -> None:
    assert unsaid("place", TermValue(term="England", more={"words": "English"})) == (
        "George II pewter flagon by J. Orrin, English, c. 1740. Height 24 cm."
    )
    assert unsaid("date", DateValue(years=Years(1701, 1800))) == (
        "George II pewter flagon, 18th century, by J. Orrin. Height 24 cm."
    )
    assert unsaid("material", TermValue(term="pewter")) == TEXT
    assert unsaid("maker", MakerValue(name="J. Orrin", qualifier="by")) == TEXT
    length = MeasureValue(role="length", amount=540, base_unit="mm", unit="cm", as_written="54")
    assert unsaid("measure", length) == TEXT + " Length 54 cm."


def test_nothing_is_said_of_a_side_for_which_opinions_carry_nothing_together() -> None:
    kept = tuple(c for c in CLAIMS if c.side != "date")
    dates = (DateValue(years=Years(1700, 1710)), DateValue(years=Years(1700, 1710), event="cast"))
    agreed = agree(Reading(text=TEXT, claims=kept), findings={}, unsaid=[Unsaid(side="date", values=dates)])
    assert agreed.text == TEXT
