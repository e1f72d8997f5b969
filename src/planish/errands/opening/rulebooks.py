"""Rule books for the doors: on file, read, compared. A book that cannot be read is refused with the place and the way out."""

from planish.errands.opening.refusing import Refused
from planish.facts.rulebooks import Difference, compare, load_rulebook, rulebook_ids
from planish.records import Problem, RuleBook

__all__ = ["Difference", "compare", "on_file", "read"]


def on_file() -> tuple[str, ...]:
    """Names of the rule books that come with planish."""
    return rulebook_ids()


def read(name: str) -> tuple[RuleBook, tuple[Problem, ...]]:
    """The rule book called `name`, or the file at that path, with what could not be understood in it."""
    book, problems = load_rulebook(name)
    if not book.clauses and problems:
        raise Refused(problems[0], *problems[1:])
    return book, problems
