"""The fact book: look-ups answer *known*, *ended* or *not on file*, and callers handle all three."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from planish.records import Fact, freeze


@dataclass(frozen=True, slots=True)
class Answer:
    """What the book says: `known` (with the fact), `ended` (a fact withdrawn or out of force), or `not on file`."""

    state: Literal["known", "ended", "not on file"]
    fact: Fact | None = None


class FactBook:
    """Facts by id and by family. Immutable; built once from packs by `facts.loading`."""

    __slots__ = ("_by_family", "_by_id", "_ended")

    def __init__(self, facts: Iterable[Fact], ended: Iterable[str] = ()) -> None:
        by_id: dict[str, Fact] = {}
        by_family: dict[str, list[Fact]] = {}
        for fact in facts:
            if fact.id in by_id:
                raise ValueError(f"two facts are called {fact.id!r}")
            by_id[fact.id] = fact
            by_family.setdefault(fact.family, []).append(fact)
        self._by_id: Mapping[str, Fact] = freeze(by_id)
        self._by_family: Mapping[str, tuple[Fact, ...]] = freeze(
            {family: tuple(members) for family, members in by_family.items()}
        )
        self._ended = frozenset(ended)

    def look(self, fact_id: str) -> Answer:
        """Look up one fact by id."""
        fact = self._by_id.get(fact_id)
        if fact is None:
            return Answer("not on file")
        return Answer("ended" if fact_id in self._ended else "known", fact)

    def family(self, name: str) -> tuple[Fact, ...]:
        """All facts of one family in pack order; empty when nothing is on file."""
        return self._by_family.get(name, ())

    def families(self) -> tuple[str, ...]:
        """Names of all families, sorted."""
        return tuple(sorted(self._by_family))

    def __iter__(self) -> Iterator[Fact]:
        return iter(self._by_id.values())

    def __len__(self) -> int:
        return len(self._by_id)
