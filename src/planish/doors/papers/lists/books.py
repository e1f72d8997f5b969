"""Workbooks: XLSX with merged areas, colours and formulas through openpyxl; XLS, ODS and very long XLSX through calamine."""

import io
import warnings
from datetime import date, datetime
from typing import Any

from planish.doors.papers.lists.gate import broken, locked, rebuilt
from planish.doors.papers.lists.grids import Grid, Limits, Opened, Unreadable, as_text, problem
from planish.records import Problem

_LONG_SHEET = 20_000_000  # bytes of one sheet's XML beyond which colours and formulas are not looked at


def open_book(name: str, data: bytes, form: str, limits: Limits) -> Opened:
    """Open a workbook of `form` xlsx, ods or xls. Raises Unreadable with the reason in words."""
    if form == "xls":
        return Opened(form, _quick(name, data, limits, []))
    clean = rebuilt(name, data, limits)
    problems: list[Problem] = []
    if form == "ods" or len(clean) > _LONG_SHEET // 8:
        grids = _quick(name, clean, limits, problems)
        if form == "xlsx":
            problems.append(_only_words(name))
        return Opened(form, grids, problems=problems)
    return Opened(form, _full(name, clean, limits, problems), problems=problems)


def _only_words(name: str) -> Problem:
    return problem(
        name,
        "list.only_words",
        "The workbook is very long: its words were read, its colours and formulas were not looked at.",
        "If colours mean something in this list, write it in a column of its own.",
        severity=4,
    )


def _check_sheets(name: str, count: int, limits: Limits) -> None:
    if count > limits.sheets:
        raise Unreadable(
            problem(
                name,
                "list.too_many_sheets",
                f"The workbook has {count} sheets; up to {limits.sheets} are read.",
                "Send only the sheets that list this stand's objects.",
                severity=2,
            )
        )


def check_extent(name: str, sheet: str, rows: int, columns: int, limits: Limits) -> None:
    """Refuse a sheet with more rows, columns or cells than the limits."""
    if rows > limits.rows or columns > limits.columns or rows * columns > limits.cells:
        raise Unreadable(
            problem(
                f"{name}, sheet {sheet}",
                "list.too_long",
                f"The sheet has {rows} rows and {columns} columns; up to {limits.rows} rows and "
                f"{limits.columns} columns are read.",
                "Send the list in parts, without empty formatted rows and columns.",
                severity=2,
            )
        )


def _quick(name: str, data: bytes, limits: Limits, problems: list[Problem]) -> list[Grid]:
    """Words only, by calamine."""
    import python_calamine as calamine

    try:
        book = calamine.CalamineWorkbook.from_filelike(io.BytesIO(data))
        _check_sheets(name, len(book.sheet_names), limits)
        grids = []
        for sheet_name in book.sheet_names:
            grid = _quick_sheet(name, book, sheet_name, limits)
            if grid is not None:
                grids.append(grid)
    except Unreadable:
        raise
    except Exception as error:
        if "password" in str(error).lower():
            raise locked(name) from error
        raise broken(name, str(error)[:120]) from error
    del problems
    return grids


def _quick_sheet(name: str, book: Any, sheet_name: str, limits: Limits) -> Grid | None:
    sheet = book.get_sheet_by_name(sheet_name)
    check_extent(name, sheet_name, sheet.total_height, sheet.total_width, limits)
    grid = Grid(sheet_name, [])
    for row, cells in enumerate(sheet.to_python(skip_empty_area=False)):
        grid.rows.append([as_text(value) for value in cells])
        for column, value in enumerate(cells):
            day = as_datetime(value)
            if day is not None:
                grid.dates[row, column] = day
    merged = getattr(sheet, "merged_cell_ranges", None) or []
    grid.merged = [(top, left, bottom, right) for (top, left), (bottom, right) in merged]
    return grid if grid.rows else None


def as_datetime(value: object) -> datetime | None:
    """The date in a cell as a datetime; times and durations alone are no dates."""
    if isinstance(value, datetime):
        return value.replace(tzinfo=None)
    if isinstance(value, date):
        return datetime(value.year, value.month, value.day)
    return None


def _full(name: str, data: bytes, limits: Limits, problems: list[Problem]) -> list[Grid]:
    """Words, merged areas, colours and formulas, by openpyxl."""
    import openpyxl

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            book = openpyxl.load_workbook(io.BytesIO(data))
    except Exception as error:
        raise broken(name, f"{type(error).__name__}: {error}"[:120]) from error
    _check_sheets(name, len(book.sheetnames), limits)
    grids = [
        _full_sheet(name, book[sheet], limits)
        for sheet in book.sheetnames
        if hasattr(book[sheet], "iter_rows")
    ]
    for grid in grids:
        grid.epoch_1904 = book.epoch.year == 1904
    if any(grid.formulas for grid in grids):
        _fill_formula_values(name, data, grids, limits, problems)
    return [grid for grid in grids if any(any(cells) for cells in grid.rows)]


def _full_sheet(name: str, sheet: Any, limits: Limits) -> Grid:
    check_extent(name, sheet.title, sheet.max_row or 0, sheet.max_column or 0, limits)
    hidden = "" if sheet.sheet_state == "visible" else "hidden"
    grid = Grid(sheet.title, [], unseen=hidden)
    for row, cells in enumerate(sheet.iter_rows(min_row=1, min_col=1)):
        texts = [as_text(cell.value) for cell in cells]
        for column, cell in enumerate(cells):
            if cell.value is not None:
                _note(grid, row, column, cell, texts)
        grid.rows.append(texts)
    grid.merged = [
        (r.min_row - 1, r.min_col - 1, r.max_row - 1, r.max_col - 1) for r in sheet.merged_cells.ranges
    ]
    return grid


def _note(grid: Grid, row: int, column: int, cell: Any, texts: list[str]) -> None:
    if cell.data_type == "f":
        words = getattr(cell.value, "text", None) or cell.value
        grid.formulas[row, column] = str(words)
        texts[column] = ""
    elif cell.data_type == "d":
        day = as_datetime(cell.value)
        if day is not None:
            grid.dates[row, column] = day
    if cell.has_style and cell.fill.fill_type == "solid":
        shade = _shade(cell.fill.fgColor)
        if shade:
            grid.shaded[row, column] = shade


def _shade(colour: Any) -> str:
    """RRGGBB of a ground, or a word for a theme colour; white and black grounds say nothing."""
    if colour.type == "rgb" and isinstance(colour.rgb, str):
        shade = colour.rgb[-6:].upper()
        return "" if shade in {"FFFFFF", "000000"} else shade
    if colour.type == "theme":
        return "" if colour.theme == 0 and not colour.tint else f"theme {colour.theme}"
    return "" if colour.indexed in {8, 9, 64, 65} else f"colour {colour.indexed}"


def _fill_formula_values(
    name: str, data: bytes, grids: list[Grid], limits: Limits, problems: list[Problem]
) -> None:
    """Put the value that was saved with each formula in its place; nothing is ever computed."""
    values = {grid.name: grid for grid in _quick(name, data, limits, problems)}
    for grid in grids:
        saved = values.get(grid.name)
        for row, column in grid.formulas:
            if saved is not None and row < len(saved.rows):
                grid.rows[row][column] = saved.cell(row, column)
