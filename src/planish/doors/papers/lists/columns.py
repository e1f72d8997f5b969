"""Which row holds the headings and what each column is: by the words of the heading and by what the cells hold."""

import re
import tomllib
import unicodedata
from collections.abc import Mapping
from functools import cache, lru_cache
from importlib.resources import files

from planish.doors.papers.lists.grids import Grid, letter
from planish.records import ColumnGuess

FIELDS_OF_LABEL = (
    "title", "text", "maker", "place", "date", "material", "measures", "height", "width", "depth", "diameter",
    "length", "weight", "capacity", "condition", "marks", "provenance", "literature",
)  # fmt: skip
_ONLY_ONE = ("number", "text", "title", "price", "date", "stand", "status", "quantity")
_PRICE = re.compile(
    r"^\s*(?:(?:£|€|\$|EUR|GBP|USD|CHF)\s?\d[\d.,' ]*(?:[-–—])?|\d[\d.,' ]*\s?(?:£|€|EUR|GBP|,[-–—])|P\.?O\.?A\.?)\s*$",
    re.I,
)
_YEAR = re.compile(
    r"\b(?:1[3-9]\d\d|20[0-3]\d)\b|\b1[4-9]th\b|century|\bcirca\b|\bc\.?\s?1\d|jh\.|siècle|eeuw|secolo", re.I
)
_NUMBER = re.compile(r"^\s*[A-Za-z]{0,5}[-/. ]?\d{1,6}(?:[-/. ]?\d{1,4})?[A-Za-z]?\s*$")
_MEASURE = re.compile(r"\d\s?[¼½¾⅛⅜⅝⅞]?\s?(?:cm|mm|in\b|ins\b|\"|″|inch|kg|g\b|oz|ml|pt\b)", re.I)
_AMOUNT = re.compile(r"^\s*\d[\d.,' ]*\s*$")


@cache
def _synonyms() -> Mapping[str, str]:
    text = (files("planish.doors.papers.lists") / "headings.toml").read_text(encoding="utf-8")
    words: dict[str, str] = {}
    for field, table in tomllib.loads(text).items():
        for word in table["words"]:
            words.setdefault(word, field)
    return words


def known_fields() -> tuple[str, ...]:
    """Every field that a column can be taken for."""
    return tuple(dict.fromkeys(_synonyms().values()))


@lru_cache(maxsize=4096)
def plain_word(text: str) -> str:
    """A heading without case, accents, points and brackets: "Stock-No. (ours)" is "stock no ours"."""
    letters = unicodedata.normalize("NFKD", text.replace("ß", "ss").replace("Nº", "no").replace("N°", "no"))
    kept = "".join(sign if sign.isalnum() else " " for sign in letters if not unicodedata.combining(sign))
    return " ".join(kept.casefold().split())


_UNITS = {
    "cm",
    "mm",
    "in",
    "ins",
    "inches",
    "g",
    "gr",
    "kg",
    "oz",
    "ml",
    "gbp",
    "eur",
    "usd",
    "euro",
    "pounds",
}


@lru_cache(maxsize=4096)
def heading_field(heading: str) -> tuple[str, float, str]:
    """Field, confidence and reason for one heading; ("", 0, "") when its words say nothing."""
    word = plain_word(heading)
    if not word or len(word) > 60:
        return "", 0.0, ""
    words = _synonyms()
    bare = " ".join(part for part in word.split() if part not in _UNITS) or word
    for form in (word, bare):
        if form in words:
            return words[form], 0.95, f"the heading {heading.strip()!r}"
    parts = bare.split()
    if len(parts) > 1 and len(parts[-1]) == 1 and parts[-1] in words and words.get(parts[0]) == "measures":
        return words[parts[-1]], 0.8, f"the headings {heading.strip()!r}"
    for size in range(min(4, len(parts)), 0, -1):
        for at in range(len(parts) - size, -1, -1):
            form = " ".join(parts[at : at + size])
            if form in words and len(form) > 1:
                return (
                    words[form],
                    0.8 if size > 1 else 0.7,
                    f"the word {form!r} in the heading {heading.strip()!r}",
                )
    return _nearly(bare, heading)


def _nearly(word: str, heading: str) -> tuple[str, float, str]:
    from rapidfuzz import fuzz, process

    if len(word) < 4:
        return "", 0.0, ""
    long_words = {known: field for known, field in _synonyms().items() if len(known) >= 4}
    found = process.extractOne(word, list(long_words), scorer=fuzz.ratio, score_cutoff=84)
    if found is None:
        return "", 0.0, ""
    return long_words[found[0]], 0.6, f"the heading {heading.strip()!r}, which is nearly {found[0]!r}"


def find_header(grid: Grid) -> tuple[int, int] | None:
    """(first row, last row) of the headings, counted from 0, or None when the list has none.

    Looks at the first forty rows, takes the row whose cells name most different fields, and joins a second line when
    the row below it (or a row of merged group headings above it) completes it.
    """
    worths = {row: _worth(grid, row) for row in range(min(40, len(grid.rows)))}
    most = max(worths.values(), default=0.0)
    if most <= 0:
        return None
    best = next(row for row, worth in worths.items() if worth >= 0.55 * most)
    if best + 1 < len(grid.rows) and _second_line(grid, best, best + 1):
        return best, best + 1
    if best and _second_line(grid, best - 1, best) and _groups(grid, best - 1):
        return best - 1, best
    return best, best


def _worth(grid: Grid, row: int) -> float:
    """How much a row is like a row of headings: fields named, less the cells that name none; 0 when under two."""
    cells = [cell for cell in grid.rows[row] if cell.strip()]
    if any(_YEAR.search(cell) and not heading_field(cell)[0] for cell in cells):
        return 0.0
    fields = {heading_field(cell)[0] for cell in cells if len(cell) <= 60} - {""}
    return len(fields) - 0.3 * (len(cells) - len(fields)) if len(fields) >= 2 else 0.0


def _groups(grid: Grid, row: int) -> bool:
    return (
        any(top == row and right > left for top, left, _bottom, right in grid.merged)
        and sum(1 for cell in grid.rows[row] if cell.strip()) >= 2
    )


def _second_line(grid: Grid, upper: int, lower: int) -> bool:
    """True when `lower` completes the headings in `upper`: short words, no figures, most of them headings or units."""
    cells = [cell.strip() for cell in grid.rows[lower] if cell.strip()]
    if not cells or any(len(cell) > 18 or any(sign.isdigit() for sign in cell) for cell in cells):
        return False
    units = [cell for cell in cells if plain_word(cell) in _UNITS or cell in "£€$"]
    told = [cell for cell in cells if heading_field(cell)[0] or cell in units]
    fills = any(
        cell.strip() and not grid.cell(upper, column).strip() for column, cell in enumerate(grid.rows[lower])
    )
    return len(told) >= max(1, 0.7 * len(cells)) and (fills or len(units) == len(cells))


def headings_of(grid: Grid, header: tuple[int, int] | None) -> list[str]:
    """One heading per column, never empty and never twice; a merged group heading is put before each of its columns."""
    width = max((len(row) for row in grid.rows), default=0)
    headings = []
    for column in range(width):
        parts: list[str] = []
        for row in range(header[0], header[1] + 1) if header else ():
            words = " ".join((grid.cell(row, column) or _merged_heading(grid, row, column)).split())
            if words and words not in parts:
                parts.append(words)
        headings.append(" ".join(parts))
    seen: dict[str, int] = {}
    for column, heading in enumerate(headings):
        name = heading or letter(column)
        seen[name] = seen.get(name, 0) + 1
        headings[column] = name if seen[name] == 1 else f"{name} ({letter(column)})"
    return headings


def _merged_heading(grid: Grid, row: int, column: int) -> str:
    for top, left, bottom, right in grid.merged:
        if top <= row <= bottom and left <= column <= right:
            return grid.cell(top, left)
    return ""


def guess_columns(
    grid: Grid, headings: list[str], body: range, chosen: Mapping[str, str], has_header: bool
) -> tuple[ColumnGuess, ...]:
    """What each column holds. `chosen` (heading or letter to field) overrules every guess."""
    picks = {plain_word(name): field for name, field in chosen.items()}
    guesses: list[tuple[str, float, str]] = []
    for column, heading in enumerate(headings):
        asked = picks.get(plain_word(heading), picks.get(letter(column).casefold()))
        if asked is not None:
            guesses.append(("" if asked == "ignore" else asked, 1.0, "the mapping"))
            continue
        cells = [grid.cell(row, column).strip() for row in body[:400]]
        guesses.append(_guess(heading if has_header else "", [cell for cell in cells if cell]))
    _keep_best(guesses)
    _needs_words(grid, guesses, body)
    return tuple(
        ColumnGuess(
            sheet=grid.name,
            letter=letter(column),
            heading=headings[column],
            field=field,
            confidence=sure,
            why=why,
        )
        for column, (field, sure, why) in enumerate(guesses)
    )


def _guess(heading: str, cells: list[str]) -> tuple[str, float, str]:
    field, sure, why = heading_field(heading) if heading else ("", 0.0, "")
    content, content_sure, content_why = _by_content(cells)
    if not field:
        return content, content_sure, content_why
    if content == field:
        return field, min(0.99, sure + 0.04), f"{why} and {content_why}"
    if field == "number" and content == "text":
        return "text", 0.5, f"{content_why}, although {why} says number"
    if field == "place" and content == "price":
        return content, content_sure, content_why
    return field, sure, why


def _by_content(cells: list[str]) -> tuple[str, float, str]:
    if not cells:
        return "", 0.0, "the column is empty"

    def share(pattern: re.Pattern[str]) -> float:
        return sum(1 for cell in cells if pattern.search(cell)) / len(cells)

    length = sum(map(len, cells)) / len(cells)
    if share(_PRICE) > 0.6:
        return "price", 0.7, "most cells hold a sum of money"
    if length > 35:
        return "text", 0.6, "the cells hold sentences"
    if share(_NUMBER) > 0.8 and len(set(cells)) > 0.9 * len(cells) and share(_YEAR) < 0.5:
        return "number", 0.5, "the cells hold numbers that do not repeat"
    if share(_YEAR) > 0.6:
        return "date", 0.6, "most cells hold a year or a century"
    if share(_MEASURE) > 0.6:
        return "measures", 0.6, "most cells hold a measure"
    if length > 18 and share(_AMOUNT) < 0.2:
        return "text", 0.4, "the cells hold words"
    return "", 0.0, "neither the heading nor the cells say"


def _keep_best(guesses: list[tuple[str, float, str]]) -> None:
    for field in _ONLY_ONE:
        rivals = [at for at, guess in enumerate(guesses) if guess[0] == field]
        if len(rivals) > 1:
            best = max(rivals, key=lambda at: (guesses[at][1], -at))
            for at in rivals:
                if at != best:
                    guesses[at] = ("", 0.0, f"another column is the better {field}")


def _needs_words(grid: Grid, guesses: list[tuple[str, float, str]], body: range) -> None:
    """When no column was taken for the words, take the one with the longest cells, unless it has another meaning."""
    if any(field in {"text", "title"} for field, _sure, _why in guesses):
        return
    lengths = [
        sum(len(grid.cell(row, column)) for row in body[:200]) if not guesses[column][0] else 0
        for column in range(len(guesses))
    ]
    if lengths and max(lengths) > 10 * max(1, len(body[:200])):
        guesses[lengths.index(max(lengths))] = ("text", 0.4, "its cells are the longest")
