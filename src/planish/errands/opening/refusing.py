"""A refusal: an errand that cannot be done, said as a Problem so that every door can tell where, what, why, way out."""

from typing import Literal

from planish.records import Problem

Kind = Literal["input", "rule", "ledger"]
"""input: what was given cannot be used. rule: a clause or a state forbids it. ledger: the log cannot take or give it."""


class Refused(Exception):
    """Raised by errands when nothing was done; carries the problems that say why. Nothing given is lost."""

    def __init__(self, problem: Problem, *more: Problem, kind: Kind = "input") -> None:
        super().__init__(str(problem))
        self.problems: tuple[Problem, ...] = (problem, *more)
        self.kind: Kind = kind


def refuse(
    where: str, what: str, remedy: str, *, why: str = "", code: str = "", kind: Kind = "input"
) -> Refused:
    """A refusal with one problem, ready to raise."""
    return Refused(Problem(where=where, what=what, why=why, remedy=remedy, code=code, severity=2), kind=kind)
