"""Odd cells: years that became spreadsheet dates, formulas, hidden signs, HTML, very long labels, decimal commas."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from planish.doors.papers.lists.grids import Grid, Limits, letter, problem, serial
from planish.records import Problem

EARLIEST_YEAR, LATEST_YEAR = 1400, 2030
_DATE_TEXT = re.compile(r"^\s*(\d{1,4})[./-](\d{1,2})[./-](\d{2,4})(?:[ T]00:00(?::00(?:\.0+)?)?)?\s*$")
_TAG = re.compile(r"</?[A-Za-z][A-Za-z0-9]*(?:\s[^<>]*)?/?>")
_TURNS = re.compile("[\u202a-\u202e\u2066-\u2069\u200e\u200f]")
_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")
_RIGHT_TO_LEFT = re.compile("[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]")
_COMMA = re.compile(r"(?<![\d.,])(\d{1,4}),(\d{1,2})(?![\d,])")
_FORMULA_SIGNS = ("=", "@", "+", "-", "\t=")


@dataclass(frozen=True, slots=True)
class Place:
    """Where a cell is, for a person."""

    file: str
    sheet: str
    row: int
    column: int

    def __str__(self) -> str:
        sheet = f", sheet {self.sheet}" if self.sheet else ""
        return f"{self.file}{sheet}, cell {letter(self.column)}{self.row}"


def repair_date(
    text: str, day: datetime | None, epoch_1904: bool, place: Place, many: bool
) -> tuple[str, list[Problem]]:
    """The words of a date cell, with a year put back that a spreadsheet had turned into a day.

    A year typed into a cell formatted as a date is kept as that many days: 1760 shows as 25 October 1904 (1900 system)
    or 26 October 1908 (1904 system). Both systems are tried on dates that came as text.
    """
    years = _years_behind(text, day, epoch_1904)
    if not years:
        return text, _other_date(text, day, place)
    year = years[0]
    other = f" or {years[1]}" if len(years) > 1 else ""
    return str(year), [
        problem(
            str(place),
            "cell.year_became_date",
            f"A spreadsheet had turned a year into the day {text}; it was read as the year {year}{other}.",
            f"Look at the piece: if {year} is not what was typed, type the year again with a letter before it (c.1760).",
            found=text,
            severity=2 if other or not (day or many) else 3,
        )
    ]


def _years_behind(text: str, day: datetime | None, epoch_1904: bool) -> list[int]:
    if day is not None:
        return _in_range([serial(day, epoch_1904)]) if day.hour == day.minute == 0 else []
    match = _DATE_TEXT.match(text)
    if match is None:
        return []
    first, second, third = (int(part) for part in match.groups())
    orders = [(first, second, third)] if first > 31 else [(third, second, first), (third, first, second)]
    years: list[int] = []
    for year, month, number in orders:
        for full in (year,) if year > 99 else (1900 + year,):
            try:
                found = datetime(full, month, number)
            except ValueError:
                continue
            years += [serial(found)] if full < 1908 else [serial(found, epoch_1904=True)]
    return list(dict.fromkeys(_in_range(years)))


def _in_range(years: list[int]) -> list[int]:
    return [year for year in years if EARLIEST_YEAR <= year <= LATEST_YEAR]


def _other_date(text: str, day: datetime | None, place: Place) -> list[Problem]:
    if day is None and not _DATE_TEXT.match(text):
        return []
    return [
        problem(
            str(place),
            "cell.day_not_year",
            f"The cell holds the day {text}, which is no date of making that could be read.",
            "Write the year, the period or circa, as the label should say it.",
            why="A spreadsheet may have turned the words that were typed into a day.",
            found=text,
        )
    ]


def comma_to_point(text: str) -> str:
    """A measure with decimal commas written with points: "23,5 x 7,25" is "23.5 x 7.25"."""
    return _COMMA.sub(r"\1.\2", text)


def _hidden(text: str) -> tuple[str, str]:
    cleaned = _CONTROL.sub("", _TURNS.sub("", text))
    return (
        cleaned,
        "" if cleaned == text else "signs that cannot be seen, some of which turn the order of letters",
    )


Check = Callable[[str, Limits], tuple[str, str, str, int]]


def _html(text: str, _limits: Limits) -> tuple[str, str, str, int]:
    found = _TAG.search(text)
    what = (
        f"The words hold HTML ({found.group(0)[:40]}); it is shown as typed and does nothing."
        if found
        else ""
    )
    return "cell.html", what, "Take the tags out of the list.", 3


def _leading(text: str, _limits: Limits) -> tuple[str, str, str, int]:
    starts = text.startswith(_FORMULA_SIGNS) and not re.match(r"^[-+]\s?\d", text) and len(text) > 1
    what = (
        "The words begin like a formula; they are kept as words and were not carried out." if starts else ""
    )
    return "cell.like_formula", what, "Take the first sign away if it does not belong to the label.", 3


def _long(text: str, limits: Limits) -> tuple[str, str, str, int]:
    over = len(text) > limits.label_characters
    what = f"The cell holds {len(text)} characters, which no label carries; all are kept." if over else ""
    return "cell.very_long", what, "Shorten the label; put the rest on a sheet of its own.", 3


def _direction(text: str, _limits: Limits) -> tuple[str, str, str, int]:
    what = (
        "The words run from right to left; they are kept in their order."
        if _RIGHT_TO_LEFT.search(text)
        else ""
    )
    return "cell.right_to_left", what, "Put an English label beside it.", 4


def _lost_letters(text: str, _limits: Limits) -> tuple[str, str, str, int]:
    what = "A sign could not be read and stands as \ufffd." if "\ufffd" in text else ""
    return "cell.lost_sign", what, "Type the word again; save the list as UTF-8.", 3


_CHECKS: tuple[Check, ...] = (_html, _leading, _long, _direction, _lost_letters)


def look_at(text: str, place: Place, limits: Limits) -> tuple[str, list[Problem]]:
    """The cell's words without unseen signs, and a Problem for everything odd about them."""
    if (
        text.isascii()
        and len(text) < 200
        and text.isprintable()
        and "<" not in text
        and text[:1] not in "=@+-"
    ):
        return text, []
    cleaned, hidden = _hidden(text)
    problems = []
    if hidden:
        problems.append(
            problem(
                str(place),
                "cell.unseen_signs",
                f"The cell held {hidden}; they were left out of the label.",
                "Type the words again.",
                found=ascii(text),
            )
        )
    for check in _CHECKS:
        code, what, remedy, severity = check(cleaned, limits)
        if what:
            problems.append(problem(str(place), code, what, remedy, found=cleaned, severity=severity))
    return cleaned[: limits.cell_characters], problems


def look_at_formulas(grid: Grid, file: str) -> list[Problem]:
    """One Problem per formula cell: what was read from it and that it was not carried out; more than 40 are summed up."""
    problems = []
    for (row, column), words in sorted(grid.formulas.items())[:40]:
        value = grid.cell(row, column)
        what = f"The cell holds a formula; its saved value {value!r} was read and nothing was carried out."
        if not value:
            what = "The cell holds a formula without a saved value; it was left empty and nothing was carried out."
        problems.append(
            problem(
                str(Place(file, grid.name, row + grid.first_row, column)),
                "cell.formula",
                what,
                "If the value matters, write it into the cell as a value.",
                found=words,
                severity=4 if value else 3,
            )
        )
    if len(grid.formulas) > 40:
        problems.append(
            problem(
                f"{file}, sheet {grid.name}",
                "cell.formula",
                f"{len(grid.formulas) - 40} more cells hold formulas; their saved values were read.",
                "Save the list with values only.",
                severity=4,
            )
        )
    return problems
