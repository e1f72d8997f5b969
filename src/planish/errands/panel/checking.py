"""Checking labels: what each claims, which clauses it meets, which dated facts it breaks, who must see it.

The same at the fair and at home: nothing here needs a ledger.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from planish.errands.opening.wiring import Kit
from planish.reasoning.admitting import admit
from planish.reasoning.contradicting.label_facts import against_facts
from planish.reasoning.contradicting.saying import either
from planish.reasoning.reading import read
from planish.reasoning.routing import route
from planish.records import ClauseAnswer, Contradiction, Fact, ListedObject, Problem, Reading, Route

ASKED = ("law.", "material.paper_due")
"""Codes of what a label cannot answer by itself and its owner has to: papers, and questions of law."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing a label gets wrong: the fault's word, how bad, why in one sentence, the way out, where it comes from.

    `asks` marks a question instead: nothing on the label is wrong, but the law or a clause wants a paper or its number.
    `instead` gives exact words for a claim where the remedy has them, as (claim id, words).
    """

    code: str
    severity: int
    sentence: str
    remedy: str = ""
    clause: str = ""
    claims: tuple[str, ...] = ()
    facts: tuple[str, ...] = ()
    asks: bool = False
    instead: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """One listed object, read and held against the rule book and the fact book."""

    listed: ListedObject
    reading: Reading
    route: Route
    answers: tuple[ClauseAnswer, ...]
    clashes: tuple[Contradiction, ...]

    @property
    def faults(self) -> tuple[Fault, ...]:
        """Broken clauses, questions of law and papers, contradictions, worst first; problems of reading after them."""
        found = [
            *_from_clauses(self.answers),
            *_from_clashes(self.clashes),
            *_from_problems(self.reading.problems),
        ]
        best: dict[tuple[str, str], Fault] = {}
        for fault in sorted(found, key=lambda one: (not one.clause, one.severity)):
            best.setdefault((fault.code, fault.sentence), fault)
        return tuple(sorted(best.values(), key=lambda fault: fault.severity))


def check(listed: ListedObject, kit: Kit) -> Checked:
    """Check one listed object against `kit`'s rules and facts."""
    reading = read(listed.text, words=kit.words, conventions=kit.rules.conventions)
    where = route(listed, reading, kit.disciplines)
    return Checked(
        listed=listed,
        reading=reading,
        route=where,
        answers=admit(listed, reading, rules=kit.rules, book=kit.book, discipline=where.lead),
        clashes=against_facts(reading, kit.book),
    )


def check_all(objects: Iterable[ListedObject], kit: Kit) -> Iterator[Checked]:
    """Check many, one after another, so that a door can show how far it is."""
    return (check(listed, kit) for listed in objects)


def suggested(checked: Checked, kit: Kit) -> str:
    """The label with the exact words of its remedies put in; empty when none gives any, when words are no way out, and
    when the new words would contradict themselves or break what the old ones kept.
    """
    faults = checked.faults
    if any(fault.severity == 1 for fault in faults):
        return ""
    spans = {claim.id: claim.span for claim in checked.reading.claims}
    swaps = {spans[claim]: words for fault in faults for claim, words in fault.instead if claim in spans}
    label, before = checked.listed.text, len(checked.listed.text)
    for span in sorted(swaps, reverse=True):
        if span.end <= before:
            label, before = label[: span.start] + swaps[span] + label[span.end :], span.start
    return label if swaps and _is_better(label, checked, kit) else ""


def _is_better(label: str, checked: Checked, kit: Kit) -> bool:
    left = check(replace(checked.listed, text=label), kit).faults
    known = {fault.code for fault in checked.faults}
    return all(fault.code in known and len(fault.claims) < 2 for fault in left)


def facts_of(checked: Checked, kit: Kit) -> tuple[Fact, ...]:
    """The facts that the faults of one label lean on, each once, in the order of the faults."""
    ids = dict.fromkeys(fact for fault in checked.faults for fact in fault.facts)
    answers = (kit.book.look(fact) for fact in ids)
    return tuple(answer.fact for answer in answers if answer.fact is not None)


def _from_clauses(answers: Iterable[ClauseAnswer]) -> Iterator[Fault]:
    for answer in answers:
        asks = answer.answer == "cannot_tell" and answer.fault.startswith(ASKED)
        if answer.answer == "broken" or asks:
            yield Fault(
                code=answer.fault,
                severity=answer.severity,
                sentence=answer.sentence,
                remedy=answer.remedy,
                clause=answer.clause,
                claims=answer.claims,
                facts=answer.facts,
                asks=asks,
                instead=answer.instead,
            )


def _from_clashes(clashes: Iterable[Contradiction]) -> Iterator[Fault]:
    for clash in clashes:
        yield Fault(
            code=clash.fault or "contradiction",
            severity=clash.severity,
            sentence=clash.sentence,
            remedy=either(clash.ways_out),
            claims=clash.claims,
            facts=clash.facts,
        )


def _from_problems(problems: Iterable[Problem]) -> Iterator[Fault]:
    for problem in problems:
        yield Fault(
            code=problem.code or "reading",
            severity=problem.severity,
            sentence=problem.what,
            remedy=problem.remedy,
        )
