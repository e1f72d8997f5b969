"""Summing up a fair: rates with their denominators and intervals, coverage, grounds, and cases worth reading."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from planish.errands.intake.listing import stand_order
from planish.errands.opening.wiring import Fair
from planish.errands.panel.checking import facts_of
from planish.errands.panel.evidence import Evident, evident, speaks_of_whole
from planish.errands.telling.recalling import witness
from planish.errands.telling.reporting import coverage, exhibitor, stories
from planish.ledger.story import Story
from planish.reasoning.trending.rates import wilson
from planish.records.papers import Featured, Rate, Report

OUTCOMES = ("accept", "relabel", "remove", "refer")
LIMITS = (
    "An outcome was made for this fair under its rule book; it is no warranty, and a description is the seller’s promise.",
    "Nobody looked inside, under or behind what could not be moved; what was not examined is not the same as sound.",
    "Specialists who search for rare faults miss some of them; a small number found is not a small number there.",
    "Outcomes measure the examination as well as what was brought; a change of rules or panels starts a new count.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One case to show: its story and what was evident."""

    title: str
    words: str
    outcome: str
    sentences: tuple[str, ...]
    story: Story
    seen: Evident
    sources: tuple[str, ...]


def featured(fair: Fair, most: int) -> list[Case]:
    """The cases whose looks say most of a year: made later than claimed first, then clashes, then bounds; as they hung."""
    found = [s for s in stories(fair) if s.observations and s.state.outcome in ("relabel", "remove", "refer")]
    hung = [replace(story, labels=story.labels[:1]) for story in found]
    seen = [(story, evident(story, fair.kit)) for story in hung]
    ranked = sorted(
        seen,
        key=lambda pair: (
            -len(pair[1].too_late),
            -len(pair[1].clashes),
            -_bounds(pair[1]),
            pair[0].listed.id,
        ),
    )
    return [_case(fair, story, what) for story, what in ranked[:most]]


def _bounds(seen: Evident) -> int:
    """How many items bound a year at all."""
    return sum(any(w.earliest or w.latest for w in item.windows) for item in seen.items)


def _case(fair: Fair, story: Story, seen: Evident) -> Case:
    said = [clash.sentence for clash in seen.clashes]
    said += [sentence for one in seen.measured.values() for sentence in one.sentences][:3]
    if seen.weighing is not None and seen.weighing.main is not None and speaks_of_whole(seen):
        said.append(seen.weighing.main.sentence)
    facts = [*facts_of(seen.checked, fair.kit)]
    facts += [f for item in seen.items for i in item.facts if (f := fair.kit.book.look(i).fact) is not None]
    sources = dict.fromkeys(f"{fact.source} ({witness(fact)})" for fact in facts)
    return Case(
        title=f"Stand {story.listed.stand} · No. {story.listed.number}",
        words=seen.checked.listed.text,
        outcome=story.state.outcome,
        sentences=tuple(dict.fromkeys(said))[:5],
        story=story,
        seen=seen,
        sources=tuple(sources)[:5],
    )


def report(fair: Fair, cases: Sequence[Featured], *, day: str) -> Report:
    """The end-of-fair report. `day` is printed as given."""
    found = stories(fair)
    settled = [
        s
        for s in found
        if s.state.outcome in OUTCOMES
        and s.state.examination in ("proposed", "confirmed", "final", "referred")
    ]
    return Report(
        fair=fair.state.name,
        day=day,
        rulebook=f"{fair.rules.id} {fair.rules.version}",
        paragraphs=_paragraphs(fair, found, settled),
        rates=tuple(_rate(outcome, settled) for outcome in OUTCOMES),
        coverage=coverage(found, fair.rules.voting.quorum),
        reasons=_grounds(settled),
        stands=_stands(fair, found),
        featured=tuple(cases),
        sources=tuple(dict.fromkeys(source for case in cases for source in case.sources)),
        limits=LIMITS,
    )


def _paragraphs(fair: Fair, found: Sequence[Story], settled: Sequence[Story]) -> tuple[str, ...]:
    state = fair.state
    asked = sum(1 for s in found if s.label is not None and s.label.version > 1)
    return (
        f"{len(state.panels)} panels, {sum(len(p.members) for p in state.panels.values())} seats, came to an outcome on "
        f"{len(settled)} of {len(found)} objects on {len({s.listed.stand for s in found})} stands. "
        f"Every opinion was locked before anyone talked; a claim stands or falls at {fair.rules.voting.share:.0%} of "
        f"decided opinions with a quorum of {fair.rules.voting.quorum}.",
        f"Other words were asked for {asked} labels. {len(state.cards)} entries were recorded and not applied; "
        f"{len(state.questions)} questions are open.",
    )


def _rate(outcome: str, settled: Sequence[Story]) -> Rate:
    count = sum(1 for s in settled if s.state.outcome == outcome)
    low, high = wilson(count, len(settled)) if settled else (0.0, 1.0)
    return Rate(
        what=f"outcome {outcome}",
        of="objects with an outcome",
        count=count,
        total=len(settled),
        low=low,
        high=high,
    )


def _grounds(settled: Sequence[Story]) -> tuple[tuple[str, int], ...]:
    counts: Counter[str] = Counter()
    for story in settled:
        if story.state.outcome != "accept" and story.outcomes:
            for reason in dict.fromkeys(story.outcomes[0].body.get("reasons", ())):
                counts[str(reason)] += 1
    return tuple(counts.most_common(25))


def _stands(fair: Fair, found: Sequence[Story]) -> tuple[tuple[str, int, int, int, int, int], ...]:
    rows = []
    for stand in sorted({s.listed.stand for s in found}, key=stand_order):
        mine = [s for s in found if s.listed.stand == stand]
        counts = [sum(1 for s in mine if s.state.outcome == outcome) for outcome in OUTCOMES]
        rows.append((f"{stand} {exhibitor(fair, stand)}".strip(), len(mine), *counts))
    return tuple(rows)  # type: ignore[arg-type]
