"""One size given twice with two figures: reported, never settled."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from planish.records import MeasureValue, Problem

_APART = 0.03
"""From how far apart, as a share of the larger, two figures of one size contradict each other (house default)."""
_SEVERAL = re.compile(
    r"\b(?:pairs?|sets?|nest|graduated|each|one|other|others|larger|largest|smaller|smallest|tallest|shortest|taller|shorter|"
    r"without|including|incl|excluding|excl|overall|open|closed|extended|with|to|up|frame|framed|and|or|two|three|four|five|six)\b",
    re.IGNORECASE,
)
"""Words that tell of more than one thing or of another way to measure: then two figures need not agree."""


@dataclass(frozen=True, slots=True)
class Sized:
    """A measure as claimed: its value, part, strength and characters."""

    value: MeasureValue
    part: str
    stated: bool
    start: int
    end: int


def contradictions(text: str, sizes: Iterable[Sized]) -> Iterator[Problem]:
    """A problem for each pair of stated sizes of one role and one part that cannot both be true of one thing."""
    first: dict[tuple[str, str, str], Sized] = {}
    for size in sizes:
        value = size.value
        if not size.stated or value.base_unit != "mm":
            continue
        key = (value.role, size.part, value.over)
        before = first.setdefault(key, size)
        one, two = before.value.amount, value.amount
        if before is size or abs(one - two) <= _APART * max(one, two) + 2 or _tells_of_several(text, size):
            continue
        words = (text[before.start : before.end], text[size.start : size.end])
        yield Problem(
            where="label",
            what=f"the {value.role} is given twice, as {words[0]!r} and as {words[1]!r}.",
            why="One thing has one size: the reader cannot tell which figure is right.",
            remedy=f"Measure the {value.role} again and give one figure, or say what each was taken over.",
            code="measure.contradicts",
            found=" / ".join(words),
        )


def _tells_of_several(text: str, size: Sized) -> bool:
    return "\n" in text or _SEVERAL.search(text[: size.end + 12]) is not None
