"""`planish people`: add people, panels, stands and declared conflicts from a TOML file; show who is there."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.showing import as_json, as_table
from planish.errands.opening import wiring
from planish.errands.people import gathering, proving
from planish.ledger.replay import FairState


@click.command(epilog="Example: planish people --fair saltmere-2026 people.toml stands.toml")
@click.argument("files", nargs=-1, type=click.Path(path_type=Path, exists=True, dir_okay=False))
@click.option(
    "--passphrase", "person", metavar="PERSON", help="Make a passphrase for this person and print it, once."
)
@fair_option
@json_option
def command(files: tuple[Path, ...], person: str | None, folder: Path, json_: bool) -> None:
    """Add what FILES hold ([[person]], [[panel]], [[stand]] tables); with no file, show who takes part."""
    if person:
        with wiring.open_fair(folder) as fair:
            made = proving.new_passphrase(folder, fair.state, person)
        as_json({"person": person, "passphrase": made}) if json_ else click.echo(f"{person}: {made}")
        return
    if not files:
        with wiring.open_fair(folder) as fair:
            _show(fair.state, json_)
        return
    contents = [gathering.read_people(path) for path in files]
    with wiring.open_fair(folder, write=True) as fair:
        counts = [gathering.gather(fair, content) for content in contents]
    total = {what: sum(count[what] for count in counts) for what in gathering.TABLES}
    if json_:
        as_json(total)
    else:
        click.echo(f"New: {total['person']} people, {total['panel']} panels, {total['stand']} stands.")


def _show(state: FairState, json_: bool) -> None:
    if json_:
        as_json({"people": state.people, "panels": state.panels, "stands": state.stands})
        return
    rows = [
        (p.id, p.name, ", ".join(sorted(p.roles)), ", ".join(p.disciplines), ", ".join(sorted(p.conflicts)))
        for p in state.people.values()
    ]
    as_table("People", ("id", "name", "roles", "disciplines", "conflicts with stands"), rows)
    for panel in state.panels.values():
        click.echo(
            f"Panel {panel.id}: {', '.join(panel.members)}; sees {', '.join(panel.disciplines) or 'everything'}"
        )
    click.echo(f"{len(state.stands)} stands.")
