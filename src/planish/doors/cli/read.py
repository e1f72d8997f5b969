"""`planish read`: what a label claims, with every word accounted for."""

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from planish.records import Reading


def _texts(text: str | None, file: str | None, blocks: bool) -> list[str]:
    """The labels asked for: the words given, or a file or standard input cut by line or by blank line."""
    if text is not None and text != "-":
        return [text]
    if file is not None and file != "-":
        whole = Path(file).read_bytes().decode("utf-8-sig", errors="replace")
    else:
        whole = sys.stdin.buffer.read().decode("utf-8-sig", errors="replace")
    if not blocks:
        return [line for line in whole.splitlines() if line.strip()]
    pieces: list[list[str]] = [[]]
    for line in whole.splitlines():
        if line.strip():
            pieces[-1].append(line)
        elif pieces[-1]:
            pieces.append([])
    return ["\n".join(piece) for piece in pieces if piece]


def _line(reading: "Reading") -> str:
    from planish.doors.cli.showing import plain

    row: dict[str, Any] = {
        "text": reading.text,
        "years": plain(reading.years),
        "materials": plain(reading.materials),
        "object_types": plain(reading.object_types),
        "measures": plain(reading.measures),
        "claims": plain(reading.claims),
        "unread": plain(reading.unread),
        "problems": plain(reading.problems),
    }
    return json.dumps(row, ensure_ascii=False)


def _show(readings: "list[Reading]") -> None:
    from rich.console import Console

    from planish.doors.cli.showing import as_table
    from planish.doors.papers.underlined import as_text, legend, says

    console = Console(highlight=False)
    for reading in readings:
        console.print(as_text(reading))
        rows = [(c.side, c.words, says(c)) for c in reading.claims]
        as_table("", ("claim", "words", "read as"), rows)
        for problem in reading.problems:
            click.echo(f"  · {problem}")
        click.echo("")
    click.echo("Letters: " + ", ".join(f"{letter} {kind}" for letter, kind in legend(readings)))


@click.command(
    epilog="Example: planish read 'Pewter flagon, c. 1720, 24 cm high'   ·   planish read --file list.txt --json"
)
@click.argument("text", required=False)
@click.option(
    "--file", "file", metavar="FILE", help="Read a text file; - is standard input. One label a line."
)
@click.option(
    "--blocks", is_flag=True, help="Labels are separated by blank lines instead, and may have many lines."
)
@click.option("--json", "as_json", is_flag=True, help="Print JSON Lines, one label a line.")
@click.option(
    "--html",
    "page",
    metavar="FILE",
    type=click.Path(dir_okay=False, writable=True),
    help="Write the underlined labels as an HTML page.",
)
def command(text: str | None, file: str | None, blocks: bool, as_json: bool, page: str | None) -> None:
    """Read what a label claims: every claim with its own words, and what could not be read.

    Give the words, or --file, or send labels on standard input (- says so).
    """
    import planish

    try:
        texts = _texts(text, file, blocks)
    except OSError as error:
        raise click.UsageError(
            f"{file} could not be opened ({error.strerror}). Check the name of the file."
        ) from error
    if not texts:
        raise click.UsageError(
            "No label was given: the input holds no words. Give a text, or a file with one label a line."
        )
    readings = [planish.read_label(label) for label in texts]
    if page is not None:
        from planish.doors.papers.underlined import as_page

        Path(page).write_text(as_page(readings), encoding="utf-8")
        click.echo(f"{page}: {len(readings)} labels, underlined by kind.")
    if as_json:
        for reading in readings:
            click.echo(_line(reading))
    elif page is None:
        _show(readings)
