"""What a look at the object says against a word or a figure of its label: another metal, another size, weight or capacity.

Years are weighed elsewhere; here the label is held against the thing itself. A word of metal is questioned only by a
reading of bare metal, and only when the reading meets a written rule of the discipline pack with near certainty.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from planish.facts.book import FactBook
from planish.reasoning.measuring import Settings
from planish.reasoning.measuring.composition import chance_of, readings
from planish.reasoning.measuring.elements import called
from planish.reasoning.measuring.figures import checked, place
from planish.reasoning.measuring.reading_facts import ranges, text
from planish.reasoning.measuring.sizes import ROLES as SIZES
from planish.reasoning.measuring.surfaces import Surface, surface_of
from planish.records import (
    Claim,
    Contradiction,
    Fact,
    MeasureValue,
    Observation,
    Problem,
    Quantity,
    Reading,
    TermValue,
)
from planish.records.problems import Severity

SURE = 0.95
"""Chance from which a reading questions a word (house default)."""
SLACK = 0.02
"""Share by which a label's figure may differ before it is questioned (house default): scales and spouts differ."""
SIGMAS = 2.0
"""Standard uncertainties of the measurement added to that slack (house default)."""
ROUNDED = 3.0
"""mm let pass besides: sizes on labels are rounded to half a centimetre or an eighth of an inch."""
MAIN = 2.0
"""wt% from which a metal is named in the sentence."""
REST = 3.0
"""wt% that a reading may leave open and still be taken as full."""
NAMES = {"weight": ("weight", "air"), "capacity": ("capacity", "volume")}
"""What a look calls the figure of a role; a size is called as its role."""
READS = {"weight": ("weight", "density"), "capacity": ("capacity",)}
"""Kinds of look that hold a figure of a role; a size stands in looks of that kind."""
UNIT = {"weight": "g", "capacity": "ml"}
VERBS = {"weight": "it weighs", "capacity": "it holds"}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    observation: Observation
    metals: dict[str, Quantity]
    surface: Surface


def against_looks(
    reading: Reading, observations: Sequence[Observation], book: FactBook, settings: Settings | None = None
) -> tuple[Contradiction, ...]:
    """Every word of metal, size, weight or capacity of the label that a look speaks against, worst first.

    Looks of another part than the claim's say nothing about it; a look that cannot be read says nothing at all.
    """
    settings = settings or Settings()
    clashes = [*_metals(reading, observations, book, settings), *_figures(reading, observations)]
    return tuple(sorted(clashes, key=lambda clash: (clash.severity, clash.id)))


# --- metals --------------------------------------------------------------------------------------------------------


def _metals(
    reading: Reading, observations: Sequence[Observation], book: FactBook, settings: Settings
) -> Iterator[Contradiction]:
    said = [c for c in reading.claims if c.side == "material" and c.strength != "denied"]
    found = list(_bare(observations, settings)) if said else []
    if not found:
        return
    rules = book.family("metal_word")
    for claim in said:
        mine = [one for one in found if one.observation.part == claim.part]
        for rule in _bearing(rules, claim):
            against = [
                one for one in mine if chance_of(rule, _with_the_rest(one.metals, rule), frozenset()) >= SURE
            ]
            if against:
                yield _of_metal(claim, rule, against, [one for one in mine if one not in against])
                break


def _bare(observations: Iterable[Observation], settings: Settings) -> Iterator[_Found]:
    """Readings of bare metal: a coat, a patina or solder says nothing of the metal beneath."""
    for seen in observations:
        surface = surface_of(seen)
        if seen.kind != "composition" or surface.covered:
            continue
        metals, problems = readings(seen, settings)
        if metals and not problems:
            yield _Found(observation=seen, metals=metals, surface=surface)


def _bearing(rules: Sequence[Fact], claim: Claim) -> Iterator[Fact]:
    if not isinstance(claim.value, TermValue):
        return
    term = claim.value.term.casefold()
    for rule in rules:
        words = rule.more.get("words", ())
        if isinstance(words, Sequence) and term in {str(word).casefold() for word in words}:
            yield rule


def _with_the_rest(metals: dict[str, Quantity], rule: Fact) -> dict[str, Quantity]:
    """Metals of the rule that a nearly full reading does not report are there at most for what is left of 100 %."""
    left = 100.0 - math.fsum(q.amount for q in metals.values())
    if left > REST:
        return metals
    absent = Quantity(0.0, "wt%", max(0.3, left))
    return {**{metal: absent for metal in ranges(rule, "when")}, **metals}


def _of_metal(
    claim: Claim, rule: Fact, against: Sequence[_Found], otherwise: Sequence[_Found]
) -> Contradiction:
    spots = sum(one.surface.spots for one in against)
    says = text(rule, "says")
    ways = (
        f"the metal is {says}: say so",
        "the reading is not of the metal meant: read another bare spot away from solder and repairs",
    )
    clean = min(one.surface.steps for one in against) == 0
    weak = "" if clean or spots > 1 else " It is one spot; a second would settle it."
    mixed = " Another reading of the same part does not say so." if otherwise else ""
    return Contradiction(
        id=f"looks.{rule.id}.{claim.id}",
        sentence=(
            f"The label says “{claim.words}”; the metal was read as {_in_words(against[0].metals)}: {says}. "
            f"Either {', or '.join(ways)}.{weak}{mixed} {rule.statement}"
        ),
        claims=(claim.id,),
        facts=(rule.id,),
        observations=tuple(one.observation.id for one in against),
        ways_out=ways,
        hard=False,
        fault=text(rule, "fault"),
        severity=_severity(rule),
    )


def _in_words(metals: dict[str, Quantity]) -> str:
    named = sorted((m for m in metals if metals[m].amount >= MAIN), key=lambda m: -metals[m].amount)
    return ", ".join(f"{metals[m].amount:.0f} % {called(m)}" for m in named)


def _severity(rule: Fact) -> Severity:
    given = rule.more.get("severity", 3)
    return 2 if given == 2 else 1 if given == 1 else 4 if given == 4 else 3


# --- figures -------------------------------------------------------------------------------------------------------


def _figures(reading: Reading, observations: Sequence[Observation]) -> Iterator[Contradiction]:
    for claim in reading.claims:
        value = claim.value
        if (
            not isinstance(value, MeasureValue)
            or value.role not in (*READS, *SIZES)
            or claim.strength == "denied"
        ):
            continue
        for seen in observations:
            if seen.part != claim.part or (now := _measured(seen, value.role)) is None:
                continue
            if clash := _of_figure(claim, value, seen, now):
                yield clash
                break


def _measured(seen: Observation, role: str) -> Quantity | None:
    """The figure of a role in g, ml or mm; weighings for a density or an engraved weight count too."""
    if seen.kind not in READS.get(role, ("size",)):
        return None
    given = next((seen.values[name] for name in NAMES.get(role, (role,)) if name in seen.values), None)
    if given is None:
        return None
    found = checked(role.capitalize(), given, UNIT.get(role, "mm"), place(seen), least=0.0)
    return None if isinstance(found, Problem) or found.amount <= 0 else found


def _of_figure(claim: Claim, value: MeasureValue, seen: Observation, now: Quantity) -> Contradiction | None:
    sizes = [(value.amount, value.unit), *((amount, unit) for amount, unit, _ in value.readings)]
    unit = UNIT.get(value.role, "mm")
    slack = SLACK * (5 if value.approximate else 1)
    least = SIGMAS * now.uncertainty + (ROUNDED if unit == "mm" else 0.0)
    fits = any(abs(amount - now.amount) <= slack * amount + least for amount, _ in sizes)
    if fits or any(amount <= 0 or not math.isfinite(amount) for amount, _ in sizes):
        return None
    found = f"{VERBS.get(value.role, f'its {value.role} is')} {_amount(now)}"
    ways = (f"{found}: say so", f"the {value.role} was taken otherwise: say how")
    return Contradiction(
        id=f"looks.{value.role}.{claim.id}",
        sentence=(
            f"The label says “{claim.words.rstrip('.')}”; measured here, {found}. Either {', or '.join(ways)}. "
            f"Differences up to {slack:.0%} are let pass (house default)."
        ),
        claims=(claim.id,),
        observations=(seen.id,),
        ways_out=ways,
        hard=False,
        fault=f"measure.{value.role}_differs",
        severity=3,
    )


def _amount(now: Quantity) -> str:
    if now.unit == "mm" and now.amount >= 10:
        return f"{now.amount / 10:.1f}".removesuffix(".0") + " cm"
    return f"{now.amount:.0f} {now.unit}"
