"""A list as someone typed it: "12. Pewter flagon … £450", paragraphs, or columns made with the space bar."""

import re

from planish.doors.papers.lists.grids import Grid

_NUMBER = re.compile(
    r"^\s*(?:(?:no\.?|nr\.?|lot|item|stock|ref\.?|#)\s*)?(?P<number>[A-Za-z]{0,4}[-/ ]?\d{1,6}[a-z]?(?:[-/]\d{1,4})?)\s*[.):–—-]?(?:\s+|\t)(?P<rest>\S.*)$",
    re.IGNORECASE,
)
_MARKED = re.compile(
    r"^\s*(?:(?:no\.?|nr\.?|lot|item|stock|ref\.?|#)\s*[A-Za-z]{0,4}[-/]?\d|[A-Za-z]{0,4}[-/ ]?\d{1,6}[a-z]?(?:[-/]\d{1,4})?\s*[.):](?:\s|$)|[A-Za-z]{1,4}[-/]\d{1,6}\s)",
    re.IGNORECASE,
)
_PRICE = re.compile(
    r"(?:[ \t.…·_]*(?:\.{2,}|…|·{2,}|_{2,}|\t|\s{2,}|\s[–—-]\s|\s)[ \t.…·_]*)"
    r"(?P<price>(?:£|€|\$|EUR|GBP|USD|CHF)\s?\d[\d.,' ]*(?:[.,]?[-–—])?|\d[\d.,']*\s?(?:€|EUR|GBP|pounds)|P\.?O\.?A\.?|price on (?:request|application)|N\.?F\.?S\.?)\s*$",
    re.IGNORECASE,
)
_RULE = re.compile(r"^\s*[-=_*~]{3,}\s*$")


def is_typed(text: str) -> bool:
    """True when two lines or more begin with a number and a point, as typed lists do, or half the lines hold no comma."""
    lines = [line for line in text.splitlines()[:400] if line.strip()]
    return sum(1 for line in lines if _MARKED.match(line)) >= 2 or sum(
        "," in line for line in lines
    ) < 0.9 * len(lines)


def read_typed(text: str) -> Grid:
    """A grid with columns Number, Text, Price; one row per entry, rows numbered by the line where the entry begins.

    Lines without a number that follow an entry belong to it until an empty line; a short line in capitals or before a
    rule is a section heading. Lines before the first entry are kept as titles.
    """
    lines = text.splitlines()
    numbered = sum(1 for line in lines if _MARKED.match(line))
    entries = _numbered(lines) if numbered >= 2 else _paragraphs(lines)
    rows: list[list[str]] = [["Number", "Text", "Price"]]
    width = 0
    for line_number, number, words in entries:
        while len(rows) < line_number:
            rows.append([])
        body, price = _split_price(words)
        rows.append([number, body, price])
        width = max(width, len(rows))
    return Grid("", rows, first_row=0, made_header=True)


def _numbered(lines: list[str]) -> list[tuple[int, str, str]]:
    entries: list[tuple[int, str, str]] = []
    open_entry = False
    indent = 0
    for at, line in enumerate(lines, 1):
        if not line.strip() or _RULE.match(line):
            open_entry = False
        elif (
            (not open_entry or _indent(line) <= indent)
            and _MARKED.match(line)
            and (match := _NUMBER.match(line))
        ):
            entries.append((at, match["number"].strip(), match["rest"]))
            open_entry, indent = True, _indent(line)
        elif open_entry and not _heading(line):
            start, number, words = entries[-1]
            entries[-1] = (start, number, f"{words}\n{line.strip()}")
        else:
            entries.append((at, "", line.strip()))
            open_entry = False
    return entries


def _indent(line: str) -> int:
    """How far a line stands in; a line further in than its entry goes on with it, even when it begins with a year."""
    return len(line.expandtabs()) - len(line.expandtabs().lstrip())


def _paragraphs(lines: list[str]) -> list[tuple[int, str, str]]:
    entries: list[tuple[int, str, str]] = []
    open_entry = False
    for at, line in enumerate(lines, 1):
        if not line.strip() or _RULE.match(line):
            open_entry = False
        elif open_entry:
            start, number, words = entries[-1]
            entries[-1] = (start, number, f"{words}\n{line.strip()}")
        else:
            entries.append((at, "", line.strip()))
            open_entry = True
    return entries


def _heading(line: str) -> bool:
    words = line.strip()
    return len(words) <= 60 and (words.isupper() or words.endswith(":")) and not _PRICE.search(words)


def _split_price(words: str) -> tuple[str, str]:
    lines = words.split("\n")
    for place in (len(lines) - 1, 0):
        match = _PRICE.search(
            " " + lines[place] if place and not lines[place].startswith(" ") else lines[place]
        )
        if match:
            shift = 1 if place and not lines[place].startswith(" ") else 0
            lines[place] = lines[place][: max(0, match.start() - shift)]
            body = " ".join(" ".join(lines).split())
            return body.rstrip(" .…·_"), match["price"].strip()
    return " ".join(words.split()), ""
