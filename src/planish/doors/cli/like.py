"""`planish like`: what was done on the other stand? The nearest cases of the same fault, and where outcomes differ."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.showing import as_json
from planish.errands.intake.finding import find
from planish.errands.opening import wiring
from planish.errands.panel import earlier, liking


@click.command(
    epilog="Example: planish like --fair saltmere-2026 7/14    planish like --fair saltmere-2026    planish like 7/14 --earlier saltmere-2025-archive"
)
@click.argument("item", required=False)
@click.option(
    "--most", type=click.IntRange(1, 50), default=5, show_default=True, help="How many cases at most."
)
@click.option(
    "--earlier",
    "places",
    multiple=True,
    type=click.Path(path_type=Path, exists=True, file_okay=False),
    help="An earlier fair's folder or archive; only where the rule book allows it. May be given again.",
)
@fair_option
@json_option
def command(item: str | None, most: int, places: tuple[Path, ...], folder: Path, json_: bool) -> None:
    """Show how the same fault as on ITEM (stand/number or id) was treated elsewhere at this fair.

    Without ITEM: every pair of like cases with unlike outcomes. Two objects are compared by their gravest faults.
    """
    with wiring.open_fair(folder) as fair:
        before = earlier.earlier_cases(fair, places)
        book = liking.CaseBook.of(fair, earlier=before.cases, then=before.then)
        found = book.like(find(fair.state, item), most=most) if item else None
        alarms = found.alarms if found else book.alarms(most=most)
    if json_:
        as_json(found if found else alarms)
        return
    if found:
        _tell(found)
    elif not alarms:
        click.echo("No like cases with unlike outcomes.")
    for alarm in alarms:
        click.echo(f"  ! {alarm.sentence}")


def _tell(found: liking.LikeCases) -> None:
    click.echo(f"{found.number}  {found.words}\n  {found.outcome or 'no outcome yet'}")
    for fault in found.faults:
        click.echo(f"  Fault: {fault}")
    if not found.faults:
        click.echo("  No fault is on record, so there is nothing to compare.")
    elif not found.cases:
        click.echo("  No like case has an outcome yet.")
    for case in found.cases:
        click.echo(f"  {case.number}  {case.outcome}  {case.words}")
        for reason in case.reasons[:2]:
            click.echo(f"      Reason: {reason}")
        if case.different:
            click.echo(f"      Differs in {', '.join(case.different)}")
