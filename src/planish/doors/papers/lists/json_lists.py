"""JSON and JSON Lines: a list of objects somewhere in the document; keys are the headings, nested keys joined by a point."""

import json
from typing import Any

from planish.doors.papers.lists.books import check_extent
from planish.doors.papers.lists.grids import Grid, Limits, Unreadable, problem


def looks_like_json(text: str) -> bool:
    """True when the text begins as a JSON list or object does."""
    head = (
        text.lstrip("\ufeff \t\r\n")[:40]
        .replace(" ", "")
        .replace("\n", "")
        .replace("\r", "")
        .replace("\t", "")
    )
    return head.startswith(('{"', '[{"', "[{}", "{}", "[[", '["', "[]"))


def read_json(name: str, text: str, limits: Limits) -> Grid:
    """A grid with the keys as its first row; figures stay as they were written."""
    entries = _entries(name, text)
    keys: dict[str, None] = {}
    flat = []
    for entry in entries:
        cells: dict[str, str] = {}
        _flatten("", entry, cells)
        keys.update(dict.fromkeys(cells))
        flat.append(cells)
        if len(flat) > limits.rows or len(keys) > limits.columns:
            check_extent(name, "1", len(flat), len(keys), limits)
    rows = [list(keys)] + [[cells.get(key, "") for key in keys] for cells in flat]
    return Grid("", rows, first_row=0, made_header=True)


def _entries(name: str, text: str) -> list[Any]:
    try:
        found = _find_list(json.loads(text, parse_float=str, parse_int=str, parse_constant=str))
    except RecursionError as error:
        raise _not_json(name, "it is nested too deeply") from error
    except json.JSONDecodeError as whole:
        found = _lines(name, text, whole)
    if not found:
        raise _not_json(name, "no list of objects was found in it")
    return found


def _not_json(name: str, why: str) -> Unreadable:
    return Unreadable(
        problem(
            name,
            "list.json",
            f"The file begins as JSON, but {why}.",
            "Send a list of objects, one per entry, or one object to a line.",
            severity=2,
        )
    )


def _lines(name: str, text: str, whole: json.JSONDecodeError) -> list[Any]:
    entries = []
    for number, line in enumerate(text.splitlines(), 1):
        if line.strip():
            try:
                entries.append(json.loads(line, parse_float=str, parse_int=str, parse_constant=str))
            except (json.JSONDecodeError, RecursionError) as error:
                at = f"line {number}" if entries else f"line {whole.lineno}, column {whole.colno}"
                raise _not_json(name, f"it breaks off at {at}") from error
    return entries


def _find_list(value: Any, depth: int = 0) -> list[Any]:
    if isinstance(value, list) and any(isinstance(item, (dict, list)) for item in value):
        return value
    if isinstance(value, dict) and depth < 4:
        for inner in value.values():
            found = _find_list(inner, depth + 1)
            if found:
                return found
    return [value] if depth == 0 and isinstance(value, dict) and value else []


def _flatten(key: str, value: Any, cells: dict[str, str]) -> None:
    if isinstance(value, dict):
        for inner, item in value.items():
            _flatten(f"{key}.{inner}" if key else str(inner), item, cells)
    elif isinstance(value, list):
        if all(not isinstance(item, (dict, list)) for item in value):
            cells[key] = "; ".join("" if item is None else str(item) for item in value)
        else:
            for place, item in enumerate(value, 1):
                _flatten(f"{key}.{place}", item, cells)
    else:
        cells[key or "text"] = (
            "" if value is None else ("yes" if value is True else "no" if value is False else str(value))
        )
