"""A stranger's file gives a clear Problem, quickly, and never a traceback."""

import io
import struct
import zipfile
import zlib

import openpyxl
import pytest

from planish.doors.papers.lists import HOUSE_LIMITS, Limits, read_list, read_list_safely
from planish.records import TakenList


def book(sheets: int = 1, rows: int = 3) -> bytes:
    made = openpyxl.Workbook()
    for number in range(sheets):
        page = made.active if number == 0 else made.create_sheet(f"S{number}")
        page.append(["No", "Description", "Price"])
        for row in range(rows):
            page.append([row + 1, f"Pewter plate {row}", 10])
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def zipped(members: dict[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in members.items():
            archive.writestr(name, content)
    return out.getvalue()


def replaced(data: bytes, name: str, content: bytes) -> bytes:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        members = {member: archive.read(member) for member in archive.namelist()}
    members[name] = content
    return zipped(members)


def lying() -> bytes:
    """A sheet that says it is 100 bytes long and inflates to far more, with a checksum to match the first 100."""
    body = b"<worksheet>" + b" " * 5_000_000
    data = bytearray(zipped({"xl/workbook.xml": b"<workbook/>", "xl/worksheets/sheet1.xml": body}))
    size, crc = struct.pack("<I", len(body)), struct.pack("<I", zlib.crc32(body))
    said, said_crc = struct.pack("<I", 100), struct.pack("<I", zlib.crc32(body[:100]))
    assert data.count(size) == 2
    return bytes(data).replace(size, said).replace(crc, said_crc)


ENTITY = b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaa">]><workbook>&a;</workbook>'
OUTSIDE = (
    b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/hostname">]><workbook>&a;</workbook>'
)
OLE_LOCKED = (
    b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600 + "EncryptedPackage".encode("utf-16-le") + b"\0" * 900
)
ODS_LOCKED = zipped(
    {
        "mimetype": b"application/vnd.oasis.opendocument.spreadsheet",
        "content.xml": b"\x00garbage",
        "META-INF/manifest.xml": b"<manifest:manifest><manifest:encryption-data/></manifest:manifest>",
    }
)
CASES = {
    "an empty file": ("a.csv", b"", "list.empty"),
    "a file of spaces": ("a.csv", b"  \r\n \r\n", "list.empty"),
    "a binary called .csv": ("a.csv", bytes(range(256)) * 20, "list.not_a_list"),
    "a picture called .xlsx": ("a.xlsx", b"\x89PNG\r\n\x1a\n" + b"\0" * 50, "list.not_a_list"),
    "a PDF called .txt": ("a.txt", b"%PDF-1.7\n...", "list.not_a_list"),
    "a workbook with a password": ("a.xlsx", OLE_LOCKED, "list.locked"),
    "an ODS with a password": ("a.ods", ODS_LOCKED, "list.locked"),
    "a truncated workbook": ("a.xlsx", book()[:-400], "list.damaged"),
    "a workbook with a broken sheet": (
        "a.xlsx",
        replaced(book(), "xl/worksheets/sheet1.xml", b"<worksheet><sheetData><row"),
        "list.damaged",
    ),
    "a workbook with entities": ("a.xlsx", replaced(book(), "xl/workbook.xml", ENTITY), "list.entities"),
    "a workbook with outside entities": (
        "a.xlsx",
        replaced(book(), "xl/workbook.xml", OUTSIDE),
        "list.entities",
    ),
    "entities in UTF-16": (
        "a.xlsx",
        replaced(book(), "xl/workbook.xml", ENTITY.decode().encode("utf-16")),
        "list.entities",
    ),
    "a header that lies": ("a.xlsx", lying(), "list.damaged"),
    "three hundred sheets": ("a.xlsx", book(300, 1), "list.too_many_sheets"),
    "a zip of something else": ("a.xlsx", zipped({"readme.txt": b"hello"}), "list.not_a_list"),
    "JSON cut short": ("a.json", b'[{"no": 1, "description": "Pew', "list.json"),
    "JSON without a list": ("a.json", b"{}", "list.json"),
    "JSON nested very deeply": ("a.json", b'[{"a":' * 20_000, "list.json"),
    "an old office file without a sheet": (
        "a.xls",
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 900,
        "list.not_a_list",
    ),
}


@pytest.mark.parametrize("what", CASES)
def test_each_hostile_file_is_one_clear_problem(what: str) -> None:
    name, data, code = CASES[what]
    taken = read_list(data, name)
    assert [problem.code for problem in taken.problems] == [code]
    assert taken.objects == ()
    assert taken.problems[0].where == name
    assert taken.problems[0].remedy


def test_a_bomb_is_known_by_what_it_declares_before_it_is_opened() -> None:
    bomb = zipped({"xl/workbook.xml": b"<workbook/>", "xl/worksheets/sheet1.xml": b" " * 400_000_000})
    assert len(bomb) < 1_000_000
    assert [problem.code for problem in read_list(bomb, "list.xlsx").problems] == ["list.bomb"]


def test_too_many_members_are_refused() -> None:
    many = zipped({"xl/workbook.xml": b"<w/>"} | {f"xl/{number}.xml": b"" for number in range(3_000)})
    assert [problem.code for problem in read_list(many, "list.xlsx").problems] == ["list.bomb"]


def test_a_200_mb_sheet_is_refused_by_its_size_without_being_read(tmp_path) -> None:
    path = tmp_path / "huge.csv"
    with path.open("wb") as file:
        file.truncate(200_000_000)
    taken = read_list_safely(path)
    assert [problem.code for problem in taken.problems] == ["list.too_big"]
    assert "200 MB" in taken.problems[0].what


def test_a_list_with_too_many_rows_says_so() -> None:
    data = b"No,Description\r\n" + b"1,plate\r\n" * 50
    assert [problem.code for problem in read_list(data, "a.csv", limits=Limits(rows=20)).problems] == [
        "list.too_long"
    ]


def test_a_missing_file_is_a_problem(tmp_path) -> None:
    for reader in (read_list, read_list_safely):
        assert [problem.code for problem in reader(tmp_path / "none.csv").problems] == ["list.no_file"]


def test_the_guarded_reader_gives_the_same_list() -> None:
    data = book(2, 5)
    assert read_list_safely(data, "a.xlsx") == read_list(data, "a.xlsx")


def test_a_child_that_needs_too_much_memory_is_stopped_in_words() -> None:
    data = b"No,Description\r\n" + b"".join(b"%d,%s\r\n" % (n, b"plate " * 30) for n in range(60_000))
    small = Limits(memory_bytes=150_000_000)
    taken = read_list_safely(data, "a.csv", limits=small)
    assert [problem.code for problem in taken.problems] == ["list.stopped"]


def test_the_guarded_reader_leaves_mappings_that_cannot_be_changed() -> None:
    taken: TakenList = read_list_safely(book(), "a.xlsx", limits=HOUSE_LIMITS)
    with pytest.raises(TypeError):
        taken.objects[0].fields["x"] = "y"  # type: ignore[index]
    assert taken.objects[0].raw is not None
    with pytest.raises(TypeError):
        taken.objects[0].raw.cells["x"] = "y"  # type: ignore[index]
