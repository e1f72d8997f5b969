"""Tables out: CSV, XLSX and JSON that open safely. Words that look like a formula are neutralised, numbers stay numbers."""

import csv
import io
import json
import math
from collections.abc import Iterable, Sequence
from typing import Any

Cell = str | int | float | bool | None
_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
_CONTROL = {code: None for code in range(32) if code not in (9, 10, 13)}


def safe_words(words: str) -> str:
    """Words that a spreadsheet will show and never carry out: an apostrophe before a leading = + - @, tab or line end.

    Control signs are left out first: one before the = would hide it from here and from no spreadsheet. Following OWASP's
    advice on CSV injection (its line feed and full-width forms from memory); that a spreadsheet hides the apostrophe is common practice, no source.
    """
    plain = words.translate(_CONTROL)
    return "'" + plain if plain.startswith(_STARTS) else plain


def _safe(cell: Cell) -> Cell:
    return safe_words(cell) if isinstance(cell, str) else cell


def csv_table(columns: Sequence[str], rows: Iterable[Sequence[Cell]], delimiter: str = ",") -> bytes:
    """A table as CSV (RFC 4180: CRLF, quotes doubled), UTF-8 with a byte order mark so that spreadsheets read its signs."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=delimiter, lineterminator="\r\n")
    writer.writerow([safe_words(column) for column in columns])
    for row in rows:
        writer.writerow(["" if cell is None else _safe(cell) for cell in row])
    return b"\xef\xbb\xbf" + out.getvalue().encode()


def json_table(columns: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """A table as a JSON list of objects; words stay as they are, for nothing in JSON is carried out."""
    entries = [dict(zip(columns, row, strict=True)) for row in rows]
    return (json.dumps(entries, ensure_ascii=False, indent=1) + "\n").encode()


def xlsx_table(
    columns: Sequence[str],
    rows: Iterable[Sequence[Cell]],
    *,
    sheet: str = "List",
    widths: Sequence[int] = (),
    notes: dict[tuple[int, int], str] | None = None,
) -> bytes:
    """A table as a workbook: headings bold and frozen, words wrapped, every word kept as a word. It prints across, as wide
    as the paper and with its head on every sheet.

    `widths` in characters by column; `notes` are cell comments by (row, column), rows from 0 below the headings: a cell
    that bears one is tinted.
    """
    import openpyxl
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter

    book = openpyxl.Workbook()
    page: Any = book.active
    page.title = (
        "".join(sign for sign in sheet if sign.isprintable() and sign not in "[]:*?/\\'")[:31] or "List"
    )
    for cell in _fill_row(page, 1, columns):
        cell.font = Font(bold=True)
    words = Alignment(wrap_text=True, vertical="top")
    for number, row in enumerate(rows, 2):
        page.row_dimensions[number].height = _height(row, widths)
        for cell in _fill_row(page, number, row):
            cell.alignment = words
    page.freeze_panes = "A2"
    for column, width in enumerate(widths, 1):
        page.column_dimensions[get_column_letter(column)].width = width
    _add_notes(page, notes or {})
    _print_across(page)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _height(row: Sequence[Cell], widths: Sequence[int]) -> float | None:
    """Points for a row whose words wrap, 15 for each line of its fullest cell (409 at most, as workbooks allow); None
    leaves it to the program."""
    if not widths or not row:
        return None
    lines = [
        sum(max(1, math.ceil(len(part) / (width * 0.95))) for part in str(cell or "").split("\n"))
        for cell, width in zip(row, widths, strict=False)
    ]
    return min(409.0, 15.0 * max(lines, default=1))


def _print_across(page: Any) -> None:
    from openpyxl.worksheet.properties import PageSetupProperties

    page.page_setup.orientation, page.page_setup.paperSize = "landscape", page.PAPERSIZE_A4
    page.page_setup.fitToWidth, page.page_setup.fitToHeight = 1, 0
    page.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    page.print_title_rows = "1:1"


def _fill_row(page: Any, number: int, row: Sequence[Cell]) -> list[Any]:
    """Fill one row and give back its cells; asking the page for a row would look through every cell it has."""
    filled = []
    for column, value in enumerate(row, 1):
        if value is None or value == "":
            continue
        cell = page.cell(row=number, column=column)
        if isinstance(value, str):
            cell.value = safe_words(value)[:32_767]
            cell.data_type = "s"
        else:
            cell.value = value
        filled.append(cell)
    return filled


def _add_notes(page: Any, notes: dict[tuple[int, int], str]) -> None:
    from openpyxl.comments import Comment
    from openpyxl.styles import PatternFill

    tint = PatternFill("solid", fgColor="FBF0D2")
    for (row, column), words in notes.items():
        lines = words.count("\n") + 1
        said = Comment(words.translate(_CONTROL), "planish", width=420, height=60 + 40 * lines)
        cell = page.cell(row=row + 2, column=column + 1)
        cell.comment, cell.fill = said, tint
