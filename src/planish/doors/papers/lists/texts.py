"""Text files: which encoding, which delimiter, and whether it is a table, JSON or a typed list."""

import csv
import io
import math

from planish.doors.papers.lists.books import check_extent
from planish.doors.papers.lists.grids import Grid, Limits, Opened, Unreadable, problem
from planish.records import Problem

_BOMS = (
    (b"\xef\xbb\xbf", "utf-8-sig"),
    (b"\xff\xfe\x00\x00", "utf-32"),
    (b"\x00\x00\xfe\xff", "utf-32"),
    (b"\xff\xfe", "utf-16"),
    (b"\xfe\xff", "utf-16"),
)
_DELIMITERS = ("\t", ";", ",", "|")
# letters and signs that lists of European dealers hold; a wrong encoding turns them into others
_EXPECTED = frozenset("£€½¼¾⅛⅜⅝⅞°×·–—‘’“”«»…éèêëàâäáåöôòóüûùúçñïîìíßæøœÉÈÀÄÖÜÅÆØŒ§²³±ºª")
_CANDIDATES = ("cp1252", "mac_roman", "cp850")


def decode(name: str, data: bytes, asked: str = "") -> tuple[str, str, list[Problem]]:
    """Text of `data`, the encoding it was saved in, and a Problem when that had to be guessed."""
    if asked:
        return _asked(name, data, asked)
    for bom, encoding in _BOMS:
        if data.startswith(bom):
            return data.decode(encoding, errors="replace"), encoding, []
    wide = _wide(data)
    if wide:
        return data.decode(wide, errors="replace"), wide, []
    if b"\x00" in data[:65536]:
        raise Unreadable(
            problem(
                name,
                "list.not_a_list",
                "The file holds bytes that no text has.",
                "Send the list as a spreadsheet (XLSX, XLS, ODS), as CSV, or as plain text.",
                severity=2,
            )
        )
    try:
        return data.decode("utf-8"), "utf-8", []
    except UnicodeDecodeError:
        return _guessed(name, data)


def _asked(name: str, data: bytes, encoding: str) -> tuple[str, str, list[Problem]]:
    try:
        return data.decode(encoding), encoding, []
    except (LookupError, UnicodeDecodeError) as error:
        odd = problem(
            name,
            "list.encoding",
            f"The mapping says the file was saved as {encoding}, and it was not ({error}).",
            "Take the encoding out of the mapping; it is then found from the file.",
        )
        text, found, problems = decode(name, data)
        return text, found, [odd, *problems]


def _wide(data: bytes) -> str:
    head = data[:4096]
    if len(head) < 8:
        return ""
    even, odd = head[0::2].count(0) / (len(head) / 2), head[1::2].count(0) / (len(head) / 2)
    if odd > 0.6 and even < 0.1:
        return "utf-16-le"
    return "utf-16-be" if even > 0.6 and odd < 0.1 else ""


def _guessed(name: str, data: bytes) -> tuple[str, str, list[Problem]]:
    encoding = _best_encoding(data)
    text = data.decode(encoding, errors="replace")
    sample = next((line.strip() for line in text.splitlines() if not line.isascii()), "")
    odd = problem(
        name,
        "list.encoding_guessed",
        f"The file does not say how its letters are saved; it was read as {encoding}.",
        "Look at this line; if its signs are wrong, save the list as UTF-8 or name the encoding in the mapping.",
        found=sample,
        severity=4,
    )
    return text, encoding, [odd]


def _best_encoding(data: bytes) -> str:
    high = bytes(byte for byte in data[:400_000] if byte >= 0x80)
    scores = {}
    for encoding in _CANDIDATES:
        letters = high.decode(encoding, errors="replace")
        scores[encoding] = sum(letter in _EXPECTED for letter in letters) / max(1, len(letters))
    best = max(_CANDIDATES, key=lambda encoding: scores[encoding])
    if scores[best] >= 0.6:
        return best
    from charset_normalizer import from_bytes

    found = from_bytes(data[:100_000]).best()
    if found is not None and found.encoding:
        try:
            data.decode(found.encoding)
        except UnicodeDecodeError:
            return "cp1252"
        return str(found.encoding)
    return "cp1252"


def sniff(text: str, extension: str = "") -> str:
    """The delimiter of a table, or "" when the text is no table.

    For each candidate the first lines are read as CSV; a delimiter that gives the same number of columns, more than
    one, on most lines wins. A `sep=` line, as spreadsheet programs write it, decides.
    """
    first = text[:80].splitlines()[0].strip() if text.strip() else ""
    if first.lower().startswith("sep=") and len(first) == 5:
        return first[4]
    head = text[:200_000]
    best, best_score = "", 0.0
    for delimiter in _DELIMITERS:
        score = _evenness(head, delimiter)
        if extension == "tsv" and delimiter == "\t":
            score *= 1.5
        if score > best_score:
            best, best_score = delimiter, score
    floor = 0.35 if extension in {"csv", "tsv", "tab"} else 0.9
    return best if best_score >= floor else ""


def _evenness(text: str, delimiter: str) -> float:
    widths = []
    try:
        for count, row in enumerate(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)):
            if count >= 200:
                break
            if any(cell.strip() for cell in row):
                widths.append(len(row))
    except csv.Error:
        return 0.0
    wide = [width for width in widths if width > 1]
    if not wide:
        return 0.0
    common = max(set(wide), key=wide.count)
    share = wide.count(common) / len(widths)
    return share * math.log2(1 + common) if share > 0.3 or len(wide) > len(widths) / 2 else 0.0


def read_table(name: str, text: str, delimiter: str, limits: Limits) -> Grid:
    """A table by RFC 4180, with any delimiter and any line ends; quotes doubled inside quotes."""
    body = text
    first, _, rest = text.partition("\n")
    start = 1
    if first.strip().lower().startswith("sep=") and len(first.strip()) == 5:
        body, start = rest, 2
    csv.field_size_limit(limits.file_bytes)
    rows: list[list[str]] = []
    width = 0
    for row in csv.reader(io.StringIO(body, newline=""), delimiter=delimiter):
        rows.append(row)
        width = max(width, len(row))
        if len(rows) > limits.rows or width > limits.columns:
            check_extent(name, "1", len(rows), width, limits)
    return Grid("", rows, first_row=start)


def open_text(name: str, data: bytes, limits: Limits, asked: dict[str, str]) -> Opened:
    """Decode a text file and read it as JSON, JSON Lines, a table or a typed list, whichever it is."""
    from planish.doors.papers.lists.json_lists import looks_like_json, read_json
    from planish.doors.papers.lists.typed import is_typed, read_typed

    text, encoding, problems = decode(name, data, asked.get("encoding", ""))
    if not text.strip():
        raise Unreadable(
            problem(
                name,
                "list.empty",
                "The file holds no words.",
                "Save the list again and send that file.",
                severity=2,
            )
        )
    if looks_like_json(text):
        return Opened("json", [read_json(name, text, limits)], encoding, problems)
    extension = name.rpartition(".")[2].lower()
    delimiter = asked.get("delimiter", "") or sniff(text, extension)
    if (
        delimiter == ","
        and not asked.get("delimiter")
        and extension not in {"csv", "tsv", "tab"}
        and is_typed(text)
    ):
        delimiter = ""
    if delimiter:
        form = "tsv" if delimiter == "\t" else "csv"
        return Opened(form, [read_table(name, text, delimiter, limits)], encoding, problems)
    return Opened("text", [read_typed(text)], encoding, problems)
