"""Small pieces of an answer that hang on no reader: facts, claims, faults, clashes, word changes."""

from collections.abc import Iterable, Sequence
from datetime import UTC, datetime

from planish.doors.papers.underlined import says
from planish.doors.web import views
from planish.errands.opening.serving import Desk
from planish.errands.panel.checking import Fault
from planish.errands.panel.evidence import claim_key
from planish.errands.telling.recalling import witness, years_in_words
from planish.records import Contradiction, Fact, Problem, Reading, WordChange

URGENCY = {1: "off the stand now", 2: "before the opening", 3: "today", 4: "advice"}
ASKS = "a question, before the opening"


def at_words(ms: int) -> str:
    """A time as ISO 8601 in UTC."""
    return datetime.fromtimestamp(ms / 1000, UTC).isoformat(timespec="seconds")


def fact_shown(fact: Fact) -> views.FactShown:
    """A fact with its witness."""
    return views.FactShown(
        id=fact.id,
        statement=fact.statement,
        years=years_in_words(fact),
        earliest=fact.years.earliest,
        latest=fact.years.latest,
        bounds=fact.bounds,
        use=fact.use,
        hardness=fact.hardness,
        source=str(fact.source),
        verified=fact.verified,
        witness=witness(fact),
        family=fact.family,
        jurisdiction=fact.jurisdiction,
        caveats=list(fact.caveats),
    )


def facts_shown(ids: Iterable[str], desk: Desk) -> list[views.FactShown]:
    """Facts by id, each once."""
    found = (desk.fair.kit.book.look(one).fact for one in dict.fromkeys(ids))
    return [fact_shown(fact) for fact in found if fact is not None]


def odd(problem: Problem) -> views.OddCell:
    """A problem among others."""
    return views.OddCell(
        code=problem.code,
        severity=problem.severity,
        where=problem.where,
        what=problem.what,
        why=problem.why,
        remedy=problem.remedy,
        found=problem.found[:300],
    )


def changes_shown(changes: Iterable[WordChange]) -> list[views.WordChangeShown]:
    """Word by word."""
    return [views.WordChangeShown(kind=one.kind, words=one.words) for one in changes]


def claims_shown(reading: Reading) -> list[views.ClaimShown]:
    """Claims in the order in which they stand."""
    return [
        views.ClaimShown(
            id=claim.id,
            key=claim_key(claim),
            side=claim.side,
            words=claim.words,
            start=claim.span.start,
            end=claim.span.end,
            says=says(claim),
            part=claim.part,
            strength=claim.strength,
        )
        for claim in sorted(reading.claims, key=lambda one: one.span)
    ]


def unread_shown(reading: Reading) -> list[views.UnreadShown]:
    """Words that were not read."""
    return [
        views.UnreadShown(words=left.words, start=left.span.start, end=left.span.end)
        for left in reading.unread
    ]


def clause_text(desk: Desk, number: str) -> str:
    """A clause of the rule book that holds here."""
    return next((clause.text for clause in desk.fair.rules.clauses if clause.number == number), "")


def fault_shown(fault: Fault, desk: Desk) -> views.FaultShown:
    """A fault with the facts it leans on."""
    return views.FaultShown(
        code=fault.code,
        severity=fault.severity,
        sentence=fault.sentence,
        remedy=fault.remedy,
        clause=fault.clause,
        clause_text=clause_text(desk, fault.clause),
        claims=list(fault.claims),
        facts=facts_shown(fault.facts, desk),
    )


def clash_shown(clash: Contradiction, binding: Sequence[str], desk: Desk) -> views.ClashShown:
    """A clash with the facts it leans on."""
    return views.ClashShown(
        id=clash.id,
        sentence=clash.sentence,
        claims=list(clash.claims),
        ways_out=list(clash.ways_out),
        hard=clash.hard,
        binding=clash.id in binding,
        facts=facts_shown(clash.facts, desk),
    )
