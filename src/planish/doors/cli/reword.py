"""`planish reword`: find the strongest sentence that every finding carries; ask it, sign it."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.showing import as_json
from planish.doors.cli.words_shown import tell_words
from planish.errands.intake.finding import find
from planish.errands.opening import wiring
from planish.errands.panel import examining
from planish.errands.words import labelling
from planish.records import AgreedWords


@click.command(epilog="Example: planish reword --fair saltmere-2026 7/14 --ask --by p1")
@click.argument("items", nargs=-1)
@click.option("--all", "all_", is_flag=True, help="Every object whose outcome is relabel.")
@click.option("--ask", is_flag=True, help="Record the words as asked.")
@click.option("--house", is_flag=True, help="With --ask: ask for the house form, where there is one.")
@click.option("--sign", is_flag=True, help="Record that both sides sign the words asked.")
@click.option(
    "--by",
    default="office",
    help="Who asks, or signs for the panel. Taken at their word at the desk's own command line.",
)
@fair_option
@json_option
def command(
    items: tuple[str, ...],
    all_: bool,
    ask: bool,
    house: bool,
    sign: bool,
    by: str,
    folder: Path,
    json_: bool,
) -> None:
    """Find the words that every finding and all hard evidence of ITEMS carry, next to the label as hung."""
    if not items and not all_:
        raise click.UsageError("Name an object, or give --all.")
    with wiring.open_fair(folder, write=ask or sign) as fair:
        chosen = [find(fair.state, item) for item in items] or [
            s for s in fair.state.objects.values() if s.state.outcome == "relabel"
        ]
        found = []
        for story in chosen:
            if sign and story.label and story.label.stage == "asked":
                labelling.sign(
                    fair, story.listed.id, for_panel=by, for_exhibitor=f"stand {story.listed.stand}"
                )
                continue
            settled = examining.count(fair, story)
            agreed = labelling.reword(fair, settled)
            if house and agreed.house:
                agreed = labelling.housed(agreed, settled)
            found.append((story.listed.id, agreed))
            if ask and agreed.changed:
                labelling.ask(fair, settled, agreed, who=by)
    if json_:
        as_json([{"object": object_id, "words": agreed} for object_id, agreed in found])
        return
    for object_id, agreed in found:
        _tell(object_id, agreed)
    if sign:
        click.echo(f"{len(chosen) - len(found)} labels signed by both sides.")


def _tell(object_id: str, agreed: AgreedWords) -> None:
    click.echo(f"{object_id}")
    tell_words(agreed)
