"""What is weighed: dated claims, evidence items, parts and the order of events; and what came of it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from planish.reasoning.contradicting.order import DEFAULT_CHAIN, making_event
from planish.records import (
    Claim,
    Contradiction,
    DateValue,
    Event,
    EvidenceItem,
    Link,
    Part,
    Problem,
    Years,
    freeze,
)

OF_THE_WHOLE = ("", "body")
"""Names of the thing itself: its body is the whole."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DatedClaim:
    """Years a label claims for one event of one part. `conventions` are the settings that turned words into years."""

    id: str
    words: str
    years: Years
    part: str = ""
    event: Event = "body_made"
    conventions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CasePart:
    """A part with its own making year. `marriage_chance` None takes the setting; `lidded` vessels deserve a higher one."""

    name: str
    marriage_chance: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One object to weigh. The first claim about the making of the whole is the main claim.

    `parts` lists the parts besides the body (the whole is the part with the empty name). `sources` maps ids of items or
    facts to the words that name their source. `looked` are ids of looks already taken.
    """

    id: str = ""
    title: str = ""
    claims: tuple[DatedClaim, ...] = ()
    items: tuple[EvidenceItem, ...] = ()
    parts: tuple[CasePart, ...] = ()
    chain: tuple[Link, ...] = DEFAULT_CHAIN
    sources: Mapping[str, str] = field(default_factory=freeze)
    looked: tuple[str, ...] = ()

    @property
    def main_claim(self) -> DatedClaim | None:
        """The first claim about the making of the whole, or None."""
        return next((c for c in self.claims if c.part == "" and making_event(c.event)), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class EventYears:
    """Posterior over years of one event of one part: `chances[i]` belongs to year `first + i`; they sum to 1.

    `period_chances` is the same if the thing is a period piece. `ranges` is the smallest set of years that holds `share`
    of the chance: more than one span means humps, and no single interval may be printed.
    """

    part: str
    event: str
    first: int
    chances: tuple[float, ...]
    period_chances: tuple[float, ...]
    ranges: tuple[Years, ...]
    period_ranges: tuple[Years, ...]
    share: float
    sentence: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClaimWeight:
    """How far one dated claim stands. `probability` already carries the chance of a later copy; show `band`, not it.

    `lift` is the probability over the claim's share of the prior: 1 means that the evidence did not help. `width` is
    "", "too exact" (widen the words) or "too vague".
    """

    claim: DatedClaim
    probability: float
    if_period_piece: float
    band: str
    lift: float
    width: str
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemWeight:
    """What one item did. `influence` in bans (change of log10 odds of the main claim), `fit` log10(Z / Z without it),
    `doubt` the chance that this item is the one not telling the truth."""

    item: str
    influence: float
    fit: float
    doubt: float
    note: str
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PartWeight:
    """Was the part born with the body? `factor` speaks for one year (± smear) against unrelated years."""

    part: str
    factor: float
    prior_marriage: float
    marriage: float
    band: str
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CopyWeight:
    """Chance of a later copy, and the same with other base rates beside it."""

    probability: float
    band: str
    prior: float
    beside: tuple[tuple[float, float], ...]
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StressLine:
    """The main claim under one changed assumption."""

    assumption: str
    probability: float
    band: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Explanation:
    """One way to read an item that pulls against the claim, with what would follow. The people choose, never the tool."""

    kind: str
    item: str
    sentence: str
    probability: float
    band: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighing:
    """The track of the evidence. When `blocked` is True nothing could be weighed and no figure is given: see `problems`."""

    case: str
    problems: tuple[Problem, ...] = ()
    blocked: bool = False
    claims: tuple[ClaimWeight, ...] = ()
    events: tuple[EventYears, ...] = ()
    items: tuple[ItemWeight, ...] = ()
    parts: tuple[PartWeight, ...] = ()
    copy: CopyWeight | None = None
    coherence: float = 0.0
    pulls_apart: bool = False
    clashes: tuple[Contradiction, ...] = ()
    explanations: tuple[Explanation, ...] = ()
    stress: tuple[StressLine, ...] = ()
    depends_on_assumptions: bool = False
    beside_flat: StressLine | None = None
    defaults: tuple[str, ...] = ()

    @property
    def main(self) -> ClaimWeight | None:
        """The weight of the main claim, or None when there is none or weighing was blocked."""
        return next((c for c in self.claims if c.claim.part == "" and making_event(c.claim.event)), None)


def case_from(
    claims: Iterable[Claim],
    items: Iterable[EvidenceItem],
    *,
    parts: Iterable[Part | CasePart] = (),
    chain: tuple[Link, ...] = DEFAULT_CHAIN,
    id: str = "",
    title: str = "",
    sources: Mapping[str, str] | None = None,
    looked: Iterable[str] = (),
) -> Case:
    """Build a case from what was read and measured. Parts named in claims or in `parts` exist; items must fit them."""
    dated = tuple(
        DatedClaim(
            id=c.id,
            words=c.words,
            years=c.value.years,
            part=c.part,
            event=c.value.event,
            conventions=c.value.conventions,
        )
        for c in claims
        if isinstance(c.value, DateValue) and c.side == "date" and c.strength != "denied"
    )
    known = {
        p.name: p if isinstance(p, CasePart) else CasePart(name=p.name)
        for p in parts
        if p.name not in OF_THE_WHOLE
    }
    for claim in dated:
        if claim.part not in OF_THE_WHOLE:
            known.setdefault(claim.part, CasePart(name=claim.part))
    return Case(
        id=id,
        title=title,
        claims=dated,
        items=tuple(items),
        parts=tuple(known.values()),
        chain=chain,
        sources=freeze(sources),
        looked=tuple(looked),
    )
