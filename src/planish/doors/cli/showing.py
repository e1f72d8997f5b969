"""How commands show what they found: a table for people, JSON for programs, progress for anything that lasts."""

import dataclasses
import json
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import click

from planish.records import Problem


def plain(value: object) -> Any:
    """Turn records, mappings, tuples and bytes (as hex) into what JSON can hold."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: plain(getattr(value, f.name)) for f in dataclasses.fields(value)}
    if isinstance(value, Mapping):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, (list, tuple, set, frozenset)):
        return [plain(item) for item in value]
    if isinstance(value, Path):
        return str(value)
    return value.hex() if isinstance(value, bytes) else value


def as_json(value: object) -> None:
    """Print `value` as JSON, one document."""
    click.echo(json.dumps(plain(value), ensure_ascii=False, indent=2))


def as_table(title: str, columns: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    """Print a table that fits the window; plain text when the output is not a terminal."""
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    table = Table(title=title or None, title_justify="left", box=None, pad_edge=False, header_style="bold")
    for column in columns:
        table.add_column(column, overflow="fold")
    for row in rows:
        table.add_row(*(Text(cell) for cell in row))
    Console(highlight=False, soft_wrap=False).print(table)


def as_sections(columns: Sequence[str], sections: Iterable[Sequence[Sequence[str]]]) -> None:
    """Print a table with a rule between sections; words wrap and are never cut."""
    from rich.box import HORIZONTALS
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    table = Table(box=HORIZONTALS, pad_edge=False, header_style="bold")
    for column in columns:
        table.add_column(column, overflow="fold")
    for rows in sections:
        for at, row in enumerate(rows, 1):
            table.add_row(*(Text(cell) for cell in row), end_section=at == len(rows))
    Console(highlight=False, soft_wrap=False).print(table)


def problems_in_words(problems: Iterable[Problem]) -> None:
    """Print problems on standard error, worst first, each with its way out."""
    for problem in sorted(problems, key=lambda p: p.severity):
        click.echo(f"  · {problem}", err=True)


@contextmanager
def progress(label: str, total: int) -> Iterator[Callable[[int], None]]:
    """A progress bar on standard error when a person is watching; silent otherwise. Yields an `advance(n)` function."""
    if total < 50 or not sys.stderr.isatty():
        yield lambda _done: None
        return
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(label, total=total)
        yield lambda done: bar.advance(task, done)
