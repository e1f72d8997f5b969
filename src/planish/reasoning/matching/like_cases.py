"""Like case, like treatment: the nearest earlier cases of one fault, and the alarm when their outcomes differ.

The distance is a weighted sum of plain differences, stated in `WEIGHTS`, so that anybody can see why two cases are
like. No embedding, no learning: a case is like another because its fields are.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from planish.records import Outcome

WEIGHTS = {
    "fault": 4.0,
    "side": 2.0,
    "discipline": 1.5,
    "material": 1.0,
    "part": 1.0,
    "kind": 0.75,
    "severity": 0.75,
    "period": 0.5,
}
"""House weights. fault, side, discipline, material, part and kind cost their weight when different and half when one
is not known; severity its weight a step (1..4); period its weight a century between middle years, at most three."""

WORDS = ("fault", "side", "discipline", "material", "part", "kind")
NOT_KNOWN = 0
CENTURIES_AT_MOST = 3.0
LIKE = 2.0
"""House threshold: at most this far apart is a like case (the same fault on a like thing)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One fault of one object as it was treated. `order` is its place in time; `year` the middle of the claimed years.

    `fault` is the stable plain word of the fault ("date.too_vague"), `side` the side of the claim, `kind` the
    object's name word. Empty words and None are "not known".
    """

    id: str
    fair: str
    stand: str
    order: int
    outcome: Outcome | None = None
    fault: str = ""
    side: str = ""
    discipline: str = ""
    material: str = ""
    part: str = ""
    kind: str = ""
    severity: int | None = None
    year: int | None = None
    clause: str = ""
    sentence: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LikeCase:
    """An earlier case, how far it is (0 the same in every field) and in words why it is like and where it differs."""

    case: Case
    distance: float
    alike: tuple[str, ...]
    different: tuple[str, ...]


def distance(a: Case, b: Case) -> float:
    """How far two cases are: the sum stated in `WEIGHTS`, 0 and up. Symmetric."""
    total = sum(WEIGHTS[w] * _word_apart(getattr(a, w), getattr(b, w)) for w in WORDS)
    total += WEIGHTS["severity"] * _number_apart(a.severity, b.severity, 1.0, 3.0)
    return total + WEIGHTS["period"] * _number_apart(a.year, b.year, 100.0, CENTURIES_AT_MOST)


def _word_apart(a: str, b: str) -> float:
    if a == b:
        return 0.0
    return 1.0 if a and b else 0.5


def _number_apart(a: int | None, b: int | None, unit: float, most: float) -> float:
    if a is None or b is None:
        return 0.0 if a == b else 0.5
    return min(abs(a - b) / unit, most)


class CaseIndex:
    """Cases held in columns of numbers, so that one search over 100,000 takes milliseconds. Never changed once made."""

    def __init__(self, cases: Sequence[Case]) -> None:
        self.cases = tuple(cases)
        self._codes: dict[str, dict[str, int]] = {w: {"": NOT_KNOWN} for w in WORDS}
        columns = [[self._code(w, getattr(c, w)) for c in self.cases] for w in WORDS]
        self._words = [np.array(column, dtype=np.int32) for column in columns]
        self._severity = _numbers([c.severity for c in self.cases])
        self._year = _numbers([c.year for c in self.cases])
        fairs: dict[str, int] = {}
        self._fair = np.array([fairs.setdefault(c.fair, len(fairs)) for c in self.cases], dtype=np.int32)
        self._fairs = fairs
        self._order = np.array([c.order for c in self.cases], dtype=np.int64)
        self._places: dict[str, list[int]] = {}
        for place, case in enumerate(self.cases):
            self._places.setdefault(case.id, []).append(place)

    def _code(self, word: str, value: str) -> int:
        return self._codes[word].setdefault(value, len(self._codes[word]))

    def like_cases(
        self, case: Case, *, most: int = 5, earlier_fairs: bool = False, within: float = LIKE
    ) -> tuple[LikeCase, ...]:
        """The nearest cases at this fair (and at others where the rule book allows), those of the same id left out.

        At this fair any case before it in order; ties go to the later case, then to the order of the index.
        """
        if not self.cases:
            return ()
        allowed = self._fair == self._fairs.get(case.fair, -1)
        allowed &= self._order < case.order
        if earlier_fairs:
            allowed |= self._fair != self._fairs.get(case.fair, -1)
        allowed[self._places.get(case.id, [])] = False
        apart = np.where(allowed, self._distances(case), np.inf)
        near = np.flatnonzero(apart <= within + 1e-9)
        ranked = near[np.lexsort((-self._order[near], apart[near]))][: max(0, most)]
        return tuple(_like(case, self.cases[i], float(apart[i])) for i in ranked)

    def _distances(self, case: Case) -> npt.NDArray[np.float64]:
        total = np.zeros(len(self.cases))
        for word, column in zip(WORDS, self._words, strict=True):
            value = getattr(case, word)
            code = self._codes[word].get(value, -1)
            total += _word_costs(column, code, WEIGHTS[word])
        total += WEIGHTS["severity"] * _number_costs(self._severity, case.severity, 1.0, 3.0)
        return total + WEIGHTS["period"] * _number_costs(self._year, case.year, 100.0, CENTURIES_AT_MOST)


def _numbers(values: Sequence[int | None]) -> npt.NDArray[np.float64]:
    return np.array([np.nan if v is None else v for v in values], dtype=float)


def _word_costs(column: npt.NDArray[np.int32], code: int, weight: float) -> npt.NDArray[np.float64]:
    if code == NOT_KNOWN:
        return np.asarray(np.where(column == NOT_KNOWN, 0.0, weight / 2))
    return np.asarray(np.where(column == code, 0.0, np.where(column == NOT_KNOWN, weight / 2, weight)))


def _number_costs(
    column: npt.NDArray[np.float64], value: int | None, unit: float, most: float
) -> npt.NDArray[np.float64]:
    unknown = np.isnan(column)
    if value is None:
        return np.where(unknown, 0.0, 0.5)
    return np.where(unknown, 0.5, np.minimum(np.abs(column - value) / unit, most))


def _like(case: Case, other: Case, apart: float) -> LikeCase:
    alike, different = [], []
    for word in WORDS:
        a, b = getattr(case, word), getattr(other, word)
        if a and a == b:
            alike.append(f"{word}: {a}")
        elif a != b:
            different.append(f"{word}: {a or 'not known'} / {b or 'not known'}")
    for name, x, y in (("severity", case.severity, other.severity), ("year", case.year, other.year)):
        if x != y:
            known = ["not known" if v is None else str(v) for v in (x, y)]
            different.append(f"{name}: {known[0]} / {known[1]}")
    return LikeCase(case=other, distance=apart, alike=tuple(alike), different=tuple(different))


def unlike_outcomes(case: Case, like: Sequence[LikeCase]) -> tuple[str, ...]:
    """Sentences of alarm: like cases that were treated otherwise. Speaks of objects and stands, never of people."""
    if case.outcome is None:
        return ()
    return tuple(
        f"{case.id} ({case.stand}): {case.outcome}; like case {near.case.id} ({near.case.stand}): {near.case.outcome}. "
        f"Alike in {', '.join(near.alike) or 'nothing stated'}; differs in {', '.join(near.different) or 'nothing'}."
        for near in like
        if near.case.outcome is not None and near.case.outcome != case.outcome
    )
