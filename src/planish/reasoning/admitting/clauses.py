"""Clause by clause: each kind of check has one function, and a clause of no kind is a note."""

from collections.abc import Callable, Iterable

from planish.facts.book import FactBook
from planish.reasoning.admitting.dateline import check_dateline
from planish.reasoning.admitting.disclosing import check_disclosure
from planish.reasoning.admitting.materials import check_banned, check_gated, check_law
from planish.reasoning.admitting.paper import Paper, met, paper_of
from planish.reasoning.admitting.required import check_required
from planish.reasoning.admitting.wordings import CLASH, WORDS_KEEP_IT, check_wording, sides_looked_at
from planish.records import Clause, ClauseAnswer, ListedObject, Reading, RuleBook

_CHECKS: dict[str, Callable[[Clause, Paper], Iterable[ClauseAnswer]]] = {
    "dateline": check_dateline,
    "required": check_required,
    "banned": check_banned,
    "gated": check_gated,
    "disclosure": check_disclosure,
    "wording": check_wording,
    "law": check_law,
}
"""Checks that paper can answer. "quality" and "note" are for people: they get no answer here."""


def admit(
    listed: ListedObject, reading: Reading, *, rules: RuleBook, book: FactBook, discipline: str = "metalware"
) -> tuple[ClauseAnswer, ...]:
    """What each clause of `rules` says of the label, in the order of the rule book.

    A clause may give several answers (one for each missing part). `discipline` is the lead panel, whose dateline counts.
    """
    paper = paper_of(listed, reading, rules, book, discipline)
    there = paper.sides.keys() if not paper.clashes else {*paper.sides, CLASH}
    answers: list[ClauseAnswer] = []
    for clause, check, sides, kept in _plan_of(rules):
        if sides is not None and sides.isdisjoint(there):
            answers.append(kept)
        else:
            answers.extend(check(clause, paper))
    return tuple(answers)


_Step = tuple[Clause, Callable[[Clause, Paper], Iterable[ClauseAnswer]], frozenset[str] | None, ClauseAnswer]
_PLANS: dict[int, tuple[RuleBook, tuple[_Step, ...]]] = {}


def _plan_of(rules: RuleBook) -> tuple[_Step, ...]:
    """The clauses that paper can answer, each with the sides without which it is met, and the answer then. Kept for the last few rule books."""
    kept = _PLANS.get(id(rules))
    if kept is not None and kept[0] is rules:
        return kept[1]
    if len(_PLANS) > 8:
        _PLANS.clear()
    plan = tuple(
        (
            clause,
            _CHECKS[clause.check],
            sides_looked_at(clause) if clause.check == "wording" else None,
            met(clause, WORDS_KEEP_IT),
        )
        for clause in rules.clauses
        if clause.check in _CHECKS
    )
    _PLANS[id(rules)] = (rules, plan)
    return plan
