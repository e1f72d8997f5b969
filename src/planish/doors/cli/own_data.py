"""`planish own-data`: everything a fair holds about one person, for that person."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.showing import as_json
from planish.doors.papers import own_record
from planish.errands.opening import wiring
from planish.errands.people.own_data import own_data


@click.command(
    epilog="Example: planish own-data --fair saltmere-2026 ann ann-her-data    planish own-data 7 --json"
)
@click.argument("person")
@click.argument("target", required=False, type=click.Path(path_type=Path))
@fair_option
@json_option
def command(person: str, target: Path | None, folder: Path, json_: bool) -> None:
    """Write what is held about PERSON (a specialist's id, or a stand's) into the new folder TARGET: data, and a page to read.

    Other people are masked. Read the page before you hand it over: a text may tell of somebody without naming them.
    """
    with wiring.open_fair(folder) as fair:
        data = own_data(fair, person)
    if json_:
        as_json(data)
        return
    if target is None:
        raise click.UsageError("Name a new folder.")
    files = own_record.write(data, target, fair=folder)
    click.echo(
        f"{len(data.entries)} entries and {files} files in {target}; read {target / 'record.html'} before you hand it over."
    )
