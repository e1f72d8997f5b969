"""Before a stranger's file is opened: how big it is, what it really is, and a workbook rebuilt from checked members."""

import io
import zipfile
import zlib

from planish.doors.papers.lists.grids import Limits, Unreadable, problem
from planish.records import Problem

OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_MAGIC = {
    b"%PDF": "a PDF",
    b"\x89PNG": "a picture",
    b"\xff\xd8\xff": "a picture",
    b"GIF8": "a picture",
    b"MZ": "a program",
    b"\x7fELF": "a program",
    b"\x1f\x8b": "a compressed file",
    b"7z\xbc\xaf": "a compressed file",
    b"Rar!": "a compressed file",
    b"{\\rtf": "a word processor's file",
}
_DOCTYPES = tuple(
    word.encode(code) for word in ("<!DOCTYPE", "<!ENTITY") for code in ("ascii", "utf-16-le", "utf-16-be")
)


def check_size(name: str, size: int, limits: Limits) -> None:
    """Refuse an empty file and one larger than the limit, before anything is read."""
    if size == 0:
        raise Unreadable(
            problem(
                name,
                "list.empty",
                "The file is empty.",
                "Save the list again and send that file.",
                severity=2,
            )
        )
    if size > limits.file_bytes:
        raise Unreadable(
            problem(
                name,
                "list.too_big",
                f"The file has {size / 1e6:.0f} MB; lists up to {limits.file_bytes / 1e6:.0f} MB are read.",
                "Take pictures out of the list, or send it in parts.",
                severity=2,
            )
        )


def kind_of(name: str, data: bytes) -> str:
    """What the bytes are, whatever the name says: xlsx, ods, xls or text. Anything else is refused in words."""
    if data.startswith(OLE):
        return _ole(name, data)
    if data.startswith(b"PK"):
        return _zipped(name, data)
    for magic, what in _MAGIC.items():
        if data.startswith(magic) and not (magic == b"MZ" and b"\x00" not in data[:4096]):
            raise Unreadable(_not_a_list(name, what))
    return "text"


def _not_a_list(name: str, what: str) -> Problem:
    return problem(
        name,
        "list.not_a_list",
        f"The file is {what}, not a list.",
        "Send the list as a spreadsheet (XLSX, XLS, ODS), as CSV, or as plain text.",
        severity=2,
    )


def locked(name: str) -> Unreadable:
    """The answer to a workbook that asks for a password."""
    return Unreadable(
        problem(
            name,
            "list.locked",
            "The workbook is locked with a password.",
            "Open it, take the password off, save it and send it again.",
            severity=2,
        )
    )


def broken(name: str, detail: str) -> Unreadable:
    """The answer to a file cut short or damaged."""
    return Unreadable(
        problem(
            name,
            "list.damaged",
            f"The file is damaged or was cut short ({detail}).",
            "Send it again; if it opens on your own machine, save it as CSV and send that.",
            severity=2,
        )
    )


def _ole(name: str, data: bytes) -> str:
    if "EncryptedPackage".encode("utf-16-le") in data:
        raise locked(name)
    if any(word.encode("utf-16-le") in data for word in ("Workbook", "Book")):
        return "xls"
    raise Unreadable(_not_a_list(name, "an office file without a sheet"))


def _zipped(name: str, data: bytes) -> str:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            names = set(archive.namelist())
    except (zipfile.BadZipFile, ValueError, OSError, NotImplementedError) as error:
        raise broken(name, str(error)) from error
    if "xl/workbook.xml" in names or any(member.startswith("xl/") for member in names):
        return "xlsx"
    if "content.xml" in names:
        return "ods"
    raise Unreadable(_not_a_list(name, "a ZIP archive without a sheet"))


def rebuilt(name: str, data: bytes, limits: Limits) -> bytes:
    """The workbook again, made only of its XML members, each inflated here and no further than it declared.

    Declared sizes and the number of members are looked at first; then every member is inflated in steps and must come
    to exactly what it declared, so that no later reader meets a bomb or a lying header.
    """
    kept = io.BytesIO()
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            members = archive.infolist()
            _check_declared(name, members, limits)
            with zipfile.ZipFile(kept, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as clean:
                for member in members:
                    if _wanted(member.filename):
                        clean.writestr(member.filename, _inflate(name, archive, member))
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, NotImplementedError, ValueError) as error:
        raise broken(name, str(error) or type(error).__name__) from error
    return kept.getvalue()


def _wanted(member: str) -> bool:
    return member.endswith((".xml", ".rels")) or member == "mimetype"


def _check_declared(name: str, members: list[zipfile.ZipInfo], limits: Limits) -> None:
    total = sum(member.file_size for member in members)
    if len(members) > limits.members or total > limits.inflated_bytes:
        raise Unreadable(
            problem(
                name,
                "list.bomb",
                f"The workbook unpacks to {total / 1e6:.0f} MB in {len(members)} parts; "
                f"{limits.inflated_bytes / 1e6:.0f} MB in {limits.members} parts is the most that is opened.",
                "Save the list alone, as a new workbook or as CSV, and send that.",
                severity=2,
            )
        )
    if any(member.flag_bits & 1 for member in members):
        raise locked(name)


def _inflate(name: str, archive: zipfile.ZipFile, member: zipfile.ZipInfo) -> bytes:
    with archive.open(member) as stream:
        content = stream.read(member.file_size + 1)
    if len(content) != member.file_size:
        raise broken(name, f"{member.filename} is not as long as it says")
    if any(word in content for word in _DOCTYPES):
        raise Unreadable(
            problem(
                name,
                "list.entities",
                "The workbook carries XML definitions that no spreadsheet program writes.",
                "Save the list as a new workbook or as CSV and send that.",
                why="Such definitions can be used to fill a machine's memory or to read its files.",
                severity=2,
            )
        )
    if member.filename == "META-INF/manifest.xml" and b"encryption-data" in content:
        raise locked(name)
    return content
