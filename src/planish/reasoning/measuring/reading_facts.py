"""Values that one family of facts holds in `Fact.more`, read with their types; silence when a pack has none."""

from collections.abc import Mapping, Sequence

from planish.facts.book import FactBook
from planish.records import Fact


def number(fact: Fact, name: str) -> float | None:
    """A figure by name; None when the pack gives none."""
    value = fact.more.get(name)
    return float(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else None


def text(fact: Fact, name: str) -> str:
    """Words by name; "" when the pack gives none."""
    value = fact.more.get(name)
    return value if isinstance(value, str) else ""


def words(fact: Fact, name: str) -> tuple[str, ...]:
    """A list of words by name; one word counts as a list of one."""
    value = fact.more.get(name)
    if isinstance(value, str):
        return (value,)
    if isinstance(value, Sequence):
        return tuple(str(word) for word in value)
    return ()


def ranges(fact: Fact, name: str) -> dict[str, tuple[float, float]]:
    """A table of ranges by element; a single figure is a range of no width."""
    value = fact.more.get(name)
    if not isinstance(value, Mapping):
        return {}
    found: dict[str, tuple[float, float]] = {}
    for key, limits in value.items():
        if isinstance(limits, (int, float)):
            found[str(key)] = (float(limits), float(limits))
        elif isinstance(limits, Sequence) and not isinstance(limits, str) and len(limits) == 2:
            found[str(key)] = (float(limits[0]), float(limits[1]))
    return found


def name_of(fact: Fact) -> str:
    """What a person calls the thing a fact is about."""
    return text(fact, "name") or text(fact, "term") or text(fact, "title") or fact.id


def statements(book: FactBook, ids: Sequence[str]) -> tuple[Fact, ...]:
    """The facts of `ids` that are on file and in force, in that order."""
    answers = (book.look(fact_id) for fact_id in ids)
    return tuple(answer.fact for answer in answers if answer.state == "known" and answer.fact is not None)
