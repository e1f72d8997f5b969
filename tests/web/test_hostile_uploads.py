"""Files from strangers over the web: pictures re-encoded without their place, bombs refused, names never paths."""

import io
import resource
import struct
import sys
import time
import zipfile
import zlib
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from PIL import Image, ImageDraw

from planish.doors.papers.lists import HOUSE_LIMITS
from planish.doors.web.intakes import clean_name
from tests.web.fairs import API, BYTES, Served

AT = f"{API}/objects/7-001/pictures"
GPS, ORIENTATION, MAKER = 0x8825, 0x0112, 0x010F


def photograph(*, orientation: int = 6) -> bytes:
    """A photograph as a phone makes it: on its side, with its place and its camera (EXIF 2.32, tags by number)."""
    picture = Image.new("RGB", (400, 200), "white")
    ImageDraw.Draw(picture).rectangle((0, 0, 60, 60), fill="red")  # top left as stored
    exif = picture.getexif()
    exif[ORIENTATION], exif[MAKER] = orientation, "MARKCAMERA"
    exif.get_ifd(GPS)[1], exif.get_ifd(GPS)[2] = "N", (51.0, 30.0, 0.0)
    out = io.BytesIO()
    picture.save(out, "JPEG", exif=exif, comment=b"MARKCOMMENT")
    return out.getvalue()


def chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def flood() -> bytes:
    """A PNG of 60,000 × 60,000 pixels in a few hundred kilobytes (PNG 1.2, section 4.1)."""
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", 60_000, 60_000, 1, 0, 0, 0, 0))
    body = chunk(b"IDAT", zlib.compress(bytes(7_501) * 4_000, 9))
    return b"\x89PNG\r\n\x1a\n" + head + body + chunk(b"IEND", b"")


def send(fair: Served, data: bytes) -> int:
    return int(fair["member"].post(AT, content=data, headers=BYTES).status_code)


def test_a_photograph_is_kept_upright_and_without_its_place(fair: Served) -> None:
    data = photograph()
    assert b"MARKCAMERA" in data
    assert Image.open(io.BytesIO(data)).getexif().get_ifd(GPS), "the test's photograph has a place"
    said = fair["member"].post(AT, content=data, headers=BYTES)
    assert said.status_code == 201, said.text
    served = fair["member"].get(said.json()["url"])
    assert served.headers["content-type"] == "image/jpeg"
    assert served.headers["x-content-type-options"] == "nosniff"
    assert b"MARK" not in served.content
    assert b"Exif" not in served.content
    shown = Image.open(io.BytesIO(served.content))
    assert dict(shown.getexif()) == {}
    assert shown.size == (200, 400), "turned upright"
    red, green, _ = shown.convert("RGB").getpixel((190, 10))  # type: ignore[misc]
    assert red > 200 > 100 > green, "what was top left as stored is top right, as orientation 6 says"
    kept = b"".join(path.read_bytes() for path in fair.folder.rglob("*") if path.is_file())
    assert b"MARKCAMERA" not in kept, "the original is kept nowhere"


BAD = {
    "a flood of pixels": flood,
    "a JPEG cut short": lambda: photograph()[:900],
    "a JPEG of nothing but its start": lambda: b"\xff\xd8\xff\xe0" + bytes(400),
    "a page that begins like a picture": lambda: b"\xff\xd8\xff" + b"<script>alert(1)</script>" * 50,
    "an SVG": lambda: b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
    "a GIF": lambda: b"GIF89a" + bytes(100),
    "nothing": lambda: b"",
}


@pytest.mark.parametrize("what", BAD)
def test_what_is_no_whole_picture_is_refused_and_the_desk_goes_on(shared_fair: Served, what: str) -> None:
    before = set((shared_fair.folder / "pictures").glob("*"))
    start = time.monotonic()
    said = shared_fair["member"].post(AT, content=BAD[what](), headers=BYTES)
    assert said.status_code in (400, 422), said.text
    assert said.json()["problem"]["remedy"]
    assert time.monotonic() - start < 20
    assert set((shared_fair.folder / "pictures").glob("*")) == before
    assert shared_fair["member"].get(f"{API}/board").status_code == 200


def test_a_picture_that_is_an_archive_too_loses_the_archive(fair: Served) -> None:
    """A polyglot: bytes that one program reads as a picture and another as a ZIP."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("run.sh", "MARKSCRIPT")
    said = fair["member"].post(AT, content=photograph(orientation=1) + out.getvalue(), headers=BYTES)
    assert said.status_code == 201, said.text
    served = fair["member"].get(said.json()["url"]).content
    assert not zipfile.is_zipfile(io.BytesIO(served))
    assert b"MARKSCRIPT" not in served


def test_a_picture_of_another_stand_is_nobody_s(fair: Served) -> None:
    url = fair["member"].post(AT, content=photograph(), headers=BYTES).json()["url"]
    assert fair["stand 7"].get(url).status_code == 200
    assert fair["stand 8"].get(url).status_code == 404
    assert fair.stranger().get(url).status_code == 401
    for wrong in ("..%2f..%2fledger.db", "0" * 64, "x"):
        assert fair["member"].get(f"{API}/pictures/{wrong}").status_code in (404, 422)


def bomb() -> bytes:
    """A workbook whose one sheet inflates to 210 MB."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("[Content_Types].xml", "<Types/>")
        archive.writestr("xl/workbook.xml", "<workbook/>")
        archive.writestr("xl/worksheets/sheet1.xml", b"<worksheet>" + b" " * 210_000_000)
    return out.getvalue()


def test_a_list_that_inflates_beyond_bounds_is_refused_while_the_desk_answers(fair: Served) -> None:
    data = bomb()
    assert len(data) < 1_000_000
    said = fair["office"].post(
        f"{API}/stands/7/lists", params={"name": "list.xlsx"}, content=data, headers=BYTES
    )
    assert said.status_code == 202
    assert fair["office"].get(f"{API}/board").status_code == 200
    for _ in range(200):
        shown = fair["office"].get(f"{API}/intakes/{said.json()['id']}").json()
        if shown["state"] != "reading":
            break
        time.sleep(0.05)
    assert shown["state"] == "failed", shown
    assert shown["problems"][0]["remedy"]


def sheets(count: int) -> bytes:
    """A workbook of so many small sheets."""
    book = openpyxl.Workbook(write_only=True)
    for number in range(count):
        page = book.create_sheet(f"S{number}")
        page.append(["No", "Description"])
        page.append([str(number), "Pewter plate, English, c.1740"])
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def lines() -> bytes:
    """Two million rows in fewer bytes than a list may have."""
    return b"No,Description\n" + b"1,Plate\n" * 2_000_000


def told(fair: Served, name: str, data: bytes) -> dict[str, Any]:
    """Send a list; the desk answers others meanwhile; what it says in the end."""
    said = fair["office"].post(f"{API}/stands/7/lists", params={"name": name}, content=data, headers=BYTES)
    assert said.status_code == 202, said.text
    for _ in range(2400):
        assert fair["office"].get(f"{API}/board").status_code == 200
        shown: dict[str, Any] = fair["office"].get(f"{API}/intakes/{said.json()['id']}").json()
        if shown["state"] != "reading":
            return shown
        time.sleep(0.05)
    raise AssertionError("it was never done")


LONG = {"300 sheets": ("list.xlsx", lambda: sheets(300)), "2 million rows": ("list.csv", lines)}


@pytest.mark.parametrize("what", LONG)
def test_a_list_of_more_than_anybody_brings_is_refused_in_words_within_the_childs_bounds(
    fair: Served, what: str
) -> None:
    """Read in a child with bounds of time and memory; nothing of it is taken, and the sentence says what is too many."""
    name, make = LONG[what]
    data = make()
    assert len(data) < HOUSE_LIMITS.file_bytes, "it is not refused by its length alone"
    shown = told(fair, name, data)
    assert shown["state"] == "failed", shown
    said = shown["problems"][0]
    assert what.split()[-1] in said["what"], said
    assert said["remedy"]
    assert len(fair.desk.fair.state.objects) == 4
    if sys.platform == "linux":
        peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss * 1024
        assert peak < HOUSE_LIMITS.memory_bytes


NAMES = [
    "../../etc/passwd",
    "C:\\Users\\x\\list.xlsx",
    "a\0b.csv",
    "x" * 300,
    "\u202egnp.exe",
    "CON",
    "..",
    "<script>.csv",
    "a\r\nSet-Cookie: x=1.csv",
]


@pytest.mark.parametrize("name", NAMES)
def test_a_file_s_name_is_words_and_never_a_path(shared_fair: Served, name: str) -> None:
    before = {path for path in shared_fair.folder.rglob("*") if path.is_dir()}
    content = b'No,Description\n1,"Pewter plate"\n'
    said = shared_fair["office"].post(
        f"{API}/stands/7/lists", params={"name": name}, content=content, headers=BYTES
    )
    if said.status_code == 202:
        shown = said.json()["file"]
        assert not set("/\\\0\r\n<>\u202e") & set(shown)
        assert 0 < len(shown) <= 120
        for _ in range(100):
            if shared_fair["office"].get(f"{API}/intakes/{said.json()['id']}").json()["state"] != "reading":
                break
            time.sleep(0.05)
    else:
        assert said.status_code in (400, 422), said.text
    assert {path for path in shared_fair.folder.rglob("*") if path.is_dir()} == before
    assert not Path(clean_name(name)).is_absolute()
