"""`planish invoice`: the words for an invoice, word for word from the sealed label."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.showing import as_json
from planish.errands.intake.finding import find
from planish.errands.opening import wiring
from planish.errands.seals import sealing


@click.command(epilog="Example: planish invoice --fair saltmere-2026 7/14")
@click.argument("item")
@fair_option
@json_option
def command(item: str, folder: Path, json_: bool) -> None:
    """Print the words of ITEM for an invoice: the sealed label, word for word, and the lines in it that disclose."""
    with wiring.open_fair(folder) as fair:
        said = sealing.invoice_words(fair, find(fair.state, item))
    if json_:
        as_json(said)
        return
    click.echo(said.words)
    for line in said.disclosures:
        click.echo(f"To be read out: {line}")
    click.echo(said.passed)
