"""Formula injection: every column of every table that goes out, with every sign that begins a formula.

Signs: OWASP, CSV injection (= + - @ tab return; line feed and full-width forms from memory). What is checked is what the
file holds, read with openpyxl: a cell is a word ("s") that begins with none of them, and a number stays a number.
"""

import csv
import io
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner

from planish.doors.cli.main import planish
from planish.doors.papers.tables import csv_table, json_table, xlsx_table

PAYLOADS = (
    "=cmd|' /C calc'!A0", "+1+1", "-2+3", "@SUM(A1)", "\t=1+1", "\r=1+1", "\n=1+1", "\0=1+1", "\x1b=1+1", "＝1+1", "＋1",
    "－1", "＠A1", '=HYPERLINK("http://example.invalid","x")', "-12.5",
)  # fmt: skip
STARTS = tuple("=+-@\t\r\n＝＋－＠")


def cells(book: bytes) -> list[openpyxl.cell.cell.Cell]:
    read = openpyxl.load_workbook(io.BytesIO(book))
    return [cell for page in read for row in page.iter_rows() for cell in row if cell.value is not None]


def inert(book: bytes) -> None:
    found = cells(book)
    assert found
    for cell in found:
        assert cell.data_type in ("s", "n", "b"), (cell.coordinate, cell.value)
        if cell.data_type == "s":
            assert not str(cell.value).startswith(STARTS), (cell.coordinate, cell.value)


@pytest.mark.parametrize("payload", PAYLOADS)
def test_in_every_column_of_a_table_words_are_inert_and_numbers_stay_numbers(payload: str) -> None:
    columns, rows = [payload, "b", payload], [[payload, -12.5, payload], [1, payload, -3]]
    book = xlsx_table(columns, rows, sheet=payload, notes={(0, 0): payload})
    inert(book)
    assert [cell.value for cell in cells(book) if cell.data_type == "n"] == [-12.5, 1, -3]
    text = csv_table(columns, rows).decode("utf-8-sig")
    for row in csv.reader(io.StringIO(text, newline="")):
        for cell in row:
            assert cell in ("-12.5", "-3") or not cell.startswith(STARTS), cell
            assert "\0" not in cell
    assert json_table(["a", "b", "c"], rows)


SENT = [
    one for one in PAYLOADS if not set("\0\x1b") & set(one)
]  # such bytes are refused at the gate, as no text has them
FIELDS = (
    "No",
    "Description",
    "Price",
    "Material",
    "Maker",
    "Date",
    "Origin",
    "Height",
    "Weight",
    "Provenance",
    "Remarks",
)


@pytest.mark.parametrize("field", FIELDS)
def test_a_list_with_formulas_in_any_column_comes_out_of_the_check_inert(tmp_path: Path, field: str) -> None:
    """The one workbook that planish sends back: a list checked at home."""
    plain = dict.fromkeys(FIELDS, "") | {"Description": "Brass candlestick, George I, 1911", "Price": "5"}
    rows = [[str(n), *[plain[name] for name in FIELDS[1:]]] for n in range(1, len(SENT) + 1)]
    for row, payload in zip(rows, SENT, strict=True):
        row[FIELDS.index(field)] = payload
    out = io.StringIO(newline="")
    csv.writer(out).writerows([FIELDS, *rows])
    sent, back = tmp_path / "list.csv", tmp_path / "checked.xlsx"
    sent.write_text(out.getvalue(), encoding="utf-8", newline="")
    said = CliRunner().invoke(planish, ["check", str(sent), "--rules", "saltmere", "--xlsx", str(back)])
    assert said.exception is None or isinstance(said.exception, SystemExit), said.output
    assert back.is_file(), said.output
    inert(back.read_bytes())
