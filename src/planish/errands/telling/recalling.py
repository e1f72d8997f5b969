"""Recalling what is known: search the fact book and show a fact with its witness."""

from functools import lru_cache

from planish.facts.book import FactBook
from planish.facts.loading import discipline_ids, load
from planish.records import Fact, Problem

WITNESS = {
    "found": "source read",
    "memory": "from memory, not read",
    "derived": "worked out here",
    "practice": "common practice, no source",
}


def book(discipline: str = "metalware") -> tuple[FactBook, tuple[Problem, ...]]:
    """The fact book of one discipline, and what is not sound in its packs."""
    return load(discipline)


def disciplines() -> tuple[str, ...]:
    """Disciplines on file."""
    return discipline_ids()


def search(facts: FactBook, words: str, *, year: int | None = None, limit: int = 20) -> tuple[Fact, ...]:
    """Facts that hold every word of `words` in id, statement or marks, best first; `year` keeps those it bears on."""
    wanted = words.casefold().split()
    hits = [(_fit(fact, text, wanted), fact) for fact, text in _texts(facts)]
    kept = [(fit, fact) for fit, fact in hits if fit > 0 and (year is None or _touches(fact, year))]
    return tuple(fact for _, fact in sorted(kept, key=lambda hit: (-hit[0], hit[1].id))[:limit])


@lru_cache(maxsize=4)
def _texts(facts: FactBook) -> tuple[tuple[Fact, str], ...]:
    """Each fact with the words it is found by; made once a book, for a search looks at all of them."""
    return tuple(
        (
            fact,
            f"{fact.id} {fact.family} {fact.statement} {' '.join(map(str, fact.more.values()))}".casefold(),
        )
        for fact in facts
    )


def _fit(fact: Fact, text: str, wanted: list[str]) -> float:
    if not all(word in text for word in wanted):
        return 0.0
    in_statement = sum(word in fact.statement.casefold() for word in wanted)
    return 1 + in_statement + 2 * sum(word in fact.id for word in wanted)


def _touches(fact: Fact, year: int) -> bool:
    """A fact bears on a year when the year lies on one of its bounds' wrong or right side: it has a bound at all."""
    bounded = fact.years.earliest is not None or fact.years.latest is not None
    return bounded and not fact.years.holds(year)


def witness(fact: Fact) -> str:
    """How the fact is vouched for, in words."""
    partly = ", part of it from memory" if fact.partly_memory else ""
    return WITNESS[fact.verified] + partly


def years_in_words(fact: Fact) -> str:
    """The fact's years as a person would say them; empty when it has none."""
    first, last = fact.years.earliest, fact.years.latest
    if first is None and last is None:
        return ""
    if last is None:
        return f"from {first}"
    return f"until {last}" if first is None else f"{first}–{last}"
