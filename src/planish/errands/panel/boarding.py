"""The board: stands × disciplines, and how many minutes the day still needs at its present speed.

Counted object by object as entries come, so that a write at a fair of 40,000 objects recounts one object. No figure
here says how anybody voted, or how many did.
"""

import math
from collections import Counter, deque
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from planish.ledger.replay import FairState
from planish.ledger.story import Story

Column = Literal["unseen", "in_hand", "questions", "done"]
COLUMNS: tuple[Column, ...] = ("unseen", "in_hand", "questions", "done")
WINDOW_MS = 60 * 60 * 1000
"""Speed is counted over the last hour of looking (house default)."""
FEWEST = 5
"""Objects below which no speed is told (house default)."""
Z80 = 1.2816
"""Standard normal quantile for an interval of 80 %."""

_COLUMN: dict[str, Column] = {
    "listed": "unseen",
    "unlisted": "unseen",
    "presented": "in_hand",
    "examining": "in_hand",
    "proposed": "in_hand",
    "reopened": "in_hand",
    "opinions_in": "questions",
    "not_found": "questions",
    "not_seen": "questions",
    "paper_due": "questions",
    "referred": "questions",
    "under_appeal": "questions",
    "confirmed": "done",
    "final": "done",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One stand and one discipline: objects by column."""

    stand: str
    discipline: str
    unseen: int = 0
    in_hand: int = 0
    questions: int = 0
    done: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """How fast objects leave the tables: done per hour in the window, and minutes left with an 80 % interval.

    The interval takes departures as a Poisson count; None where there is too little to tell.
    """

    per_hour: float | None
    left: int
    minutes: int | None
    minutes_low: int | None
    minutes_high: int | None
    window_minutes: int


class Board:
    """Counts that follow the log."""

    def __init__(self) -> None:
        self._at: dict[str, tuple[str, str, Column]] = {}
        self._counts: Counter[tuple[str, str, Column]] = Counter()
        self._done: deque[int] = deque()

    def follow(self, state: FairState, changed: Iterable[str], *, at: int) -> None:
        """Count the objects that changed anew. `at` is the arrival time (ms) of the newest entry."""
        for object_id in changed:
            story = state.objects.get(object_id)
            if story is not None:
                self._place(object_id, place(story), at)

    def _place(self, object_id: str, now: tuple[str, str, Column] | None, at: int) -> None:
        was = self._at.pop(object_id, None)
        if was is not None:
            self._counts[was] -= 1
        if now is None:
            return
        self._at[object_id] = now
        self._counts[now] += 1
        if now[2] == "done" and (was is None or was[2] != "done"):
            self._done.append(at)

    def cells(self) -> tuple[Cell, ...]:
        """One cell a stand and discipline."""
        made: dict[tuple[str, str], dict[str, int]] = {}
        for (stand, discipline, column), count in self._counts.items():
            if count:
                made.setdefault((stand, discipline), {})[column] = count
        return tuple(Cell(stand=s, discipline=d, **counts) for (s, d), counts in made.items())

    def totals(self) -> dict[Column, int]:
        """Objects of the whole fair by column."""
        sums = dict.fromkeys(COLUMNS, 0)
        for (_, _, column), count in self._counts.items():
            sums[column] += count
        return sums

    def pace(self, now: int) -> Pace:
        """The present speed at `now` (ms)."""
        while self._done and self._done[0] < now - WINDOW_MS:
            self._done.popleft()
        sums = self.totals()
        left = sums["unseen"] + sums["in_hand"] + sums["questions"]
        n = len(self._done)
        span = max(now - self._done[0], 60_000) / 60_000 if self._done else 0.0
        if n < FEWEST:
            return Pace(
                per_hour=None,
                left=left,
                minutes=None,
                minutes_low=None,
                minutes_high=None,
                window_minutes=round(span),
            )
        fewer, more = n - Z80 * math.sqrt(n), n + Z80 * math.sqrt(n)
        return Pace(
            per_hour=round(60 * n / span, 1),
            left=left,
            minutes=math.ceil(left * span / n),
            minutes_low=math.ceil(left * span / more),
            minutes_high=math.ceil(left * span / fewer),
            window_minutes=round(span),
        )


def place(story: Story) -> tuple[str, str, Column] | None:
    """Where one object stands on the board; None when it left the fair. A proposed refer is a question."""
    state = story.state
    column = _COLUMN.get(state.examination)
    if column is None:
        return None
    if state.examination == "proposed" and state.outcome == "refer":
        column = "questions"
    return story.listed.stand, state.disciplines[0] if state.disciplines else "", column
