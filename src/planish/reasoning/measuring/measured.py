"""The answer of an instrument, and the house settings every instrument takes as an argument."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from planish.records import EvidenceItem, Fact, Observation, Problem, Years, freeze
from planish.records.evidence import Event
from planish.records.frozen import EMPTY

Strength = Literal["decisive", "strong", "moderate", "weak"]
LADDER: tuple[Strength, ...] = ("decisive", "strong", "moderate", "weak")


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """House defaults, named so that they can be changed and printed. None is a finding.

    Doubts are the chance that one item does not tell the truth about its event (docs/measuring.md says where each
    comes from). Ratios turn a strength in words into a likelihood ratio of inside to outside the window.
    """

    doubt_technique: float = 0.015
    doubt_alloy: float = 0.05
    doubt_alloy_instrument: float = 0.02
    doubt_capacity: float = 0.05
    doubt_mark: float = 0.05
    doubt_soft_mark: float = 0.15
    """For wordings whose first year is a rule of thumb."""
    doubt_pseudo_mark: float = 0.5
    doubt_condition: float = 0.1
    ratio_weak: float = 3.0
    ratio_moderate: float = 30.0
    ratio_strong: float = 300.0
    grid_first: int = 1400
    grid_last: int = 2030
    sigmas: float = 2.0
    """How many standard uncertainties still count as fitting."""
    xrf_relative: float = 0.05
    """Relative uncertainty taken for a reading given without one (repeats of hand-held sets agree to about 5 %)."""
    xrf_least: float = 0.05
    """Least uncertainty, wt%, taken for a reading given without one."""
    impurity: float = 1.0
    """wt% of an element that a class does not name and old metal may still hold."""
    recipe_spread: float = 1.0
    """wt% by which metal cast to a single recipe may miss it."""
    scale_g: float = 0.1
    """Uncertainty, g, of a weighing given without one."""
    thermometer_c: float = 0.5
    """Uncertainty, degC, of a water temperature given without one."""
    handbook_relative: float = 0.003
    """Spread of printed handbook densities of one alloy."""
    vessel_scatter: float = 0.02
    """Relative scatter of real vessels about their standard (two of these are the 4 % of the fact book)."""
    capacity_relative: float = 0.005
    """Relative uncertainty of a capacity given without one."""
    pitch_tolerance: float = 0.015
    major_wear: float = 0.03
    """Share by which a worn screw may read small over the crests."""
    major_excess: float = 0.005
    angle_tolerance: float = 1.5
    register_slack: float = 0.01
    """A registered number within this share of a year's first number may belong to either year."""
    odd_level: float = 0.05
    """Chance of a false alarm accepted when one member of a set is called odd."""
    weight_loss: float = 0.05
    """Share of weight that polishing and wear may take from an engraved weight."""
    weight_gain: float = 0.005


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What one look says: items for weighing, sentences for people, what is wrong with the input, what to beware of.

    `details` holds the figures behind the sentences by plain names, among them `settings`: the house defaults used.
    """

    items: tuple[EvidenceItem, ...] = ()
    sentences: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
    cautions: tuple[str, ...] = ()
    details: Mapping[str, object] = field(default_factory=lambda: EMPTY)

    @property
    def facts(self) -> tuple[str, ...]:
        """Ids of every fact the items and sentences rest on, in order, each once."""
        said = self.details.get("facts", ())
        spoken = said if isinstance(said, tuple) else ()
        return tuple(dict.fromkeys([*(fact for item in self.items for fact in item.facts), *spoken]))


def refused(*problems: Problem) -> Measured:
    """An answer that holds problems and no figure."""
    return Measured(problems=problems)


def used(settings: Settings, *names: str) -> Mapping[str, object]:
    """The named house defaults with their values, for `details["settings"]`."""
    return freeze({name: getattr(settings, name) for name in names})


def lower(strength: Strength, steps: int) -> Strength | None:
    """The strength `steps` rungs down the ladder; None when nothing is left."""
    place = LADDER.index(strength) + steps
    return LADDER[place] if place < len(LADDER) else None


def weaker(first: Strength, second: Strength) -> Strength:
    """The weaker of two strengths."""
    return max(first, second, key=LADDER.index)


def window_share(windows: Iterable[Years], settings: Settings) -> float:
    """Share of the year grid that the union of `windows` covers, 0..1."""
    first, last = settings.grid_first, settings.grid_last
    years: set[int] = set()
    for span in windows:
        start = first if span.earliest is None else max(first, span.earliest)
        end = last if span.latest is None else min(last, span.latest)
        years.update(range(start, end + 1))
    return len(years) / (last - first + 1)


def doubt_of(strength: Strength, windows: tuple[Years, ...], least: float, settings: Settings) -> float:
    """The doubt that gives `windows` the likelihood ratio of a strength in words, never below `least`.

    With a flat prior and a window of share F, inside to outside is ((1-e)/F + e)/e = R, so e = 1/(F(R-1) + 1).
    """
    if strength == "decisive":
        return min(least, settings.doubt_technique)
    ratio = {
        "strong": settings.ratio_strong,
        "moderate": settings.ratio_moderate,
        "weak": settings.ratio_weak,
    }[strength]
    share = window_share(windows, settings)
    return max(least, 1.0 / (share * (ratio - 1.0) + 1.0))


def item_from(
    fact: Fact,
    observation: Observation,
    *,
    sentence: str,
    event: Event,
    windows: tuple[Years, ...],
    doubt: float,
    strength: Strength,
    group: str,
    binding: bool = False,
    hard: bool = False,
    within_group: float = 0.5,
    more_facts: tuple[str, ...] = (),
    limits: tuple[str, ...] = (),
    part: str | None = None,
) -> EvidenceItem:
    """One evidence item that rests on one fact and one observation; the fact's caveats become its limits.

    `part` overrides the observation's: what bounds a part must never fall on the whole for want of a name.
    """
    return EvidenceItem(
        id=f"{observation.id}:{fact.id}:{event}",
        sentence=sentence,
        part=observation.part if part is None else part,
        event=event,
        windows=windows,
        doubt=round(doubt, 6),
        strength=strength,
        group=group,
        within_group=within_group,
        binding=binding,
        hard=hard,
        facts=(fact.id, *(i for i in more_facts if i != fact.id)),
        observations=(observation.id,),
        limits=tuple(dict.fromkeys((*limits, *fact.caveats))),
    )


def part_named(observation: Observation, otherwise: str) -> str:
    """The part of an observation; `otherwise` when it names none or the body, so that a screw never dates the body."""
    return otherwise if observation.part in ("", "body") else observation.part


def span_in_words(years: Years) -> str:
    """A span as people say it: "not before 1841", "1697 to 1825"."""
    if years.earliest is None and years.latest is None:
        return "no bound"
    if years.latest is None:
        return f"not before {years.earliest}"
    if years.earliest is None:
        return f"not after {years.latest}"
    if years.earliest == years.latest:
        return str(years.earliest)
    return f"{years.earliest} to {years.latest}"


def merged(windows: Iterable[Years]) -> tuple[Years, ...]:
    """The union of spans as the fewest spans, in order; spans that touch (1825, 1826) become one."""
    low = -(10**6)
    high = 10**6
    ends = sorted(
        (low if w.earliest is None else w.earliest, high if w.latest is None else w.latest) for w in windows
    )
    joined: list[list[int]] = []
    for start, end in ends:
        if joined and start <= joined[-1][1] + 1:
            joined[-1][1] = max(joined[-1][1], end)
        else:
            joined.append([start, end])
    return tuple(Years(None if a == low else a, None if b == high else b) for a, b in joined)
