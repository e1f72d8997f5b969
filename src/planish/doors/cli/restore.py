"""`planish restore`: a fair again from a backup and one recovery sheet, here or on another machine."""

from datetime import UTC, datetime
from pathlib import Path

import click

from planish.doors.cli.options import json_option
from planish.doors.cli.sheets import sheet
from planish.doors.cli.showing import as_json
from planish.errands.record import backing, keeping, restoring


@click.command(
    epilog="Example: planish restore /media/stick --into saltmere-2026    planish restore /media/stick --list"
)
@click.argument("medium", type=click.Path(path_type=Path, exists=True, file_okay=False))
@click.option(
    "--into", type=click.Path(path_type=Path, file_okay=False), help="The fair's folder, new or broken."
)
@click.option("--list", "list_", is_flag=True, help="Only list the backups.")
@click.option(
    "--made", type=int, default=0, help="An older backup, by the number that --list shows; else the newest."
)
@click.option(
    "--head", default="", metavar="N:HASH", help="A head from the day sheet or a tablet; must agree."
)
@json_option
def command(medium: Path, into: Path | None, list_: bool, made: int, head: str, json_: bool) -> None:
    """Make a fair's folder again from the backups on MEDIUM. One of the two recovery sheets is asked for.

    Nothing is overwritten: what lies in the folder is renamed. The log begins a new epoch, so that every tablet hands in
    again what the backup does not hold. Texts deleted after the backup was made are deleted again before it opens.
    """
    if list_:
        _list(medium, json_)
        return
    if into is None:
        raise click.UsageError("Say --into and the folder.")
    done = restoring.restore(medium, into, sheet(), made_ms=made, remembered=[*keeping.heads(head)])
    if json_:
        as_json(done)
        return
    click.echo(
        f"Restored into {into}: the log up to entry {done.n}, as of {_time(done.made_ms)}, and {done.files} files."
    )
    if done.repeated:
        click.echo(f"{done.repeated} deletions made since were carried out again.")
    for name in done.aside:
        click.echo(f"Kept beside it: {name}")
    for name in done.missing:
        click.echo(f"Not on the medium: {name}", err=True)
    if done.newer:
        click.echo(
            "A newer backup lies there. Tablets may have let go of what only the newer one holds.", err=True
        )
    click.echo("Next: open the desk, and let every tablet connect; each hands in again what is not here.")


def _list(medium: Path, json_: bool) -> None:
    there = {home.name: backing.found(home) for home in restoring.homes(medium)}
    if json_:
        as_json(there)
        return
    for name, backups in there.items():
        click.echo(name)
        for one in backups:
            click.echo(f"  {one.at_ms}  {_time(one.at_ms)}  up to entry {one.n}")
    if not there:
        click.echo("No backup of a fair lies there.", err=True)


def _time(ms: int) -> str:
    return datetime.fromtimestamp(ms / 1000, UTC).strftime("%d %b %Y %H:%M UTC")
