"""What never happens, over invented labels, findings and opinions that hypothesis draws."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from hypothesis import given, settings
from hypothesis import strategies as st

from planish.errands.opening.wiring import Kit
from planish.errands.panel.checking import check
from planish.errands.words.labelling import trees
from planish.errands.words.reading_words import instead_value
from planish.errands.words.sound_words import ASKED, soundly
from planish.facts.rulebooks import load_rulebook
from planish.reasoning.reading import read
from planish.reasoning.wording import agree, entails
from planish.records import AgreedWords, Claim, ClaimValue, Disclosure, Finding, Ground, ListedObject, Reading

KIT = Kit(load_rulebook("saltmere")[0])
TREES = trees(KIT.words)
FALLS = Finding(claim="", answer="falls", holds=0, does_not_hold=4, cannot_say=0, rule="falls")

MATERIAL = st.sampled_from(["Pewter", "Brass", "Cast iron", "Britannia metal", "Gilt brass", "Copper"])
OBJECT = st.sampled_from(["flagon", "candlestick", "teapot", "charger", "kettle", "pair of candlesticks"])
MAKER = st.sampled_from(
    ["", " by Josiah Thornbeck", " attributed to J. Orrin", " workshop of Elias Marchant"]
)
PLACE = st.sampled_from(["", ", English", ", Dutch", ", German"])
DATE = st.sampled_from(
    [", c. 1740", ", 1761", ", Georgian", ", 18th century", ", c.1700–1850", ", George III, 1780", ""]
)
EXTRA = st.sampled_from(
    ["", ", engraved with a ship and scrolls", ", chased with fruit", ", the cover replaced", ", A/F", " – pierced panel",
     ", possibly unique", ", formerly the property of the Earls of Ludmere", ", re-tinned inside", ", engraved 1801"]
)  # fmt: skip
SIZE = st.sampled_from([". Height 24 cm.", ", diameter 38 cm", ". Height 21 cm (8¼ in), 22 oz.", ""])
TAIL = st.sampled_from(
    ["", " All original.", " Unique.", " An old repair to the foot.", " A rare piece by a royal smith."]
)
LABEL = st.builds(
    "{}{}{}{}{}{}{}{}{}".format, MATERIAL, st.just(" "), OBJECT, MAKER, PLACE, DATE, EXTRA, SIZE, TAIL
)
INSTEAD: Mapping[str, Sequence[str]] = {
    "date": ("c. 1760", "1750–1800", "19th century", "second half of the 18th century"),
    "material": ("pewter", "brass", "Britannia metal", "bronze"),
    "maker": ("attributed to J. Orrin", "workshop of J. Orrin", "circle of J. Orrin"),
    "place": ("English", "Flemish", "Dutch"),
    "decoration": ("later engraved", "later chased"),
    "state": ("the foot resoldered", "two dents"),
}
OWNED = st.lists(
    st.sampled_from([Disclosure(words="the handle replaced", part="handle"), Disclosure(words="later engraved")]), max_size=2, unique=True
)  # fmt: skip


@dataclass(frozen=True)
class Drawn:
    """A label as read, which of its claims fall, what is carried in their place, and what must be owned up to."""

    reading: Reading
    fallen: tuple[str, ...]
    carried: Mapping[str, list[ClaimValue]]
    owned: tuple[Disclosure, ...]

    def agreed(self, grounds: tuple[Ground, ...] = ()) -> AgreedWords:
        return agree(
            self.reading,
            findings=dict.fromkeys(self.fallen, FALLS),
            grounds=grounds,
            carried=self.carried,
            disclosures=self.owned,
            trees=TREES,
            form=KIT.rules.house_form,
        )


def as_read(text: str) -> Reading:
    return read(text, words=KIT.words, conventions=KIT.rules.conventions)


@st.composite
def drawn(draw: st.DrawFn, *, owning: bool = True, instead: bool = True) -> Drawn:
    reading = as_read(draw(LABEL))
    fallen = draw(st.lists(st.sampled_from([c.id for c in reading.claims]), max_size=3, unique=True))
    carried = {
        claim.id: values
        for claim in reading.claims
        if instead and claim.id in fallen and claim.side in INSTEAD and (values := _values(draw, claim))
    }
    return Drawn(reading, tuple(fallen), carried, tuple(draw(OWNED)) if owning else ())


def _values(draw: st.DrawFn, claim: Claim) -> list[ClaimValue]:
    words = draw(st.lists(st.sampled_from(list(INSTEAD[claim.side])), max_size=3))
    return [v for w in words if (v := instead_value(claim, {"words": w}, KIT)) is not None]


CASES = settings(deadline=None, max_examples=60)


@CASES
@given(drawn(), st.randoms(use_true_random=False))
def test_the_order_of_opinions_makes_no_difference(case: Drawn, chance: object) -> None:
    mixed = {name: chance.sample(values, len(values)) for name, values in case.carried.items()}  # type: ignore[attr-defined]
    again = Drawn(case.reading, tuple(reversed(case.fallen)), mixed, case.owned)
    assert again.agreed() == case.agreed()


@CASES
@given(drawn())
def test_agreeing_an_agreed_label_changes_nothing(case: Drawn) -> None:
    first = case.agreed()
    reading = as_read(first.text)
    stays = {step.before for step in first.steps if step.did == "kept" and step.why}
    fallen = tuple(c.id for c in reading.claims if c.words in stays and c.side in ("object", "state"))
    assert Drawn(reading, fallen, {}, case.owned).agreed().text == first.text


@CASES
@given(drawn())
def test_nothing_is_claimed_that_nobody_claimed(case: Drawn) -> None:
    hung = {claim.id: claim for claim in case.reading.claims}
    for claim in case.agreed().claims:
        if claim == hung[claim.id]:
            continue
        values = case.carried.get(claim.id) or [hung[claim.id].value]
        assert all(entails(value, claim.value, tree=hung[claim.id].side, trees=TREES) for value in values), (
            claim
        )


@CASES
@given(drawn(instead=False, owning=False), st.data())
def test_one_finding_more_never_says_more(case: Drawn, data: st.DataObject) -> None:
    one = data.draw(st.sampled_from([c.id for c in case.reading.claims]))
    before = {claim.id: claim.value for claim in case.agreed().claims}
    after = Drawn(case.reading, (*case.fallen, one), {}, ()).agreed().claims
    assert all(entails(before[c.id], c.value, tree=c.side, trees=TREES) for c in after)


@CASES
@given(drawn())
def test_agreed_words_read_back_as_the_claims_that_were_agreed(case: Drawn) -> None:
    agreed = case.agreed()
    found = as_read(agreed.text).claims
    sides = [c.side for c in found]
    for claim in (c for c in found if c.side in ("date", "maker", "material", "place")):
        if claim.side == "date" and any(p.code == "wording.no_date" for p in agreed.problems):
            continue  # the only other year on the label is then taken for the making: a date is asked for
        same = [c.value for c in agreed.claims if c.side == claim.side]
        assert any(entails(value, claim.value, tree=claim.side, trees=TREES) for value in same), claim
    wanted = [
        c.side
        for c in agreed.claims
        if c.side not in ("object", "count", "state", "decoration", "provenance")
    ]
    told = ("date", "maker", "place", "material", "measure", "puff", "style")
    assert sorted(s for s in sides if s in told) == sorted(s for s in wanted if s in told), agreed.text


@CASES
@given(drawn(owning=False))
def test_agreed_words_break_no_clause_that_the_label_as_hung_kept(case: Drawn) -> None:
    hung = listed(case.reading.text)
    agreed = soundly(hung, check(hung, KIT), KIT, case.agreed)
    new = {fault.code for fault in check(listed(agreed.text), KIT).faults}
    new -= {fault.code for fault in check(hung, KIT).faults}
    told = any(problem.code == "wording.new_fault" for problem in agreed.problems)
    assert told or all(code.startswith(ASKED) for code in new), agreed.text
    assert "date.period_abroad" not in new, agreed.text


def listed(text: str) -> ListedObject:
    return ListedObject(id="1", stand="1", number="1", text=text)


@CASES
@given(drawn())
def test_what_is_left_is_well_formed(case: Drawn) -> None:
    text = case.agreed().text
    assert text == " ".join(text.split())
    for sign in (" ,", " .", ",,", "..", ",.", "( ", "()", ", –", "– –", ". ,", " ;"):
        assert sign not in text, (case.reading.text, text)
    assert not text.endswith((",", " by", " of", " with", " –")), text
    assert text[:1].isupper(), text
