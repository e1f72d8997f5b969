"""Like case, like treatment: what was done where the same fault was found, and where it was treated otherwise.

    book = CaseBook.of(fair)                       every fault of every object, as it hung and as it was treated
    book.like(story)                               nearest cases, one an object, with alarms
    book.alarms()                                  every pair of like cases with unlike outcomes, over the whole fair

Two objects are compared by their gravest faults only: a removal for a counterfeit mark says nothing of how a vague
date is treated. Nothing here holds a name, a ballot or a count.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from planish.errands.intake.listing import stand_order
from planish.errands.opening.wiring import Fair
from planish.errands.panel.ballots import covered
from planish.errands.panel.checking import Checked, Fault, check
from planish.errands.panel.evidence import claim_key
from planish.errands.panel.examining import findings
from planish.errands.telling.reporting import Only, anything
from planish.ledger.journal import Draft
from planish.ledger.story import Story
from planish.reasoning.admitting import undisclosed
from planish.reasoning.matching import Case, CaseIndex, LikeCase
from planish.records import Reading
from planish.records.frozen import EMPTY
from planish.records.opinions import Outcome

TREATED: Mapping[str, Outcome] = {
    "accept": "accept",
    "relabel": "relabel",
    "remove": "remove",
    "refer": "refer",
}
FALLEN = 2
"""Severity of a claim that the panel did not carry: correct before opening (house default)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Like:
    """An object that was treated for the same fault. `number` is stand/number; `distance` 0 is the same in every field."""

    object_id: str
    number: str
    words: str
    fault: str
    outcome: str
    reasons: tuple[str, ...]
    distance: float
    alike: tuple[str, ...]
    different: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Unlike:
    """Two like cases with unlike outcomes, in one sentence about the objects. `one` and `other` are object ids."""

    one: str
    other: str
    fault: str
    outcomes: tuple[str, str]
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LikeCases:
    """What was done elsewhere about one object: `faults` it was compared by, in words; nearest first; alarms."""

    object_id: str
    number: str
    words: str
    outcome: str
    faults: tuple[str, ...]
    cases: tuple[Like, ...]
    alarms: tuple[Unlike, ...]


class CaseBook:
    """Every fault of a fair as a structured case. Made once from where everything stands, and then only read."""

    def __init__(
        self,
        found: Iterable[tuple[Story, Sequence[Case]]],
        *,
        earlier: Sequence[Case] = (),
        then: Mapping[str, tuple[str, tuple[str, ...]]] = EMPTY,
    ) -> None:
        held = [(story, tuple(cases)) for story, cases in found]
        self._stories = {story.listed.id: story for story, _ in held}
        self._by_object = {story.listed.id: cases for story, cases in held}
        decided = [case for _, cases in held for case in gravest(cases) if case.outcome is not None]
        self._index = CaseIndex([*decided, *earlier])
        self._earlier_fairs, self._then = bool(earlier), then

    @classmethod
    def of(
        cls,
        fair: Fair,
        *,
        only: Only = anything,
        earlier: Sequence[Case] = (),
        then: Mapping[str, tuple[str, tuple[str, ...]]] = EMPTY,
    ) -> "CaseBook":
        """The cases of a fair. `only` keeps objects that a reader may see; `earlier` are cases of earlier fairs,
        which count only where the rule book allows them, and `then` their words and reasons by case id."""
        kept = [s for s in fair.state.objects.values() if s.state.examination != "withdrawn" and only(s)]
        allowed = earlier if fair.rules.voting.like_cases_from_earlier_fairs else ()
        return cls(((story, cases_of(fair, story)) for story in kept), earlier=allowed, then=then)

    def like(self, story: Story, *, most: int = 5) -> LikeCases:
        """The nearest treated cases to one object, one line an object, and an alarm for each unlike outcome."""
        cases = gravest(self._by_object.get(story.listed.id, ()))
        near: dict[str, tuple[Case, LikeCase]] = {}
        for case in cases:
            asked = replace(case, order=2**62)
            for found in self._index.like_cases(asked, most=3 * most, earlier_fairs=self._earlier_fairs):
                best = near.get(found.case.id)
                if best is None or found.distance < best[1].distance:
                    near[found.case.id] = (case, found)
        ranked = sorted(near.values(), key=lambda pair: (pair[1].distance, pair[1].case.id))[:most]
        return LikeCases(
            object_id=story.listed.id,
            number=_number(story),
            words=_hung(story),
            outcome=_treated(story) or "",
            faults=tuple(dict.fromkeys(case.sentence or case.fault for case in cases)),
            cases=tuple(self._line(found) for _, found in ranked),
            alarms=tuple(u for case, found in ranked if (u := self._unlike(case, found)) is not None),
        )

    def alarms(self, *, most: int = 5) -> tuple[Unlike, ...]:
        """Every pair of like cases with unlike outcomes, each once, in stand order."""
        ordered = sorted(
            self._stories.values(), key=lambda s: (stand_order(s.listed.stand), s.listed.number, s.listed.id)
        )
        pairs: dict[tuple[str, str], Unlike] = {}
        for story in ordered:
            if _treated(story) is None or not self._by_object[story.listed.id]:
                continue
            for unlike in self.like(story, most=most).alarms:
                first, second = sorted((unlike.one, unlike.other))
                pairs.setdefault((first, second), unlike)
        return tuple(pairs.values())

    def _line(self, found: LikeCase) -> Like:
        case = found.case
        story = self._stories.get(case.id)
        words, said = self._then.get(case.id, ("", (case.sentence,) if case.sentence else ()))
        return Like(
            object_id=case.id,
            number=_number(story) if story else f"{case.fair}, {case.stand}",
            words=_hung(story) if story else words,
            fault=case.fault,
            outcome=case.outcome or "",
            reasons=outcome_reasons(story) if story else said,
            distance=found.distance,
            alike=found.alike,
            different=found.different,
        )

    def _unlike(self, case: Case, found: LikeCase) -> Unlike | None:
        other = found.case
        if case.outcome is None or other.outcome == case.outcome:
            return None
        line = self._line(found)
        mine = self._stories[case.id]
        same = ", ".join(words for words in found.alike if not words.startswith(("fault:", "side:")))
        alike = f"{in_words(case.fault)}{'; ' + same if same else ''}"
        differs = f"; differing in {', '.join(found.different)}" if found.different else ""
        return Unlike(
            one=case.id,
            other=other.id,
            fault=case.fault,
            outcomes=(case.outcome, other.outcome or ""),
            sentence=f"{_number(mine)}: {case.outcome}, but {line.number}: {other.outcome} (both {alike}{differs}).",
        )


def cases_of(fair: Fair, story: Story) -> tuple[Case, ...]:
    """The faults of one object as it first hung: of its words, of what was seen and not said, of claims that fell."""
    hung = replace(story.listed, text=_hung(story))
    checked = check(hung, fair.kit)
    named = [
        _case(fair, story, checked, fault) for fault in (*_paper(checked), *_unsaid(fair, story, checked))
    ]
    sides = {case.side for case in named}
    fallen = (_case(fair, story, checked, fault) for fault in _fallen(fair, story, checked.reading))
    return (*named, *(case for case in fallen if case.side not in sides))


def _paper(checked: Checked) -> Iterator[Fault]:
    return (fault for fault in checked.faults if fault.code)


def _unsaid(fair: Fair, story: Story, checked: Checked) -> Iterator[Fault]:
    for answer in undisclosed(checked.reading, story.observations, fair.kit.book, ""):
        yield Fault(
            code=answer.fault, severity=answer.severity, sentence=answer.sentence, claims=answer.claims
        )


def _fallen(fair: Fair, story: Story, reading: Reading) -> Iterator[Fault]:
    """Claims that the panel did not carry: that they fell, never by how many. Used where no other fault has a name."""
    if _treated(story) is None or covered(story):
        return
    by_key = {claim_key(claim): claim for claim in reading.claims}
    for finding in findings(fair, story):
        claim = by_key.get(finding.claim)
        if finding.answer == "falls" and claim is not None:
            said = f"The panel did not carry “{claim.words}”."
            yield Fault(code=f"{claim.side}.not_carried", severity=FALLEN, sentence=said, claims=(claim.id,))


def _case(fair: Fair, story: Story, checked: Checked, fault: Fault) -> Case:
    return as_case(
        checked,
        fault,
        id=story.listed.id,
        fair=fair.state.id,
        stand=story.listed.stand,
        order=story.outcomes[-1].n if story.outcomes else 0,
        outcome=_treated(story),
        disciplines=story.state.disciplines,
    )


def as_case(
    checked: Checked,
    fault: Fault,
    *,
    id: str,
    fair: str,
    stand: str,
    order: int = 0,
    outcome: Outcome | None,
    disciplines: Sequence[str] = (),
) -> Case:
    """One fault of a label as a case: what the label claims beside it, and how it was treated."""
    reading = checked.reading
    claim = next((c for c in reading.claims if c.id in fault.claims), None)
    years = [y for y in (reading.years.earliest, reading.years.latest) if y is not None]
    return Case(
        id=id,
        fair=fair,
        stand=stand,
        order=order,
        outcome=outcome,
        fault=fault.code,
        side=claim.side if claim else fault.code.partition(".")[0],
        discipline=next(iter(disciplines), ""),
        material=next(iter(reading.materials), ""),
        part=claim.part if claim else "",
        kind=next(iter(reading.object_types), ""),
        severity=fault.severity,
        year=sum(years) // len(years) if years else None,
        clause=fault.clause,
        sentence=fault.sentence,
    )


def gravest(cases: Sequence[Case]) -> tuple[Case, ...]:
    """The cases of one object that weigh most: by these alone it is compared."""
    worst = min((case.severity or 4 for case in cases), default=4)
    return tuple(case for case in cases if (case.severity or 4) == worst)


def _treated(story: Story) -> Outcome | None:
    """The outcome on record, None while the panel has still to come to one."""
    return TREATED.get(story.state.outcome) if story.outcomes else None


def outcome_reasons(story: Story) -> tuple[str, ...]:
    """The reasons on record for the outcome in force."""
    found = (tuple(map(str, event.body.get("reasons", ()))) for event in reversed(story.outcomes))
    return next((reasons for reasons in found if reasons), ())


def in_words(fault: str) -> str:
    """A fault's word as a person reads it: "date.too_vague" → "date: too vague"."""
    return fault.replace(".", ": ").replace("_", " ")


def _number(story: Story) -> str:
    return f"{story.listed.stand}/{story.listed.number or story.listed.id}"


def _hung(story: Story) -> str:
    """The words as they hung when the panel looked: the first label, else the list's."""
    first = story.labels[0].text if story.labels else ""
    return first or story.listed.text


def note(fair: Fair, unlike: Unlike, *, who: str) -> None:
    """Write down that two like cases had unlike outcomes, for the chair's list."""
    body = {"like": unlike.other, "why": unlike.sentence}
    fair.record([Draft(kind="like_case.noted", sub=unlike.one, who=who, body=body)])
