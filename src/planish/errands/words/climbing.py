"""One rung up: the smallest look on file after which narrower years than the agreed ones would stand.

For the date of the whole object the look is found by weighing, not named by habit: each rung above the agreed years is
taken as a claim, every look not yet taken is weighed against it, and of all looks with a possible find that lifts
the rung to `STANDS` the one of fewest minutes is named. Where none does, nothing is promised.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from planish.errands.opening.wiring import Kit
from planish.errands.panel.examining import Settled
from planish.errands.panel.looks import looks_for
from planish.reasoning.weighing import Case, DatedClaim, Look, Settings, case_from, next_looks
from planish.reasoning.wording.phrases import date_words
from planish.records import AgreedWords, Claim, Climb, DateValue, EvidenceItem, Step, Years

STANDS = 0.75
"""A rung stands when its chance, among the agreed years, reaches this share (house default, as the share of votes)."""
SELDOM = 0.05
"""Finds rarer than this are not counted on (house default)."""
METALS = (
    "tin alloy",
    "copper alloy",
    "copper",
    "iron",
    "silver",
    "lead",
    "zinc alloy",
    "nickel alloy",
    "aluminium",
    "gold",
)
"""Kinds of material for which the metalware table of looks serves, whichever panel leads."""


@dataclass(frozen=True, slots=True, order=True)
class Lift:
    """A look that would lift a rung: fewest minutes first, then the likelier find."""

    minutes: float
    unlikely: float
    look: str
    years: tuple[int, int]


def with_smallest_looks(
    agreed: AgreedWords, settled: Settled, kit: Kit, form: Mapping[str, object]
) -> AgreedWords:
    """`agreed` with every climb of the object's date replaced by the smallest look that weighing finds for it."""
    dates = {c.id: c for c in settled.evident.reading.claims if isinstance(c.value, DateValue) and not c.part}
    climbs = []
    for climb in agreed.climbs:
        claim = dates.get(climb.claim)
        step = next((s for s in agreed.steps if s.claim == climb.claim), None)
        if claim is None or step is None or not isinstance(step.value, DateValue):
            climbs.append(climb)
            continue
        lift = smallest(claim, step, settled, looks_on_file(settled))
        if lift is not None:
            climbs.append(_climb(climb, lift, step.value, kit, form))
    return replace(agreed, climbs=tuple(climbs))


def _climb(climb: Climb, lift: Lift, value: DateValue, kit: Kit, form: Mapping[str, object]) -> Climb:
    years = replace(value, years=Years(*lift.years), period="")
    return replace(
        climb,
        words=date_words(years, kit.rules.conventions, form),
        look=lift.look,
        minutes=round(lift.minutes),
        found_by="weighing",
    )


def smallest(claim: Claim, step: Step, settled: Settled, looks: Sequence[Look]) -> Lift | None:
    """The smallest look that can lift a rung above the agreed years; None when no look on file can."""
    value = step.value
    if not isinstance(value, DateValue):
        return None
    hung = claim.value.years if isinstance(claim.value, DateValue) else value.years
    lifts = [
        lift
        for rung in rungs(value.years, hung)
        for lift in _lifts(_case(settled, value.years, rung), rung, looks)
    ]
    return min(lifts, default=None)


def rungs(agreed: Years, hung: Years) -> tuple[Years, ...]:
    """Years one rung up: those of the label as hung when they lie inside, and the halves of the agreed years."""
    if agreed.earliest is None or agreed.latest is None or agreed.latest - agreed.earliest < 10:
        return ()
    first, last = agreed.earliest, agreed.latest
    middle = round((first + last) / 2 / 5) * 5
    inside = (
        hung.bounded
        and agreed.holds(hung.earliest or 0)
        and agreed.holds(hung.latest or 0)
        and hung != agreed
    )
    halves = (Years(first, middle), Years(middle, last))
    return (hung, *halves) if inside else halves


def _case(settled: Settled, agreed: Years, rung: Years) -> Case:
    """The object's own case with the rung as its claim, among the agreed years."""
    known = settled.evident.case or case_from((), ())
    among = EvidenceItem(
        id="agreed", sentence="The agreed years.", windows=(agreed,), doubt=1e-6, binding=True
    )
    claim = DatedClaim(id="rung", words="rung", years=rung)
    return replace(known, claims=(claim,), items=(*known.items, among))


def _lifts(case: Case, rung: Years, looks: Sequence[Look]) -> Iterator[Lift]:
    settings = Settings(
        copy_chance=1e-9
    )  # the agreed years already carry what the panel thinks of a later copy
    for value in next_looks(case, tuple(looks), settings, most=len(looks)):
        for find, chance, after in value.finds:
            if chance >= SELDOM and after >= STANDS:
                span = (rung.earliest or 0, rung.latest or 0)
                look = value.look
                said = f"{look.sentence}; to be found: {find}.{f' {look.caution}' if look.caution else ''}"
                yield Lift(look.minutes, -chance, said, span)


def looks_on_file(settled: Settled) -> tuple[Look, ...]:
    """Looks of the object's disciplines that nobody has taken yet."""
    names = list(settled.story.state.disciplines)
    kinds = {
        str(getattr(c.value, "kind", "")) for c in settled.evident.reading.claims if c.side == "material"
    }
    names += ["metalware"] if kinds.intersection(METALS) else []
    taken = {seen.kind for seen in settled.story.observations}
    found = {look.id: look for name in dict.fromkeys(names) for look in looks_for(name)[0]}
    return tuple(look for look in found.values() if look.id.removeprefix("look.") not in taken)
