"""`planish move`: record that an object changed place, with two initials and a condition line."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option
from planish.errands.intake import moving
from planish.errands.intake.finding import find
from planish.errands.opening import wiring


@click.command(
    epilog="Example: planish move --fair saltmere-2026 7/14 --to safe_keeping --place 'shelf B' --given-by 7 --taken-by office --condition 'lid loose'"
)
@click.argument("item")
@click.option("--to", required=True, type=click.Choice(moving.PLACES), help="Where it goes.")
@click.option("--place", default="", help="Shelf, room or stand.")
@click.option("--given-by", required=True, help="First initials: a person or stand.")
@click.option("--taken-by", required=True, help="Second initials: a person or stand.")
@click.option("--condition", required=True, help="One line on its condition at hand-over.")
@fair_option
def command(
    item: str, to: str, place: str, given_by: str, taken_by: str, condition: str, folder: Path
) -> None:
    """Move ITEM (stand/number or id). Where it came from is what the record says; a mistake shows as an alarm."""
    with wiring.open_fair(folder, write=True) as fair:
        story = find(fair.state, item)
        moving.move(
            fair, story, to=to, place=place, given_by=given_by, taken_by=taken_by, condition=condition
        )
    click.echo(
        f"{story.listed.stand}/{story.listed.number} is now at {to.replace('_', ' ')}{', ' + place if place else ''}."
    )
