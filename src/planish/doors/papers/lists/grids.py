"""A sheet as a grid of text, with the few cells that were more than text noted beside it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta

from planish.records import Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """How much of a stranger's file is looked at. Sizes in bytes, time in seconds; house figures, change them at will."""

    file_bytes: int = 48_000_000
    inflated_bytes: int = 320_000_000
    members: int = 2_000
    sheets: int = 60
    rows: int = 120_000
    columns: int = 400
    cells: int = 4_000_000
    label_characters: int = 2_000
    cell_characters: int = 100_000
    seconds: int = 60
    memory_bytes: int = 2_000_000_000
    reply_bytes: int = 400_000_000


HOUSE_LIMITS = Limits()


class Unreadable(Exception):
    """The file as a whole cannot be used; carries the one Problem that says why."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(str(problem))
        self.problem = problem


@dataclass(slots=True)
class Grid:
    """Rows of text. Keys of the notes are (row, column), both counted from 0.

    `dates` are cells the workbook holds as a date; `formulas` the words of a formula whose value was read; `shaded`
    cells with a coloured ground (RRGGBB); `merged` areas as (first row, first column, last row, last column).
    `made_header` says that row 0 was put there by the reader and is no row of the file.
    """

    name: str
    rows: list[list[str]]
    dates: dict[tuple[int, int], datetime] = field(default_factory=dict)
    formulas: dict[tuple[int, int], str] = field(default_factory=dict)
    shaded: dict[tuple[int, int], str] = field(default_factory=dict)
    merged: list[tuple[int, int, int, int]] = field(default_factory=list)
    first_row: int = 1
    epoch_1904: bool = False
    unseen: str = ""
    made_header: bool = False

    def cell(self, row: int, column: int) -> str:
        """Text at (row, column), empty beyond the edge."""
        cells = self.rows[row]
        return cells[column] if column < len(cells) else ""


@dataclass(slots=True)
class Opened:
    """What the file turned out to be: its form, encoding when it was text, and its sheets."""

    form: str
    grids: list[Grid]
    encoding: str = ""
    problems: list[Problem] = field(default_factory=list)
    headings: Mapping[str, str] | None = None


def letter(column: int) -> str:
    """Spreadsheet name of a column counted from 0: 0 is A, 26 is AA."""
    name = ""
    number = column + 1
    while number:
        number, rest = divmod(number - 1, 26)
        name = chr(65 + rest) + name
    return name


def as_text(value: object) -> str:
    """A cell's value as text: whole floats without a point, dates as ISO 8601, nothing as an empty string."""
    if value is None:
        return ""
    if isinstance(value, str):
        return value
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() and abs(value) < 1e15 else repr(value)
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == time() else value.isoformat(" ")
    if isinstance(value, (date, time)):
        return value.isoformat()
    return str(value)


def serial(day: datetime, epoch_1904: bool = False) -> int:
    """The day number a spreadsheet keeps for a date.

    1900 system: 1 is 1 January 1900, and 60 is 29 February 1900, a day that never was, so that every later day counts
    one more than it should (ECMA-376 Part 1, 18.17.4.1). 1904 system: 0 is 1 January 1904.
    """
    if epoch_1904:
        return (day - datetime(1904, 1, 1)) // timedelta(days=1)
    number = (day - datetime(1899, 12, 31)) // timedelta(days=1)
    return number + 1 if number >= 60 else number


def problem(
    where: str, code: str, what: str, remedy: str, *, why: str = "", found: str = "", severity: int = 3
) -> Problem:
    """A Problem of the reader; `found` is cut to 300 characters (the raw row keeps the whole)."""
    bad = {1: 1, 2: 2, 3: 3, 4: 4}[severity]
    return Problem(
        where=where,
        what=what,
        remedy=remedy,
        why=why,
        code=code,
        found=found[:300],
        severity=bad,  # type: ignore[arg-type]
    )
