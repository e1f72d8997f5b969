"""Clause by clause: each kind of check has one function, and a clause of no kind is a note."""

from collections.abc import Callable, Iterable

from planish.facts.book import FactBook
from planish.reasoning.admitting.dateline import check_dateline
from planish.reasoning.admitting.disclosing import check_disclosure
from planish.reasoning.admitting.materials import check_banned, check_gated, check_law
from planish.reasoning.admitting.paper import Paper, paper_of
from planish.reasoning.admitting.required import check_required
from planish.reasoning.admitting.wordings import check_wording
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
    answers: list[ClauseAnswer] = []
    for clause in rules.clauses:
        check = _CHECKS.get(clause.check)
        if check is not None:
            answers.extend(check(clause, paper))
    return tuple(answers)
