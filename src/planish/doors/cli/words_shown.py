"""Agreed words in a terminal: what goes in [- -], what comes in [+ +], why, and what would let the label say more."""

import click

from planish.records import AgreedWords

MARKS = {"same": "{}", "removed": "[-{}-]", "added": "[+{}+]"}


def tell_words(agreed: AgreedWords) -> None:
    """Print the agreed words next to the label as hung."""
    click.echo("  " + "".join(MARKS[run.kind].format(run.words) for run in agreed.changes))
    if not agreed.changed:
        click.echo("  The words stand as they hang.")
    if agreed.house and agreed.house != agreed.text:
        click.echo(f"  in house form: {agreed.house}")
    for why in dict.fromkeys(why for step in agreed.steps for why in step.why):
        click.echo(f"  because: {why}")
    for climb in agreed.climbs:
        click.echo(
            f"  to say “{climb.words}”: {climb.look} (about {climb.minutes} min, house estimate; by {climb.found_by})"
        )
    for warning in agreed.warnings:
        click.echo(f"  note: {warning}")
    for problem in agreed.problems:
        click.echo(f"  ! {problem}")
