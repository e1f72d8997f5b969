"""Owning up: what a label must say of condition, from what the opinions found and what was seen at the table."""

from collections.abc import Iterable, Sequence

from planish.errands.opening.wiring import Kit
from planish.errands.panel.examining import Settled
from planish.reasoning.admitting import undisclosed
from planish.reasoning.wording import disclosure_words
from planish.records import Claim, Disclosure, Fact, Ground

MUST_SAY = 2
"""Condition findings of this severity or more must stand in the label (house default)."""
CHANGED_BY_HAND = ("decoration", "technique", "surface")


def disclosures(settled: Settled, kit: Kit) -> tuple[Disclosure, ...]:
    """What the label must say, each once: found by the opinions at a severity that must be said, or seen and not told."""
    found: dict[tuple[str, str], Disclosure] = {}
    for one in (*_from_findings(settled, kit), *_from_looks(settled, kit)):
        found.setdefault((one.words, one.part), one)
    return tuple(found.values())


def in_place(must_say: Sequence[Disclosure], claims: Sequence[Claim]) -> tuple[Ground, ...]:
    """Where a word of the label falls that the disclosure only qualifies, it stands there: "later engraved" for "engraved"."""
    return tuple(
        Ground(
            claim=claim.id,
            kind="finding",
            ref=one.ref,
            sentence=one.sentence,
            keeps_out=False,
            instead=one.words,
        )
        for one in must_say
        for claim in claims
        if claim.side in CHANGED_BY_HAND and one.words.casefold().endswith(f" {claim.words.casefold()}")
    )


def _from_findings(settled: Settled, kit: Kit) -> Iterable[Disclosure]:
    for summary in settled.settlement.conditions:
        if summary.highest is not None and summary.highest >= MUST_SAY:
            yield from _disclosure(_term(kit, summary.term), summary.term, summary.part)


def _from_looks(settled: Settled, kit: Kit) -> Iterable[Disclosure]:
    """Settled terms that somebody saw and the label does not tell of."""
    for seen in settled.story.observations:
        for answer in undisclosed(settled.evident.reading, [seen], kit.book):
            yield from _disclosure(_term(kit, answer.facts[0]), answer.facts[0], seen.part)


def _disclosure(fact: Fact | None, term: str, part: str) -> Iterable[Disclosure]:
    template = str(fact.more.get("disclose", "")) if fact is not None else term
    words = disclosure_words(template, part)
    if not words:
        return
    told_by = fact.more.get("told_by", ()) if fact is not None else ()
    name = str(fact.more.get("term", term)) if fact is not None else term
    yield Disclosure(
        words=words,
        part=part,
        ref=fact.id if fact is not None else "",
        sentence=f"{name} was found{' on the ' + part if part else ''}.",
        told_by=tuple(str(word) for word in told_by) if isinstance(told_by, (list, tuple)) else (),
    )


def _term(kit: Kit, word: str) -> Fact | None:
    answer = kit.book.look(word)
    if answer.fact is not None:
        return answer.fact
    for fact in kit.book.family("condition_term"):
        if str(fact.more.get("term", "")).casefold() == word.casefold():
            return fact
    return None
