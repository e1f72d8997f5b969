"""What each row is (blank, title, heading, section, total, continued, object) and the object it proposes."""

import re
from dataclasses import dataclass, field

from planish.doors.papers.lists.cells import Place, comma_to_point, look_at, repair_date
from planish.doors.papers.lists.columns import FIELDS_OF_LABEL, plain_word
from planish.doors.papers.lists.grids import Grid, Limits, letter, problem
from planish.errands.intake.relisting import content_digest
from planish.records import ColumnGuess, ListedObject, Problem, RawRow, freeze

_TOTAL = re.compile(
    r"^\s*(?:grand\s+|running\s+)?(?:sub[\s-]*)?total\b|^\s*(?:carried|brought) (?:forward|over)|^\s*(?:zwischen|gesamt)?summe\b"
    r"|^\s*(?:sous[\s-]*)?total\b|^\s*(?:sub)?totaa?le?\b|^\s*übertrag\b",
    re.I,
)  # fmt: skip
_SOLD = re.compile(r"^\s*(?:sold|sld|yes|y|x|verkauft|vendu|verkocht|venduto)\b", re.I)
_MEASURES = ("measures", "height", "width", "depth", "diameter", "length", "weight", "capacity")
_ROLE_WORDS = {
    "height": "Height", "width": "Width", "depth": "Depth", "diameter": "Diameter", "length": "Length",
    "weight": "Weight", "capacity": "Capacity",
}  # fmt: skip
_NO_LETTER = re.compile(r"[\W_]+")
_UNIT = re.compile(r"\b(cm|mm|in|ins|inches|g|gr|kg|oz|ml)\b", re.I)


@dataclass(slots=True)
class Sheet:
    """One sheet while it is read."""

    file: str
    digest: str
    grid: Grid
    headings: list[str]
    columns: tuple[ColumnGuess, ...]
    header: tuple[int, int] | None
    limits: Limits
    by_field: dict[str, list[int]] = field(default_factory=dict)
    comma_columns: dict[int, int] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    rows: list[RawRow] = field(default_factory=list)
    objects: list[ListedObject] = field(default_factory=list)
    heading_words: list[set[str]] = field(default_factory=list)

    def __post_init__(self) -> None:
        lines = range(self.header[0], self.header[1] + 1) if self.header else ()
        for column in range(len(self.headings)):
            said = {self.grid.cell(line, column).strip().casefold() for line in lines}
            self.heading_words.append(said - {""})
        for column, guess in enumerate(self.columns):
            if guess.field:
                self.by_field.setdefault(guess.field, []).append(column)

    def first(self, row: int, name: str) -> str:
        """Words of the first column taken for `name`."""
        for column in self.by_field.get(name, ()):
            words = self.grid.cell(row, column).strip()
            if words:
                return words
        return ""

    def place(self, row: int, column: int) -> Place:
        """Address of a cell."""
        return Place(self.file, self.grid.name, row + self.grid.first_row, column)


def fill_merged(grid: Grid) -> int:
    """Give every row of an area merged downwards the area's words; returns how many areas were filled."""
    filled = 0
    for top, left, bottom, _right in grid.merged:
        words = grid.cell(top, left) if top < len(grid.rows) else ""
        if bottom <= top or not words or bottom - top > 5_000:
            continue
        filled += 1
        for row in range(top + 1, min(bottom + 1, len(grid.rows))):
            cells = grid.rows[row]
            cells.extend([""] * (left + 1 - len(cells)))
            if not cells[left]:
                cells[left] = words
                if (top, left) in grid.dates:
                    grid.dates[row, left] = grid.dates[top, left]
    return filled


def read_rows(sheet: Sheet) -> None:
    """Go through the sheet once; every row is kept raw, objects and problems are added as they are met."""
    section = ""
    for row in range(len(sheet.grid.rows)):
        if row == 0 and sheet.grid.made_header:
            continue
        kind = _kind(sheet, row)
        if kind == "section":
            section = _only_cell(sheet.grid.rows[row])
        raw = _raw(sheet, row, kind)
        sheet.rows.append(raw)
        if kind == "object":
            _add_object(sheet, row, raw, section)
        elif kind == "continued":
            _continue(sheet, row, raw)
    _say_commas(sheet)


def _raw(sheet: Sheet, row: int, kind: str) -> RawRow:
    cells = {
        sheet.headings[column]: words for column, words in enumerate(sheet.grid.rows[row]) if words != ""
    }
    return RawRow(
        file=sheet.file,
        sheet=sheet.grid.name,
        row=row + sheet.grid.first_row,
        cells=freeze(cells),
        file_digest=sheet.digest,
        kind=kind,
    )


def _only_cell(cells: list[str]) -> str:
    return next((cell.strip() for cell in cells if cell.strip()), "")


def _kind(sheet: Sheet, row: int) -> str:
    cells = sheet.grid.rows[row]
    full = [column for column, cell in enumerate(cells) if cell.strip()]
    if not full:
        return "blank"
    if sheet.header and row <= sheet.header[1]:
        return "heading" if row >= sheet.header[0] else "title"
    if sheet.header and _heading_again(sheet, full, cells):
        return "heading"
    if _is_total(sheet, row, full):
        return "total"
    words = bool(sheet.first(row, "text") or sheet.first(row, "title"))
    number = sheet.first(row, "number")
    if len(full) == 1 and not any(sign.isdigit() for sign in number):
        return _lone(sheet, row, full[0])
    if words:
        return "object"
    return (
        "object"
        if sheet.first(row, "number") and any(sheet.first(row, f) for f in FIELDS_OF_LABEL)
        else "note"
    )


def _heading_again(sheet: Sheet, full: list[int], cells: list[str]) -> bool:
    again = sum(1 for column in full if cells[column].strip().casefold() in sheet.heading_words[column])
    return again >= max(2, 0.7 * len(full))


def _is_total(sheet: Sheet, row: int, full: list[int]) -> bool:
    if sheet.first(row, "date") or len(full) > 4:
        return False
    return any(_TOTAL.match(sheet.grid.cell(row, column)) for column in full)


def _lone(sheet: Sheet, row: int, column: int) -> str:
    """A row with one full cell: words that go on from the row above, a section heading, a note, or an object."""
    words = sheet.grid.cell(row, column).strip()
    in_words = column in sheet.by_field.get("text", []) + sheet.by_field.get("title", [])
    last = sheet.rows[-1].kind if sheet.rows else ""
    if in_words and last in {"object", "continued"} and (words[:1].islower() or _unfinished(sheet)):
        return "continued"
    if len(words) <= 60 and not any(sign.isdigit() for sign in words):
        return "section"
    if not in_words:
        return "note"
    numbered = sheet.grid.made_header and any(
        sheet.first(at, "number") for at in range(1, len(sheet.grid.rows))
    )
    return "object" if sheet.objects or (sheet.header and not numbered) else "title"


def _unfinished(sheet: Sheet) -> bool:
    if not sheet.objects:
        return False
    return sheet.objects[-1].text.rstrip().endswith((",", "-", " and", " with", " of", "("))


def _continue(sheet: Sheet, row: int, raw: RawRow) -> None:
    last = sheet.objects[-1]
    words = _only_cell(sheet.grid.rows[row])
    column = next(c for c, cell in enumerate(sheet.grid.rows[row]) if cell.strip())
    fields = dict(last.fields)
    sheet.objects[-1] = _listed(last, text=f"{last.text} {words}", fields=fields)
    del raw
    sheet.problems.append(
        problem(
            str(sheet.place(row, column)),
            "row.continued",
            f"The row goes on from the one above; its words were added to {last.number or 'that object'}.",
            "Put each object into one row.",
            found=words,
            severity=4,
        )
    )


def _listed(old: ListedObject, *, text: str, fields: dict[str, str]) -> ListedObject:
    return ListedObject(
        id=old.id, stand=old.stand, number=old.number, text=text, fields=freeze(fields), price=old.price,
        content=content_digest(text), raw=old.raw,
    )  # fmt: skip


def _add_object(sheet: Sheet, row: int, raw: RawRow, section: str) -> None:
    fields: dict[str, str] = {}
    for name, columns in sheet.by_field.items():
        words = [_cell(sheet, row, column, name) for column in columns]
        joined = "; ".join(word for word in words if word)
        if joined:
            fields[name] = joined
    if section:
        fields.setdefault("section", section)
    _mark_sold(sheet, row, fields)
    text = compose(fields, {name: sheet.headings[columns[0]] for name, columns in sheet.by_field.items()})
    number, price = fields.pop("number", ""), fields.pop("price", "")
    if not number:
        _say_no_number(sheet, row, text)
    sheet.objects.append(
        ListedObject(
            id="", stand=fields.get("stand", ""), number=number, text=text, fields=freeze(fields), price=price,
            content=content_digest(text), raw=raw,
        )
    )  # fmt: skip


def _say_no_number(sheet: Sheet, row: int, text: str) -> None:
    sheet.problems.append(
        problem(
            str(sheet.place(row, sheet.by_field.get("number", [0])[0])),
            "row.no_number",
            "The object has no stock number.",
            "Give it a number, so that its label can be found again.",
            found=text,
        )
    )


def _cell(sheet: Sheet, row: int, column: int, name: str) -> str:
    place = sheet.place(row, column)
    words, problems = look_at(sheet.grid.cell(row, column).strip(), place, sheet.limits)
    if name == "date":
        day = sheet.grid.dates.get((row, column))
        words, more = repair_date(words, day, sheet.grid.epoch_1904, place, many=False)
        problems += more
    elif name in _MEASURES:
        pointed = comma_to_point(words)
        if pointed != words:
            sheet.comma_columns.setdefault(column, row)
            words = pointed
    elif name in {"number", "text", "title"} and (row, column) in sheet.grid.dates:
        problems.append(_became_date(place, words))
    sheet.problems.extend(problems)
    return words


def _became_date(place: Place, words: str) -> Problem:
    return problem(
        str(place),
        "cell.became_date",
        f"A spreadsheet has turned what was typed into the day {words}.",
        "Type it again with an apostrophe before it.",
        found=words,
        severity=2,
    )


def _say_commas(sheet: Sheet) -> None:
    for column, row in sheet.comma_columns.items():
        sheet.problems.append(
            problem(
                str(sheet.place(row, column)),
                "column.decimal_commas",
                f"Column {letter(column)} ({sheet.headings[column]}) writes decimal commas; they were read as points.",
                "Nothing need be done if the first such cell is read rightly.",
                found=sheet.grid.cell(row, column),
                severity=4,
            )
        )


def _mark_sold(sheet: Sheet, row: int, fields: dict[str, str]) -> None:
    status = fields.get("status", "")
    sold_column = any("sold" in plain_word(sheet.headings[c]) for c in sheet.by_field.get("status", ()))
    if status and _SOLD.match(status) and (sold_column or not status.lower().startswith(("y", "x"))):
        fields["trade"] = "sold"
        return
    shades = [shade for (at, _column), shade in _shaded(sheet, row) if at == row]
    if len(shades) >= 2 and len(set(shades)) == 1:
        fields["shade"] = shades[0]


def _shaded(sheet: Sheet, row: int) -> list[tuple[tuple[int, int], str]]:
    if not sheet.grid.shaded:
        return []
    width = len(sheet.grid.rows[row])
    return [((row, c), sheet.grid.shaded[row, c]) for c in range(width) if (row, c) in sheet.grid.shaded]


def compose(fields: dict[str, str], headings: dict[str, str]) -> str:
    """The words of the label, from the columns that belong to it; a column already said in the description is not said twice."""
    parts: list[str] = []
    for name in FIELDS_OF_LABEL:
        words = fields.get(name, "").strip()
        if not words:
            continue
        if name in _ROLE_WORDS:
            words = _measure(name, words, headings.get(name, ""))
        said = " ".join(parts).casefold()
        if words.casefold() in said or (name == "date" and _year_said(words, said)):
            continue
        parts.append(words.rstrip())
    return _joined(parts)


def _year_said(words: str, said: str) -> bool:
    years = re.findall(r"\d{4}", words)
    bare = _NO_LETTER.sub("", words.casefold())
    return bool(years) and years[0] in said and bare in _NO_LETTER.sub("", said)


def _measure(name: str, words: str, heading: str) -> str:
    unit = _UNIT.search(heading)
    if unit and re.fullmatch(r"[\d.,¼½¾⅛⅜⅝⅞ /]+", words):
        words = f"{words} {unit.group(1).lower()}"
    return words if words.casefold().startswith(name) else f"{_ROLE_WORDS[name]} {words}"


def _joined(parts: list[str]) -> str:
    text = ""
    for part in parts:
        if text:
            text += " " if text.endswith((".", ",", ";", ":", "!", "?")) else ". "
        text += part
    return text
