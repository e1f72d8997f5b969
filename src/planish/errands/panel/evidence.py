"""Evidence of one object: its label as read, its observations measured, what they weigh, what cannot all be true.

Derived from the log and the packs, recomputed at will; nothing of it is stored.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from planish.errands.opening.wiring import Kit
from planish.errands.panel.checking import Checked, check
from planish.ledger.story import Story
from planish.reasoning.admitting import undisclosed
from planish.reasoning.contradicting import against_looks, claim_as_item, smallest_clashes
from planish.reasoning.measuring import Measured, measure
from planish.reasoning.weighing import Case, CasePart, Weighing, case_from, weigh
from planish.records import (
    Claim,
    ClauseAnswer,
    Contradiction,
    DateValue,
    EvidenceItem,
    ListedObject,
    Reading,
    Side,
)

LAST_YEAR = 2030
BORN_WITH_IT = 0.02
"""Chance that a part said to be original is not (house default)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Evident:
    """What one object's paper and looks say together.

    `clashes` are contradictions between label, observations and facts; `binding` the ids of those that are physical,
    hard and name a claim of the label: they take accept off the table. `undisclosed` is what was seen and the label
    does not say; `too_late` are items made wholly after the years that the label claims.
    """

    checked: Checked
    measured: Mapping[str, Measured]
    items: tuple[EvidenceItem, ...]
    clashes: tuple[Contradiction, ...]
    binding: tuple[str, ...]
    undisclosed: tuple[ClauseAnswer, ...]
    too_late: tuple[EvidenceItem, ...]
    case: Case | None
    weighing: Weighing | None

    @property
    def reading(self) -> Reading:
        """The label as read."""
        return self.checked.reading


def claim_key(claim: Claim) -> str:
    """How a ballot names a claim: side, part and words, so that it means the same when the label is read again."""
    part = f"{claim.part}." if claim.part else ""
    return f"{part}{claim.side}: {claim.words}"


def unsaid_key(side: Side) -> str:
    """How a ballot names what the label does not say and should: "place: not said"."""
    return f"{side}: not said"


def evident(story: Story, kit: Kit) -> Evident:
    """Read, measure, weigh and hold against one another everything on file about one object."""
    checked = check(as_hung(story), kit)
    measured = {seen.id: measure(seen, kit.book) for seen in story.observations}
    items = tuple(item for one in measured.values() for item in one.items)
    clashes = (
        *_clashes(checked.reading.claims, items, kit),
        *against_looks(checked.reading, story.observations, kit.book),
    )
    case = _case(story, checked.reading, items, kit) if items else None
    return Evident(
        checked=checked,
        measured=measured,
        items=items,
        clashes=clashes,
        binding=tuple(c.id for c in clashes if _binds(c, items)),
        undisclosed=undisclosed(checked.reading, story.observations, kit.book, _disclosure_clause(kit)),
        too_late=tuple(item for item in items if _later_than_claimed(item, checked.reading)),
        case=case,
        weighing=weigh(case) if case is not None else None,
    )


def as_hung(story: Story) -> ListedObject:
    """The object with the words of its newest label."""
    label = story.label
    return replace(story.listed, text=label.text) if label and label.text else story.listed


def _clashes(claims: Sequence[Claim], items: Sequence[EvidenceItem], kit: Kit) -> tuple[Contradiction, ...]:
    hard = [item for item in items if item.hard and item.windows]
    said = [
        claim_as_item(c.id, c.words, c.value.years, part=c.part, event=c.value.event)
        for c in claims
        if isinstance(c.value, DateValue) and c.side == "date" and c.strength != "denied"
    ]
    found = smallest_clashes([*said, *hard], sources=_sources(hard, kit))
    return tuple(clash for clash in found if clash.claims)


def _disclosure_clause(kit: Kit) -> str:
    """The clause of the rule book that asks for disclosure; empty when it has none."""
    return next((clause.number for clause in kit.rules.clauses if clause.check == "disclosure"), "")


def _later_than_claimed(item: EvidenceItem, reading: Reading) -> bool:
    """True for a thing made wholly after the years that the label claims, of whichever part."""
    claimed = reading.years
    made = item.event in ("body_made", "part_made", "finish_applied") and bool(item.windows)
    return (
        made and claimed.latest is not None and all(claimed.wholly_before(window) for window in item.windows)
    )


def _sources(items: Sequence[EvidenceItem], kit: Kit) -> dict[str, str]:
    ids = {fact for item in items for fact in item.facts}
    answers = ((fact, kit.book.look(fact).fact) for fact in ids)
    return {fact_id: str(fact.source) for fact_id, fact in answers if fact is not None}


def _binds(clash: Contradiction, items: Sequence[EvidenceItem]) -> bool:
    binding = {item.id for item in items if item.binding and item.hard}
    return bool(binding.intersection(clash.items))


def _case(story: Story, reading: Reading, items: Sequence[EvidenceItem], kit: Kit) -> Case:
    """Parts are those that an observation or an item of evidence speaks of: nothing falls on a part that is not there.

    A part dates the whole only when a specialist has said that it is original to the object; until then its years are
    its own, since a dated screw bounds the screw.
    """
    named = dict.fromkeys(
        [
            *(seen.part for seen in story.observations if seen.part),
            *(item.part for item in items if item.part),
        ]
    )
    original = {seen.part for seen in story.observations if seen.original is True}
    return case_from(
        reading.claims,
        items,
        parts=[
            CasePart(name=name, marriage_chance=BORN_WITH_IT if name in original else 1.0) for name in named
        ],
        id=story.listed.id,
        title=story.listed.text[:60],
        sources=_sources(items, kit),
        looked=tuple(seen.kind for seen in story.observations),
    )


def speaks_of_whole(seen: Evident) -> bool:
    """True when something seen bounds the year in which the whole, or a part said to be original to it, was made."""
    if seen.case is None:
        return False
    joined = {"", *(part.name for part in seen.case.parts if part.marriage_chance != 1.0)}
    return any(item.part in joined and _bounds_making(item) for item in seen.items)


def _bounds_making(item: EvidenceItem) -> bool:
    """A later event bounds the making from above only: an undated repair says nothing of it."""
    if item.event in ("body_made", "part_made"):
        return bool(item.curve) or any(w.earliest is not None or w.latest is not None for w in item.windows)
    return any(w.latest is not None and w.latest < LAST_YEAR for w in item.windows)
