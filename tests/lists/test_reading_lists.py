"""Lists as people send them: encodings, headings, merged cells, totals, colours, years turned into days."""

import csv
import io
from datetime import datetime

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl.styles import PatternFill
from openpyxl.utils.datetime import CALENDAR_MAC_1904

from planish.doors.papers.lists import mapping_words, read_list
from planish.doors.papers.lists.grids import HOUSE_LIMITS, letter, serial
from planish.doors.papers.lists.texts import read_table, sniff
from planish.doors.papers.tables import csv_table, json_table, safe_words, xlsx_table

PLAIN = "No,Description,Date,Price\r\n1,Pewter flagon,c.1720,£450\r\n2,Brass candlestick,c.1760,£280\r\n"


def saved(book: openpyxl.Workbook) -> bytes:
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def codes(taken) -> list[str]:
    return [problem.code for problem in taken.problems]


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252", "latin-1"]
)
def test_every_encoding_reads_the_same(encoding: str) -> None:
    taken = read_list(PLAIN.encode(encoding), "a.csv")
    assert [(o.number, o.text, o.price) for o in taken.objects] == [
        ("1", "Pewter flagon. c.1720", "£450"),
        ("2", "Brass candlestick. c.1760", "£280"),
    ]


def test_letters_of_old_macintosh_and_dos_files_are_found() -> None:
    text = "No;Description;Size\r\n1;Étui, doré, h 9½ cm;9½\r\n2;Kännchen für Öl;£5\r\n"
    assert (
        read_list(text.replace("½", "").encode("mac_roman"), "a.csv")
        .objects[1]
        .text.startswith("Kännchen für Öl")
    )
    assert read_list(text.encode("cp850"), "a.csv").objects[1].text.startswith("Kännchen für Öl")


@pytest.mark.parametrize(
    ("line", "fields"),
    [  # RFC 4180 section 2, rules 5 to 7: quoted fields, quoted line breaks and commas, doubled quotes
        ('"aaa","bbb","ccc"\r\nzzz,yyy,xxx', [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]),
        ('"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx', [["aaa", "b\r\nbb", "ccc"], ["zzz", "yyy", "xxx"]]),
        ('"aaa","b""bb","ccc"', [["aaa", 'b"bb', "ccc"]]),
    ],
)
def test_csv_follows_rfc_4180(line: str, fields: list[list[str]]) -> None:
    assert read_table("a.csv", line, ",", HOUSE_LIMITS).rows == fields


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
def test_the_delimiter_is_found_although_others_stand_in_the_words(delimiter: str) -> None:
    rows = [
        ["No", "Words", "H"],
        ["1", "Pewter, English; a plate", "23,5"],
        ["2", "Brass; two, and a pan", "1,25"],
    ]
    out = io.StringIO()
    csv.writer(out, delimiter=delimiter).writerows(rows)
    assert sniff(out.getvalue(), "csv") == delimiter


@pytest.mark.parametrize(
    ("day", "number"),
    [  # ECMA-376 Part 1, 18.17.4.1: 1900 date system; 60 is a day that never was, so 1 March 1900 is 61
        (datetime(1900, 1, 1), 1),
        (datetime(1900, 2, 28), 59),
        (datetime(1900, 3, 1), 61),
        (datetime(2008, 1, 1), 39448),
    ],
)
def test_serials_follow_the_1900_date_system(day: datetime, number: int) -> None:
    assert serial(day) == number


def test_serials_of_the_1904_system_begin_at_nought() -> None:
    assert serial(datetime(1904, 1, 1), epoch_1904=True) == 0


@pytest.mark.parametrize("year", [1401, 1690, 1760, 1837, 1950, 2024])
@pytest.mark.parametrize("mac", [False, True])
def test_a_year_typed_into_a_date_cell_is_put_back(year: int, mac: bool) -> None:
    book = openpyxl.Workbook()
    if mac:
        book.epoch = CALENDAR_MAC_1904
    page = book.active
    page.append(["No", "Description", "Date"])
    page.append([1, "Pewter flagon, English", year])
    page["C2"].number_format = "dd/mm/yyyy"
    taken = read_list(saved(book), "a.xlsx")
    assert taken.objects[0].fields["date"] == str(year)
    assert codes(taken) == ["cell.year_became_date"]
    assert taken.problems[0].where == "a.xlsx, sheet Sheet, cell C2"


def test_a_year_that_became_a_day_is_put_back_from_text_as_well() -> None:
    taken = read_list(b"No,Description,Date\r\n1,Pewter flagon,25/10/1904\r\n2,A pan,1904-10-25\r\n", "a.csv")
    assert [o.fields["date"] for o in taken.objects] == ["1760", "1760"]
    assert codes(taken) == ["cell.year_became_date"] * 2


def test_a_real_day_in_the_date_column_is_asked_about_and_kept() -> None:
    taken = read_list(b"No,Description,Date\r\n1,Pewter flagon,2024-05-03\r\n2,Pan,c.1800\r\n", "a.csv")
    assert taken.objects[0].fields["date"] == "2024-05-03"
    assert codes(taken) == ["cell.day_not_year"]


def messy() -> bytes:
    book = openpyxl.Workbook()
    page = book.active
    page.title = "Stock"
    page.append(["Harbour Metals, stand 4"])
    page.append([])
    page.append(["Ref", "Description", "Measurements", None, "Price"])
    page.append([None, None, "H cm", "W cm", None])
    page.merge_cells("C3:D3")
    page.append(["PEWTER"])
    page.append(["A1", "Flagon, English, c.1720", 28, 15, 450])
    page.append(["A2", "Charger, c.1690", 4, 51.5, 900])
    page.append([None, "Sub-total", None, None, 1350])
    page.append(["Ref", "Description", "H cm", "W cm", "Price"])
    page.append(["BRASS"])
    page.append(["A3", "Candlestick", 20, 12, 280])
    page.append(["A4", None, 21, 12, 300])
    page.merge_cells("B11:B12")
    for column in "ABCDE":
        page[f"{column}7"].fill = PatternFill("solid", fgColor="FFFF9999")
    page["E13"] = "=SUM(E6:E12)"
    page["B13"] = "Total"
    return saved(book)


def test_a_messy_workbook_is_read_row_by_row() -> None:
    taken = read_list(messy(), "stall.xlsx")
    assert [row.kind for row in taken.rows] == [
        "title", "blank", "heading", "heading", "section", "object", "object", "total", "heading", "section",
        "object", "object", "total",
    ]  # fmt: skip
    assert [(o.number, o.text, o.fields["section"]) for o in taken.objects] == [
        ("A1", "Flagon, English, c.1720. Height 28 cm. Width 15 cm", "PEWTER"),
        ("A2", "Charger, c.1690. Height 4 cm. Width 51.5 cm", "PEWTER"),
        ("A3", "Candlestick. Height 20 cm. Width 12 cm", "BRASS"),
        ("A4", "Candlestick. Height 21 cm. Width 12 cm", "BRASS"),
    ]
    assert codes(taken) == ["cell.formula", "sheet.merged_cells", "row.coloured"]
    assert taken.problems[2].where == "stall.xlsx, sheet Stock, row 7"


def test_openpyxl_and_calamine_read_the_same_words() -> None:
    import python_calamine

    rows = (
        python_calamine.CalamineWorkbook.from_filelike(io.BytesIO(messy())).get_sheet_by_index(0).to_python()
    )
    raw = read_list(messy(), "stall.xlsx").rows
    for theirs, ours in zip(rows[5:7], raw[5:7], strict=True):
        assert [str(int(c)) if isinstance(c, float) and c.is_integer() else str(c) for c in theirs] == list(
            ours.cells.values()
        )


def test_a_formula_is_never_carried_out_and_words_like_one_are_kept() -> None:
    book = openpyxl.Workbook()
    page = book.active
    page.append(["No", "Description", "Price"])
    page.append([1, "placeholder", 10])
    page["B2"].value = "=cmd|' /C calc'!A0"
    page["B2"].data_type = "s"
    page.append([2, "=1+1", 12])
    taken = read_list(saved(book), "a.xlsx")
    assert taken.rows[1].cells["Description"] == "=cmd|' /C calc'!A0"
    assert codes(taken) == ["cell.formula", "cell.like_formula"]


def test_odd_words_are_kept_and_named() -> None:
    words = ["<b>Pewter</b> flagon", "מנורה מפליז", "x" * 10_000, "9¾in brass pan", "tray\u202egnp"]
    out = csv_table(["No", "Description"], [[n, w] for n, w in enumerate(words, 1)])
    taken = read_list(out, "a.csv")
    assert [o.text for o in taken.objects] == [*words[:4], "traygnp"]
    assert codes(taken) == ["cell.html", "cell.right_to_left", "cell.very_long", "cell.unseen_signs"]


def test_two_objects_with_one_number_are_both_kept_and_named() -> None:
    taken = read_list(b"No,Description\r\n7,Pewter plate\r\n7,Brass pan\r\n", "a.csv")
    assert [o.text for o in taken.objects] == ["Pewter plate", "Brass pan"]
    assert codes(taken) == ["row.number_twice"]


def test_decimal_commas_are_read_as_points_and_said_once() -> None:
    data = "Nr;Bezeichnung;Höhe cm;Preis\r\n1;Zinnkanne;23,5;450,00\r\n2;Kessel;12,25;90,00\r\n".encode(
        "latin-1"
    )
    taken = read_list(data, "liste.csv")
    assert [o.text for o in taken.objects] == ["Zinnkanne. Height 23.5 cm", "Kessel. Height 12.25 cm"]
    assert codes(taken) == ["list.encoding_guessed", "column.decimal_commas"]


def test_a_typed_list_is_read_by_its_numbers() -> None:
    text = (
        "Kettle & Trivet, our list\n\nPEWTER\n12. Pewter flagon, c.1720 ........ £450\n"
        "13. A brass candlestick,\n    English, c.1760     £1,200\n\nIRON\n14) Trivet, wrought iron … POA\n"
    )
    taken = read_list(text.encode(), "list.txt")
    assert [(o.number, o.text, o.price) for o in taken.objects] == [
        ("12", "Pewter flagon, c.1720", "£450"),
        ("13", "A brass candlestick, English, c.1760", "£1,200"),
        ("14", "Trivet, wrought iron", "POA"),
    ]
    assert [o.raw.row for o in taken.objects] == [4, 5, 9]
    assert taken.problems == ()


def test_json_and_json_lines_read_alike() -> None:
    entries = '{"no": "1", "description": "Pewter plate", "size": {"height": "2 cm"}}'
    one = read_list(f"[{entries},{entries.replace('1', '2')}]".encode(), "a.json")
    lines = read_list(f"{entries}\n{entries.replace('1', '2')}\n".encode(), "a.jsonl")
    assert [(o.number, o.text) for o in one.objects] == [
        ("1", "Pewter plate. Height 2 cm"),
        ("2", "Pewter plate. Height 2 cm"),
    ]
    assert [o.text for o in lines.objects] == [o.text for o in one.objects]


@pytest.mark.parametrize(
    ("headings", "fields"),
    [
        (["Stock No.", "Description", "Asking price (£)"], ["number", "text", "price"]),
        (["Nr.", "Beschreibung", "Preis EUR"], ["number", "text", "price"]),
        (["N°", "Désignation", "Époque", "Prix"], ["number", "title", "date", "price"]),
        (["Nummer", "Omschrijving", "Datering", "Prijs"], ["number", "text", "date", "price"]),
        (["Numero", "Descrizione", "Epoca", "Prezzo"], ["number", "text", "date", "price"]),
        (["Ref", "Descripton", "H", "Diam."], ["number", "text", "height", "diameter"]),
    ],
)
def test_headings_of_five_languages_are_known(headings: list[str], fields: list[str]) -> None:
    rows = [[str(n), f"Object of pewter {n}", "1760", str(n + 20)][: len(headings)] for n in range(4)]
    assert [c.field for c in read_list(csv_table(headings, rows), "a.csv").columns] == fields


def test_a_list_without_headings_is_guessed_from_its_cells_and_says_so() -> None:
    data = "A1,A pewter flagon of good size with a domed lid,c.1720,£450\r\nA2,A brass candlestick with a square base cast in halves,c.1760,£280\r\n"
    taken = read_list(data.encode(), "a.csv")
    assert [c.field for c in taken.columns] == ["number", "text", "date", "price"]
    assert codes(taken) == ["sheet.no_headings"]


def test_a_mapping_overrules_the_guess_and_the_guess_can_be_written_as_one() -> None:
    data = b"No,Description,Date\r\n1,Pewter flagon,our best\r\n"
    taken = read_list(data, "a.csv", mapping='[columns]\nDate = "remarks"\n')
    assert taken.objects[0].text == "Pewter flagon"
    assert [c.why for c in taken.columns][2] == "the mapping"
    again = read_list(data, "a.csv", mapping=mapping_words(taken))
    assert again.objects == taken.objects


def test_a_mapping_that_cannot_be_read_is_a_problem_and_the_list_is_read() -> None:
    taken = read_list(PLAIN.encode(), "a.csv", mapping="[columns")
    assert codes(taken) == ["mapping.unreadable"]
    assert len(taken.objects) == 2


WORDS = st.text(st.characters(exclude_categories=["Cs", "Cc"], exclude_characters="\ufeff"), max_size=20)
TABLES = st.lists(st.lists(WORDS, min_size=3, max_size=3), min_size=1, max_size=8)


@given(TABLES)
@settings(max_examples=60, deadline=None)
def test_every_cell_written_comes_back_in_the_raw_rows(rows: list[list[str]]) -> None:
    columns = ["No", "Description", "Price"]
    # A sign alone under a heading is read as the heading's second line ("Price £", "Weight g"): a plain row stands between.
    rows = [["1", "Pewter plate", "5"], *rows]
    wanted = [[safe_words(cell) for cell in row] for row in rows]
    for name, data in (("a.csv", csv_table(columns, rows)), ("a.xlsx", xlsx_table(columns, rows))):
        raw = read_list(data, name).rows[1:]
        found = [[row.cells.get(column, "") for column in columns] for row in raw]
        while name == "a.xlsx" and len(found) < len(wanted):
            found.append(["", "", ""])
        assert found == wanted
    raw = read_list(json_table(columns, rows), "a.json").rows
    assert [[row.cells.get(column, "") for column in columns] for row in raw] == rows


@given(st.binary(max_size=400), st.sampled_from(["a.csv", "a.xlsx", "a.txt", "a.json", "a.xls"]))
@settings(max_examples=150, deadline=None)
def test_any_bytes_at_all_are_answered_and_raise_nothing(data: bytes, name: str) -> None:
    taken = read_list(data, name)
    assert taken.objects or taken.problems


def test_words_that_look_like_formulas_are_neutralised_and_numbers_stay_numbers() -> None:
    rows = [["=cmd|' /C calc'!A0", -5], ["+44", 1.5], ["@x", None], ["\tq", True], ["plain", 0]]
    page = openpyxl.load_workbook(io.BytesIO(xlsx_table(["a", "b"], rows))).active
    assert [(cell.value, cell.data_type) for cell in page["A"]][1:] == [
        ("'=cmd|' /C calc'!A0", "s"), ("'+44", "s"), ("'@x", "s"), ("'\tq", "s"), ("plain", "s"),
    ]  # fmt: skip
    assert [cell.value for cell in page["B"]][1:] == [-5, 1.5, None, True, 0]
    assert csv_table(["a", "b"], rows).decode("utf-8-sig").splitlines()[1] == "'=cmd|' /C calc'!A0,-5"


def test_columns_are_named_as_spreadsheets_name_them() -> None:
    assert [letter(n) for n in (0, 25, 26, 701, 702)] == ["A", "Z", "AA", "ZZ", "AAA"]
