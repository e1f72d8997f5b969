"""`planish looks`: what to look at again, at what pace faults may have slipped through, what may have been missed."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.showing import as_json, as_table
from planish.errands.intake.finding import find
from planish.errands.opening import wiring
from planish.errands.panel import second_looks


@click.command(
    epilog="Example: planish looks --fair saltmere-2026 --capacity 20    planish looks --draw 60 --seed 7 --by chair    "
    "planish looks --done 7/14 --found nothing --by p6"
)
@click.option(
    "--capacity", type=click.IntRange(0), default=20, show_default=True, help="Second looks left today."
)
@click.option(
    "--draw", "size", type=click.IntRange(1), help="Draw so many objects by lot for a blind second look."
)
@click.option("--seed", type=int, help="Number that fixes the lot; written down with it.")
@click.option(
    "--among",
    type=click.Choice(["passed", "seen"]),
    default="passed",
    show_default=True,
    help="Draw among what was accepted, or among everything that has an outcome.",
)
@click.option("--done", "item", metavar="ITEM", help="Record what a second look found.")
@click.option("--found", type=click.Choice(["fault", "nothing"]), help="With --done: what it found.")
@click.option("--words", default="", help="With --done: what was seen, about the object.")
@click.option(
    "--by",
    default="office",
    show_default=True,
    help="Who draws, or who looked again. Taken at their word at the desk's own command line.",
)
@fair_option
@json_option
def command(
    capacity: int,
    size: int | None,
    seed: int | None,
    among: second_looks.Among,
    item: str | None,
    found: second_looks.Found | None,
    words: str,
    by: str,
    folder: Path,
    json_: bool,
) -> None:
    """Plan second looks: the few that save most under the day's capacity, mixed with those drawn by lot, in stand order.

    The list does not say why an object is on it: whoever looks again looks blind, and no split shows.
    """
    if size is not None and seed is None:
        raise click.UsageError("A lot needs its --seed, so that anybody can draw it again.")
    if (item is None) != (found is None):
        raise click.UsageError("--done and --found belong together.")
    with wiring.open_fair(folder, write=bool(size or item)) as fair:
        if size and seed is not None:
            drawn = second_looks.draw(fair, size=size, seed=seed, who=by, among=among)
            click.echo(f"{len(drawn)} objects drawn and written down.", err=True)
        if item and found:
            second_looks.done(fair, find(fair.state, item), found=found, words=words, who=by)
            click.echo(f"Second look at {item}: {found}.", err=True)
        plan = second_looks.second_looks(fair, capacity=capacity)
    as_json(plan) if json_ else _tell(plan)


def _tell(plan: second_looks.SecondLooks) -> None:
    rows = [(look.number, look.words[:90], "done" if look.done else "") for look in plan.looks]
    as_table(f"{len(rows)} objects to look at again, in stand order", ("object", "words", ""), rows)
    click.echo(f"{plan.would_pay} second looks would pay; the day has room for {plan.capacity}.")
    if plan.referred:
        click.echo(f"{plan.referred} referred objects get theirs by the rule book and are not counted here.")
    if plan.covered:
        click.echo(
            f"{plan.covered} objects are not ranked: their ballots lie covered until the keys are unlocked."
        )
    click.echo("Pace")
    for warning in plan.pace:
        where = f"panel {warning.panel}, {warning.hour}: " if warning.hour else ""
        click.echo(f"  {where}{warning.sentence}")
    if not plan.pace:
        click.echo("  No hour was faster, or found less, than the fair's own rate leads one to expect.")
    click.echo("What may have been missed")
    click.echo(f"  {plan.missed.sentence}")
    if plan.missed.both:
        click.echo(f"  Two blind searches of the sample: {plan.missed.both.sentence}")
    for line in plan.assumptions:
        click.echo(f"  {line}")
