"""`planish backup`: a verified, encrypted copy of the fair on a second medium; and the drill."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.sheets import sheet
from planish.doors.cli.showing import as_json
from planish.errands.opening import wiring
from planish.errands.opening.refusing import Refused
from planish.errands.record import backing, restoring


@click.command(
    epilog="Example: planish backup --fair saltmere-2026 /media/stick    planish backup --drill /media/stick"
)
@click.argument("place", required=False, type=click.Path(path_type=Path))
@click.option(
    "--drill", is_flag=True, help="Open the newest backup with a sheet and read all of it; changes nothing."
)
@click.option(
    "--counts",
    is_flag=True,
    help="PLACE is on this disk, and something else carries it to another one: entries in it count as safe.",
)
@fair_option
@json_option
def command(place: Path | None, drill: bool, counts: bool, folder: Path, json_: bool) -> None:
    """Back the fair up to PLACE, a folder on a second medium; without PLACE say how safe the log is.

    Works while the desk is open. A desk that is open repeats it there every five minutes. The copy is verified before
    it counts, and encrypted so that either recovery sheet opens it. Kept are 12 of the last hour, one an hour for a
    day, one a day for five weeks.
    """
    if drill:
        _drill(folder, _known(folder, place), json_)
    elif place is None:
        _say(folder, json_)
    else:
        _make(folder, place, True if counts else None, json_)


def _known(folder: Path, place: Path | None) -> Path:
    known = place or backing.said_of(folder).get("place")
    if not known:
        raise click.UsageError("Name the medium.")
    return Path(known)


def _make(folder: Path, place: Path, counts: bool | None, json_: bool) -> None:
    try:
        with wiring.open_fair(folder, write=True) as fair:
            done = backing.back_up(fair, place, counts=counts)
    except Refused as refused:
        if refused.kind != "ledger" or "another planish" not in str(refused):
            raise
        with wiring.open_fair(folder) as fair:  # the desk is open and takes note itself
            done = backing.back_up(fair, place, counts=counts)
    if json_:
        as_json(done)
        return
    click.echo(
        f"Entries up to {done.n} are in {done.file}, {done.bytes / 1e6:.1f} MB, and {done.new_files} new files."
    )
    click.echo(
        "The copy was opened and verified before it was encrypted; what the medium holds was read back."
    )
    if not done.counts:
        click.echo(
            "This place is on the same disk as the fair: when the disk fails, both are gone. It does not count as safe.",
            err=True,
        )
    if not backing.said_of(folder).get("drilled_ms"):
        click.echo(
            "Nobody has opened a backup with a sheet yet. Do it once: planish backup --drill", err=True
        )


def _say(folder: Path, json_: bool) -> None:
    with wiring.open_fair(folder) as fair:
        now = backing.standing(fair)
    if json_:
        as_json(now)
        return
    click.echo(f"Entries up to {now.safe_n} of {now.head_n} are in a verified backup on a second medium.")
    click.echo(f"Place: {now.place or 'none was named yet'}")
    if now.fault:
        click.echo(f"The last one failed: {now.fault}", err=True)
    if now.late:
        click.echo("The last good backup is more than 15 minutes old, or there is none.", err=True)


def _drill(folder: Path, place: Path, json_: bool) -> None:
    done = restoring.drill(folder, place, sheet())
    if json_:
        as_json(done)
    else:
        click.echo(
            f"The sheet opens it: {done.n} entries, every byte as it was written, and {done.files} files."
        )
    if done.missing:
        click.echo(
            f"{len(done.missing)} files are not on the medium: {', '.join(done.missing[:5])}", err=True
        )
        raise SystemExit(1)
