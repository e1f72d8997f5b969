"""The lists as files, each in the form and with the habits of its exhibitor."""

import csv
import io
import json
import zipfile
from collections.abc import Sequence
from datetime import datetime
from xml.sax.saxutils import escape

import openpyxl
import xlwt
from openpyxl.styles import Font, PatternFill

from making.stock import Piece

SOLD = PatternFill("solid", fgColor="FFF4B6B6")
FIXED = (2026, 9, 1, 9, 0, 0)


def settled(book: openpyxl.Workbook) -> bytes:
    """A workbook's bytes without the hour of saving, so that the same stock gives the same file."""
    first = io.BytesIO()
    book.save(first)
    out = io.BytesIO()
    with zipfile.ZipFile(first) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            content = old.read(name)
            if name == "docProps/core.xml":
                content = b"".join(_untimed(content))
            new.writestr(zipfile.ZipInfo(name, FIXED), content, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def _untimed(content: bytes) -> list[bytes]:
    import re

    return [re.sub(rb"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", b"2026-09-01T09:00:00Z", content)]


def messy_xlsx(title: str, pieces: Sequence[Piece]) -> bytes:
    """Titles above, merged section headings and places, sub-totals as formulas, sold rows coloured, years become days."""
    book = openpyxl.Workbook()
    page = book.active
    page.title = "Stock"
    page.append([title])
    page.merge_cells("A1:G1")
    page["A1"].font = Font(bold=True, size=14)
    page.append(["List for the autumn fair. Pink = sold"])
    page.append([])
    page.append(["Ref", "Description", "Date", "Origin", "Height cm", "Diam. cm", "Price £"])
    for number, start in enumerate(range(0, len(pieces), 10)):
        group = pieces[start : start + 10]
        page.append(
            [("FLAGONS AND THE TALL THINGS", "PLATES", "SMALL THINGS", "SINCE THE SUMMER")[number % 4]]
        )
        page.merge_cells(start_row=page.max_row, start_column=1, end_row=page.max_row, end_column=7)
        first = page.max_row + 1
        for piece in group:
            _messy_row(page, piece)
        _merge_places(page, first, page.max_row)
        page.append([None, "Sub-total", None, None, None, None, f"=SUM(G{first}:G{page.max_row})"])
    page.append([None, "TOTAL", None, None, None, None, f"=SUM(G5:G{page.max_row})/2"])
    return settled(book)


def _messy_row(page, piece: Piece) -> None:
    parts = piece.parts
    if piece.fault is not None and "typed" not in parts:
        page.append([int(piece.number), piece.says, None, None, None, None, piece.price])
    else:
        height = float(parts["cm"]) if parts["role"] != "diameter" else None
        across = float(parts["cm"]) if parts["role"] == "diameter" else None
        page.append(
            [int(piece.number), parts["what"], parts["date"], parts["place"], height, across, piece.price]
        )
        if "typed" in parts:
            cell = page.cell(row=page.max_row, column=3)
            cell.value = int(parts["typed"])
            cell.number_format = "dd/mm/yyyy"
    if piece.sold:
        for cell in page[page.max_row]:
            cell.fill = SOLD


def _merge_places(page, first: int, last: int) -> None:
    """Merge the first run of two equal places, as someone tidy would."""
    for row in range(first, last):
        here, below = page.cell(row=row, column=4).value, page.cell(row=row + 1, column=4).value
        if here and here == below:
            page.cell(row=row + 1, column=4).value = None
            page.merge_cells(start_row=row, start_column=4, end_row=row + 1, end_column=4)
            return


def plain_xlsx(pieces: Sequence[Piece], stand: str) -> bytes:
    """One row of headings; a column with the stand, which may be wrong throughout."""
    book = openpyxl.Workbook()
    page = book.active
    page.title = "List"
    page.append(["Stand", "Stock No.", "Description", "Asking price"])
    for piece in pieces:
        page.append([stand, piece.number, piece.says, f"£{piece.price:,}"])
    return settled(book)


def two_line_xlsx(title: str, pieces: Sequence[Piece]) -> bytes:
    """Headings in two lines under a merged group, a second sheet that is no list."""
    book = openpyxl.Workbook()
    page = book.active
    page.title = "Garden"
    page.append([title])
    page.append(["Stock", "Full description", "Measurements", None, "Price"])
    page.append([None, None, "H cm", "W cm", None])
    page.merge_cells("C2:D2")
    for piece in pieces:
        page.append([piece.number, piece.says, None, None, piece.price])
    notes = book.create_sheet("Lorry")
    notes.append(["Load the lead last. Two people for anything over 60 kg."])
    return settled(book)


def german_csv(pieces: Sequence[Piece]) -> bytes:
    """Semicolons, decimal commas, points for thousands, Latin-1, a line with the sum at the end."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=";", lineterminator="\r\n")
    writer.writerow(
        [
            "Nr.",
            "Bezeichnung",
            "Datierung",
            "Herkunft",
            "Höhe cm",
            "Durchmesser cm",
            "Länge cm",
            "Breite cm",
            "Preis",
        ]
    )
    columns = ("height", "diameter", "length", "width")
    for at, piece in enumerate(pieces):
        sums = f"{piece.price:,}".replace(",", ".") + ",00"
        if piece.fault is not None or at % 5 in (1, 3):
            writer.writerow([piece.number, piece.says, "", "", "", "", "", "", sums])
            continue
        parts = piece.parts
        sizes = [parts["cm"].replace(".", ",") if role == parts["role"] else "" for role in columns]
        writer.writerow([piece.number, parts["what"], parts["date"], parts["place"], *sizes, sums])
    total = f"{sum(piece.price for piece in pieces):,}".replace(",", ".") + ",00"
    writer.writerow(["", "Summe", "", "", "", "", "", "", total])
    return out.getvalue().encode("latin-1", errors="replace")


def delimited(pieces: Sequence[Piece], delimiter: str, encoding: str, headings: Sequence[str]) -> bytes:
    """A plain table of number, words, price."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=delimiter, lineterminator="\r\n")
    writer.writerow(headings)
    for piece in pieces:
        writer.writerow([piece.number, piece.says, f"£{piece.price}"])
    return out.getvalue().encode(encoding)


def typed(title: str, pieces: Sequence[Piece], encoding: str, dotted: bool) -> bytes:
    """A list as typed: headings in capitals, entries by number, prices at the end of the line or after dots."""
    lines = [title, "=" * len(title), ""]
    for at, piece in enumerate(pieces):
        if at % 12 == 0:
            lines += ["", ("FROM THE KITCHEN", "BY THE HEARTH", "ON THE TABLE", "THE REST")[at // 12 % 4], ""]
        says = piece.says
        if dotted:
            lines.append(f"{piece.number}. {says} ........ £{piece.price:,}")
        else:
            middle = says.find(" ", len(says) // 2)
            lines += [f"{piece.number}. {says[:middle]}", f"      {says[middle + 1 :]}    £{piece.price:,}"]
    return ("\r\n".join(lines) + "\r\n").encode(encoding, errors="replace")


def xls(pieces: Sequence[Piece]) -> bytes:
    """The old binary form of a workbook."""
    book = xlwt.Workbook(encoding="utf-8")
    page = book.add_sheet("Iron")
    for column, heading in enumerate(("Item no", "Label", "Price GBP")):
        page.write(0, column, heading)
    for row, piece in enumerate(pieces, 1):
        for column, value in enumerate((piece.number, piece.says, piece.price)):
            page.write(row, column, value)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


_ODS = (
    '<?xml version="1.0" encoding="UTF-8"?><office:document-content office:version="1.3" '
    'xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
    'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"><office:body><office:spreadsheet><table:table table:name="Ropewalk">{rows}'
    "</table:table></office:spreadsheet></office:body></office:document-content>"
)
_MANIFEST = (
    '<?xml version="1.0" encoding="UTF-8"?><manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0" manifest:version="1.3">'
    '<manifest:file-entry manifest:full-path="/" manifest:media-type="application/vnd.oasis.opendocument.spreadsheet"/>'
    '<manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml"/></manifest:manifest>'
)


def ods(title: str, pieces: Sequence[Piece]) -> bytes:
    """An OpenDocument sheet (ISO/IEC 26300) with a title row above its headings, written by hand."""
    rows = [_ods_row([title]), _ods_row([]), _ods_row(["No.", "Label text", "Price"])]
    rows += [_ods_row([piece.number, piece.says, piece.price]) for piece in pieces]
    out = io.BytesIO()
    kind = "application/vnd.oasis.opendocument.spreadsheet"
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(zipfile.ZipInfo("mimetype", FIXED), kind, zipfile.ZIP_STORED)
        for name, words in (
            ("content.xml", _ODS.format(rows="".join(rows))),
            ("META-INF/manifest.xml", _MANIFEST),
        ):
            archive.writestr(zipfile.ZipInfo(name, FIXED), words, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def _ods_row(cells: Sequence[str | int]) -> str:
    made = []
    for cell in cells:
        if isinstance(cell, int):
            made.append(
                f'<table:table-cell office:value-type="float" office:value="{cell}"><text:p>{cell}</text:p></table:table-cell>'
            )
        else:
            made.append(
                f'<table:table-cell office:value-type="string"><text:p>{escape(cell)}</text:p></table:table-cell>'
            )
    return f"<table:table-row>{''.join(made) or '<table:table-cell/>'}</table:table-row>"


def as_json(title: str, pieces: Sequence[Piece]) -> bytes:
    """A JSON document as a shop's programme gives it out."""
    objects = [
        {"number": p.number, "label": p.says, "price": {"amount": p.price, "currency": "GBP"}} for p in pieces
    ]
    return (
        json.dumps({"exhibitor": title, "objects": objects}, ensure_ascii=False, indent=1) + "\n"
    ).encode()


def json_lines(pieces: Sequence[Piece]) -> bytes:
    """One object to a line."""
    lines = [
        json.dumps({"ref": p.number, "description": p.says, "price": f"£{p.price}"}, ensure_ascii=False)
        for p in pieces
    ]
    return ("\n".join(lines) + "\n").encode()


BUILT = datetime(2026, 9, 1)
