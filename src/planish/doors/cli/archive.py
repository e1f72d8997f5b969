"""`planish archive`: one folder per fair that can be read and checked without planish."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.secrets import passphrase
from planish.doors.cli.showing import as_json
from planish.errands.opening import wiring
from planish.errands.record import archiving
from planish.errands.seals import keys


@click.command(epilog="Example: planish archive --fair saltmere-2026 saltmere-2026-archive")
@click.argument("target", type=click.Path(path_type=Path))
@click.option(
    "--unsigned", is_flag=True, help="Do not sign; without this the fair's seal key signs the list of files."
)
@fair_option
@json_option
def command(target: Path, unsigned: bool, folder: Path, json_: bool) -> None:
    """Write the archive into the new folder TARGET: log, objects, papers, rules, facts, checksums, its own verifier.

    No ballot, no name of a specialist, no price is in it.
    """
    key = None if unsigned or not keys.has_key(folder) else keys.private(folder, passphrase())
    with wiring.open_fair(folder) as fair:
        done = archiving.archive(fair, target, key=key)
    if json_:
        as_json(
            {
                "folder": str(done.folder),
                "entries": done.entries,
                "objects": done.objects,
                "head": done.head,
            }
        )
        return
    click.echo(f"{done.entries} entries and {done.objects} objects in {target}, {done.bytes / 1e6:.1f} MB.")
    click.echo(f"Head {done.head}" + ("" if key else "; not signed, since no key was used."))
    click.echo(f"Check it on any machine with Python: python3 {target / 'verify.py'}")
