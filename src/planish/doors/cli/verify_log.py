"""`planish verify-log`: prove that no entry of the log was changed."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.showing import as_json, problems_in_words
from planish.errands.record import keeping


@click.command(epilog="Example: planish verify-log --fair saltmere-2026")
@click.option(
    "--head",
    default="",
    metavar="N:HASH",
    help="A head remembered elsewhere (a tablet, the day sheet), such as 4711:9f3c…",
)
@fair_option
@json_option
def command(head: str, folder: Path, json_: bool) -> None:
    """Read the whole log back from disk and check every byte against the chain. Exit code 1 names every fault."""
    found = keeping.verify_log(folder, remembered=head)
    if json_:
        as_json(found)
    elif found.problems:
        click.echo(f"{len(found.problems)} faults in {found.entries} entries:", err=True)
        problems_in_words(found.problems)
    else:
        click.echo(f"{found.entries} entries, every byte as it was written.")
        click.echo(f"Head {found.entries}:{found.head}")
        click.echo(f"In words, for the day sheet: {found.words}")
    if found.problems:
        raise SystemExit(1)
