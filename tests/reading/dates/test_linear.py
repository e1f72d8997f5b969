"""The reader's work grows with the length of the text and no faster: lines of its own code run, counted without a clock."""

import sys
from collections.abc import Callable
from types import FrameType
from typing import Any

import pytest

from planish.facts.words import english
from planish.reasoning.reading.dates import read_date_text, read_dates
from planish.records import Conventions

HOUSE = Conventions()
WORDS = english()
ROOM = "reasoning/reading/dates"
HARD = ["c. ", "early ", "1760-", "(", "the ", "18th to ", "June 1-", "no. ", "made, ", "1760 or ", "George II or ", "'76 ",
        "first half of the ", "17", "[1760] ", "from ", "1760, ", "Smith (1720-1785) ", "after a ", "copy of a ", "1/4 ", "17?2 ", "MDCCLIV ", "Xuande ", "converted to ", "later (", "± 5 ",
        "18th century, second half ", "1989-present ", "18th-century style ", "E18thC ", "C15/16 ", "dated \"",
        "George ", "I", ". "]  # fmt: skip


def lines_run(work: Callable[[], object]) -> int:
    """How many lines of the date reader run during `work`; a loop counts once for each turn."""
    count = 0

    def trace(frame: FrameType, event: str, _: Any) -> Any:
        nonlocal count
        if ROOM not in frame.f_code.co_filename.replace("\\", "/"):
            return None
        count += event == "line"
        return trace

    before = sys.gettrace()
    sys.settrace(trace)
    try:
        work()
    finally:
        sys.settrace(before)
    return count


@pytest.mark.parametrize("piece", HARD)
def test_twice_the_text_takes_at_most_twice_the_steps(piece: str) -> None:
    for read in (read_dates, read_date_text):
        read(piece, words=WORDS, conventions=HOUSE)
        once = lines_run(lambda read=read: read(piece * 150, words=WORDS, conventions=HOUSE))  # type: ignore[misc]
        twice = lines_run(lambda read=read: read(piece * 300, words=WORDS, conventions=HOUSE))  # type: ignore[misc]
        assert twice <= 2.1 * once + 200


def test_the_counter_notices_work_that_grows_faster() -> None:
    """A check of the check: reading every beginning of a text is quadratic, and the same count says so."""

    def every_beginning(size: int) -> int:
        text = "1760-5, " * size
        return lines_run(
            lambda: [read_dates(text[:end], words=WORDS, conventions=HOUSE) for end in range(0, len(text), 8)]
        )

    assert every_beginning(40) > 3 * every_beginning(20)
