"""`read_list`: one file of whatever form in, a TakenList out; nothing raises, nothing is lost."""

import tomllib
from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path
from typing import Any

from planish.doors.papers.lists.books import open_book
from planish.doors.papers.lists.cells import look_at_formulas
from planish.doors.papers.lists.columns import find_header, guess_columns, headings_of
from planish.doors.papers.lists.gate import check_size, kind_of
from planish.doors.papers.lists.grids import HOUSE_LIMITS, Grid, Limits, Opened, Unreadable, problem
from planish.doors.papers.lists.rows import Sheet, fill_merged, read_rows
from planish.doors.papers.lists.texts import open_text
from planish.records import ColumnGuess, ListedObject, Problem, RawRow, TakenList

Mapping_ = Mapping[str, Any]


def read_list(
    path_or_bytes: Path | str | bytes,
    name: str = "",
    mapping: Mapping_ | Path | str | None = None,
    limits: Limits = HOUSE_LIMITS,
) -> TakenList:
    """Read a list in this process. `mapping` is a table, TOML words as `mapping_words` writes them, or the Path of such a file.

    Whatever cannot be used is a Problem in the answer. For a stranger's file take `read_list_safely`.
    """
    file = name or (Path(path_or_bytes).name if not isinstance(path_or_bytes, bytes) else "list")
    chosen, problems = _mapping(mapping)
    digest = ""
    try:
        data = _bytes(path_or_bytes, file, limits)
        digest = sha256(data).hexdigest()
        opened = _open(file, data, limits, chosen)
    except Unreadable as error:
        return TakenList(file=file, digest=digest, problems=(*problems, error.problem))
    return _assemble(file, digest, opened, chosen, limits, problems)


def _bytes(given: Path | str | bytes, name: str, limits: Limits) -> bytes:
    if isinstance(given, bytes):
        check_size(name, len(given), limits)
        return given
    try:
        check_size(name, Path(given).stat().st_size, limits)
        return Path(given).read_bytes()
    except OSError as error:
        raise Unreadable(
            problem(
                name,
                "list.no_file",
                f"The file cannot be opened ({error.strerror}).",
                "Look at the name and the folder.",
                severity=2,
            )
        ) from error


def _mapping(mapping: Mapping_ | Path | str | None) -> tuple[Mapping_, list[Problem]]:
    if mapping is None:
        return {}, []
    if not isinstance(mapping, (str, Path)):
        return mapping, []
    try:
        words = mapping.read_text(encoding="utf-8") if isinstance(mapping, Path) else mapping
        return tomllib.loads(words), []
    except (tomllib.TOMLDecodeError, OSError, UnicodeDecodeError) as error:
        return {}, [
            problem(
                "mapping file",
                "mapping.unreadable",
                f"The mapping cannot be read ({error}); the columns were guessed without it.",
                'Write one line for each column under [columns]: "Heading" = "field".',
            )
        ]


def _open(name: str, data: bytes, limits: Limits, chosen: Mapping_) -> Opened:
    form = kind_of(name, data)
    settings = chosen.get("list", {})
    if form == "text":
        return open_text(name, data, limits, {k: str(v) for k, v in settings.items()})
    opened = open_book(name, data, form, limits)
    only = settings.get("sheets")
    if only:
        opened.grids = [grid for grid in opened.grids if grid.name in only]
    if not opened.grids:
        raise Unreadable(
            problem(
                name,
                "list.empty",
                "The workbook holds no words.",
                "Save the list again and send it.",
                severity=2,
            )
        )
    return opened


def _assemble(
    file: str, digest: str, opened: Opened, chosen: Mapping_, limits: Limits, problems: list[Problem]
) -> TakenList:
    rows: list[RawRow] = []
    objects: list[ListedObject] = []
    columns: list[ColumnGuess] = []
    problems = [*problems, *opened.problems]
    for grid in opened.grids:
        sheet = read_sheet(file, digest, grid, chosen, limits)
        rows += sheet.rows
        objects += sheet.objects
        columns += sheet.columns
        problems += sheet.problems
    problems += _numbers_twice(file, objects)
    if not objects:
        problems.append(_no_objects(file))
    return TakenList(
        file=file,
        digest=digest,
        form=opened.form,
        encoding=opened.encoding,
        sheets=tuple(grid.name for grid in opened.grids),
        rows=tuple(rows),
        objects=tuple(objects),
        columns=tuple(columns),
        problems=tuple(problems),
    )


def read_sheet(file: str, digest: str, grid: Grid, chosen: Mapping_, limits: Limits) -> Sheet:
    """One sheet: find its headings, guess its columns, go through its rows."""
    header = _header(grid, chosen)
    headings = headings_of(grid, header)
    filled = fill_merged(grid)
    body = range(header[1] + 1 if header else 0, len(grid.rows))
    columns = guess_columns(grid, headings, body, chosen.get("columns", {}), header is not None)
    sheet = Sheet(file, digest, grid, headings, columns, header, limits)
    if not {"text", "title"} & set(sheet.by_field):
        sheet.by_field.clear()
    sheet.problems += look_at_formulas(grid, file)
    sheet.problems += _about_sheet(file, grid, header, filled)
    read_rows(sheet)
    sheet.problems += _about_shades(sheet)
    return sheet


def _header(grid: Grid, chosen: Mapping_) -> tuple[int, int] | None:
    if grid.made_header:
        return 0, 0
    asked = chosen.get("list", {}).get("header_row")
    if isinstance(asked, int) and 1 <= asked <= len(grid.rows):
        row = asked - grid.first_row
        return max(0, row), max(0, row)
    return find_header(grid)


def _where(file: str, grid: Grid) -> str:
    return f"{file}, sheet {grid.name}" if grid.name else file


def _about_sheet(file: str, grid: Grid, header: tuple[int, int] | None, filled: int) -> list[Problem]:
    problems = []
    if header is None:
        problems.append(
            problem(
                _where(file, grid),
                "sheet.no_headings",
                "No row of headings was found; the columns were guessed from what they hold.",
                "Look at the guess; a mapping file sets it right.",
                severity=3,
            )
        )
    if filled:
        problems.append(
            problem(
                _where(file, grid),
                "sheet.merged_cells",
                f"{filled} merged areas were read as if each of their rows held the words.",
                "Look at the rows beside merged cells.",
                severity=4,
            )
        )
    if grid.unseen:
        problems.append(
            problem(
                _where(file, grid),
                "sheet.hidden",
                "The sheet is hidden in the workbook; it was read all the same.",
                "Take it out of the workbook if it is not part of the list.",
            )
        )
    return problems


def _about_shades(sheet: Sheet) -> list[Problem]:
    """A coloured row is a question: colours mean sold in many lists, and reserved or new in others."""
    problems = []
    for listed in sheet.objects:
        shade = listed.fields.get("shade", "")
        if shade and listed.raw is not None:
            problems.append(
                problem(
                    f"{_where(sheet.file, sheet.grid)}, row {listed.raw.row}",
                    "row.coloured",
                    f"The row of {listed.number or 'this object'} stands on a coloured ground ({shade}); is it sold?",
                    "Say what the colour means; until then the object counts as for sale.",
                    found=listed.text,
                )
            )
    return problems


def _numbers_twice(file: str, objects: list[ListedObject]) -> list[Problem]:
    seen: dict[str, ListedObject] = {}
    problems = []
    for listed in objects:
        key = listed.number.casefold()
        first = seen.setdefault(key, listed) if key else listed
        if first is not listed and listed.raw is not None and first.raw is not None:
            where = f"{file}, sheet {listed.raw.sheet}" if listed.raw.sheet else file
            problems.append(
                problem(
                    f"{where}, row {listed.raw.row}",
                    "row.number_twice",
                    f"Number {listed.number} stands on row {first.raw.row} already; both objects are kept.",
                    "Give one of them another number.",
                    found=listed.text,
                    severity=2,
                )
            )
    return problems


def _no_objects(file: str) -> Problem:
    return problem(
        file,
        "list.no_objects",
        "No object could be made out; every row is kept as it came.",
        "Name the columns in a mapping file, or send the list with a row of headings.",
        severity=2,
    )


def mapping_words(taken: TakenList) -> str:
    """The columns as guessed, as a small TOML file that a person can correct and give back."""
    lines = ['# Put right what was guessed wrong: "Heading" = "field", or "ignore".', "[columns]"]
    for guess in dict((g.heading, g) for g in taken.columns).values():
        heading = guess.heading.replace("\\", "\\\\").replace('"', '\\"')
        lines.append(
            f'"{heading}" = "{guess.field or "ignore"}"  # {guess.why} ({guess.confidence:.0%} sure)'
        )
    return "\n".join(lines) + "\n"
