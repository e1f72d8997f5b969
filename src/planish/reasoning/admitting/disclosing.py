"""Damage and change must be said: not by a bare word, and not left out when the table has seen it."""

import re
from collections.abc import Iterable, Iterator

from planish.facts.book import FactBook
from planish.reasoning.admitting.paper import Paper, broken, met, setting_words, term
from planish.records import Claim, Clause, ClauseAnswer, DateValue, Fact, Observation, Reading, TermValue
from planish.records.problems import Severity


def check_disclosure(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """Broken for each word of damage or repair that stands alone and names no part ("A/F", "restored")."""
    vague = setting_words(clause, "vague")
    bare = [
        claim
        for claim in paper.side("state")
        if not claim.part and claim.words.lower() in vague and not _explained(claim, paper.reading)
    ]
    for claim in bare:
        yield broken(clause, f"“{claim.words}” does not say what is damaged or restored.", "state.vague", claims=(claim,),
                     remedy="Say which part and what was done: foot resoldered, cover replaced.")  # fmt: skip
    if not bare:
        yield met(clause, "No bare word of damage or repair.")


def _explained(claim: Claim, reading: Reading) -> bool:
    """True when another claim of state or part stands within a few words, or "to the ..." follows."""
    after = reading.text[claim.span.end : claim.span.end + 16].lstrip(" ,:;(")
    if after.lower().startswith(("to ", "on ", "at ", "in ", "under ", "with ")):
        return True
    return any(
        other.id != claim.id
        and (other.side == "state" or other.part)
        and 0 <= other.span.start - claim.span.end <= 24
        for other in reading.claims
    )


_WORD = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*")
_WEIGHTS: dict[str, Severity] = {"major": 2, "moderate": 2, "minor": 3}


def undisclosed(
    reading: Reading, observations: Iterable[Observation], book: FactBook, clause: str = ""
) -> tuple[ClauseAnswer, ...]:
    """What specialists saw (settled condition terms, "cond.replaced_part") and the label does not own up to.

    Each answer is broken and gives the words that the fact book suggests. Terms not on file are left alone.
    """
    answers: list[ClauseAnswer] = []
    told = _told(reading)
    for seen in observations:
        for name in seen.terms:
            fact = book.look(name).fact
            if fact is not None and fact.family == "condition_term" and not _is_told(fact, seen.part, told):
                answers.append(_unsaid(fact, seen, clause))
    return tuple(answers)


def _told(reading: Reading) -> dict[str, set[str]]:
    """Words of condition on the label, by part: settled terms, words, and their single words."""
    found: dict[str, set[str]] = {}
    for claim in reading.claims:
        if claim.side in ("state", "surface", "decoration", "count") and isinstance(claim.value, TermValue):
            words = claim.words.lower()
            found.setdefault(claim.part, set()).update((term(claim), words, *_WORD.findall(words)))
        elif isinstance(claim.value, DateValue) and claim.value.event != "body_made":
            found.setdefault(claim.part, set()).update(
                _WORD.findall(claim.words.lower())
            )  # "later engraved c.1850"
    return found


def _is_told(fact: Fact, part: str, told: dict[str, set[str]]) -> bool:
    parts = (part, "") if part else tuple(told)  # a look at no named part is told by a word about any part
    here = set().union(*(told.get(name, set()) for name in parts))
    accepted = fact.more.get("told_by", ())
    return isinstance(accepted, tuple) and any(str(word).lower() in here for word in accepted)


def _unsaid(fact: Fact, seen: Observation, clause: str) -> ClauseAnswer:
    place = f" of the {seen.part}" if seen.part else ""
    name = str(fact.more.get("term", fact.id)).lower()
    return ClauseAnswer(
        clause=clause,
        answer="broken",
        sentence=f"The table saw this{place}: {name}. The label does not say it. {fact.statement}",
        remedy=f"Add: {fact.more.get('disclose', name)}.",
        fault=f"state.unsaid_{fact.id.removeprefix('cond.')}",
        severity=1 if fact.more.get("off_the_floor") else _WEIGHTS.get(str(fact.more.get("weight", "")), 3),
        facts=(fact.id,),
    )
