"""The most that one rule per shape of text could agree with, because museums answer the same shape in several ways.

A shape is the text with its figures blotted out; "1800s" is kept apart from "1820s" by its class. A rule for a shape says for each end which number of the text it takes
(as a year, a short year, a century) and how many years it adds. For every shape the best such rule is found on the very
rows that it is counted on, so the figure is generous: no reader that treats a shape one way can be above it, and a shape
seen once is always met.
"""

import collections
import re
from collections.abc import Iterable, Iterator
from typing import Any

Row = dict[str, Any]
Rule = tuple[Any, ...]
Pair = tuple[int | None, int | None] | None
_REACH = 110
"""Years that a rule may add to a number of the text, at most."""


def truths(row: Row) -> list[tuple[int, int]]:
    """The row's pair, and that pair less the padding that the museum added."""
    pairs = [(row["from"], row["to"])]
    if row.get("pad"):
        pairs.append((row["from"] + row["pad"][0], row["to"] - row["pad"][1]))
    return pairs


def ends(row: Row) -> tuple[int, ...]:
    """Which ends count: both, or the one that a bound states."""
    return {"from": (0,), "to": (1,)}.get(row.get("open") or "", (0, 1))


def agrees(pair: Pair, row: Row) -> bool:
    """True when every end that the row states is met within a year."""
    if pair is None:
        return False
    return any(
        all((got := pair[i]) is not None and abs(got - truth[i]) <= 1 for i in ends(row))
        for truth in truths(row)
    )


def most(rows: Iterable[Row]) -> dict[str, bool]:
    """For each row's id, whether its shape's best rule agrees with it."""
    shapes: dict[tuple[str, str], list[Row]] = collections.defaultdict(list)
    for row in rows:
        shapes[row["shape"], row.get("class", "")].append(row)
    return {name: hit for same in shapes.values() for name, hit in _of_shape(same)}


def _of_shape(rows: list[Row]) -> Iterator[tuple[str, bool]]:
    if len(rows) == 1:
        yield rows[0]["id"], True
        return
    allowed = [set(_rules(row)) for row in rows]
    votes = collections.Counter(rule for rules in allowed for rule in rules)
    best = votes.most_common(1)[0][0] if votes else None
    for row, rules in zip(rows, allowed, strict=True):
        yield row["id"], best in rules


def _rules(row: Row) -> Iterator[Rule]:
    """Every rule that gives this row's years within a year."""
    for truth in truths(row):
        takes = [list(_takes(row["text"], truth[end])) if end in ends(row) else [None] for end in (0, 1)]
        yield from ((first, last) for first in takes[0] for last in takes[1])


def _takes(text: str, year: int) -> Iterator[Rule]:
    """Ways to get `year`, or one beside it, from a number of the text."""
    found = list(re.finditer(r"\d+", text))
    if not found:
        yield ("no number", year)
    for place, number in enumerate(found):
        for how, base in _bases(number[0], found[place - 1][0] if place else ""):
            if abs(year - base) <= _REACH:
                yield from ((place, how, year - base + slack) for slack in (-1, 0, 1))


def _bases(digits: str, before: str) -> Iterator[tuple[str, int]]:
    """What a number may stand for: a year, a century, a year cut short after another, a year of the 1900s."""
    value = int(digits)
    yield "year", value
    yield "century", 100 * (value - 1)
    if len(digits) < 4 <= len(before):
        size = 10 ** len(digits)
        yield "short", int(before) // size * size + value
    if len(digits) == 2:
        yield "1900s", 1900 + value
