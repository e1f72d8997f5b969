"""Which conventions a set of museum rows asks for, chosen with whole shapes of text left out.

Each setting of `GRID` is tried in turn, the others as they stand, until nothing more is gained; a value must gain on the
rows to be learned from, and among equals the one nearer the start of its list stands. What was chosen is then counted
on the shapes left out, so that the figure says how the choice fares on texts of another make.
"""

import zlib
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from bench.adapters import MUSEUM, WORDS, museum_years
from bench.date_ceiling import Row, agrees
from planish.reasoning.reading.dates import read_date_text
from planish.records import Conventions, DateValue

GRID: dict[str, tuple[Any, ...]] = {
    "dates_of": ("work", "object"),
    "circa_years": (0, 5, 10),
    "circa_range_years": (0, 5, 10),
    "circa_decade_years": (0, 5, 10),
    "circa_century_years": (0, 5, 10),
    "question_years": (0, 3, 5),
    "century_starts_at": (0, 1),
    "early": ((0, 25), (0, 30), (0, 33), (0, 40), (0, 50)),
    "mid": ((25, 75), (30, 70), (33, 66), (40, 60), (35, 65)),
    "late": ((75, 99), (67, 99), (70, 99), (80, 99), (85, 99), (50, 99)),
    "early_decade": ((0, 5), (0, 3), (0, 4)),
    "mid_decade": ((3, 7), (3, 6), (4, 6), (4, 7), (5, 8)),
    "late_decade": ((5, 9), (6, 9), (7, 9), (5, 10)),
    "hundreds": ("century", "decade"),
    "turn_years": (10, 5, 15),
}
FOLDS = 5
WIDE = replace(MUSEUM, question_years=1)
"""Conventions under which every reading names the settings that it hangs on."""
_ROUNDS = 3


def _hangs_on_a_setting(text: str) -> bool:
    """False for one stretch of years that names no setting but a question mark's or none at all."""
    claims = read_date_text(text, words=WORDS, conventions=WIDE).claims
    return len(claims) > 1 or any(isinstance(c.value, DateValue) and c.value.conventions for c in claims)


def fold_of(shape: str) -> int:
    """The fold of a shape: the same on every machine and in every run."""
    return zlib.crc32(shape.encode()) % FOLDS


class Trials:
    """Readings of the rows under each setting tried; a row that no setting can move is read once."""

    def __init__(self, rows: list[Row]) -> None:
        self.rows = rows
        self.start = self._hits(MUSEUM, range(len(rows)))
        self.movable = [i for i, row in enumerate(rows) if _hangs_on_a_setting(row["text"])]
        self.seen: dict[Conventions, dict[int, bool]] = {}

    def _hits(self, conventions: Conventions, which: Iterable[int]) -> dict[int, bool]:
        return {i: agrees(museum_years(self.rows[i]["text"], conventions), self.rows[i]) for i in which}

    def hits(self, conventions: Conventions) -> dict[int, bool]:
        """Row by row, whether the reading under `conventions` agrees."""
        if conventions not in self.seen:
            self.seen[conventions] = {**self.start, **self._hits(conventions, self.movable)}
        return self.seen[conventions]

    def choose(self, learn: list[int]) -> Conventions:
        """The settings that agree with most of the rows in `learn`."""
        best = MUSEUM_START
        for _ in range(_ROUNDS):
            before = best
            for name, values in GRID.items():
                tried = [replace(best, **{name: value}) for value in values]
                best = max(tried, key=lambda one: sum(self.hits(one)[i] for i in learn))
            if best == before:
                break
        return best

    def left_out(self) -> tuple[dict[int, bool], list[Conventions]]:
        """Every row judged under the settings chosen without its shape's fold, and those settings."""
        judged: dict[int, bool] = {}
        chosen = []
        for fold in range(FOLDS):
            folds = [fold_of(row["shape"]) for row in self.rows]
            best = self.choose([i for i, own in enumerate(folds) if own != fold])
            chosen.append(best)
            judged.update({i: self.hits(best)[i] for i, own in enumerate(folds) if own == fold})
        return judged, chosen


MUSEUM_START = replace(MUSEUM, **{name: values[0] for name, values in GRID.items()})


def differences(conventions: Conventions) -> str:
    """The settings that differ from the first of their list, as printed."""
    told = [
        f"{name}={getattr(conventions, name)}"
        for name, values in GRID.items()
        if getattr(conventions, name) != values[0]
    ]
    return ", ".join(told) or "none moved"
