"""`planish answer`: answer a question that taking in a list has raised."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.showing import as_json, as_table
from planish.errands.intake import asking
from planish.errands.opening import wiring


@click.command(
    epilog="Example: planish answer --fair saltmere-2026    planish answer 3 --same    planish answer 3 --new"
)
@click.argument("number", required=False, type=int)
@click.option("--same", "answer", flag_value="same", help="The same object with another stock number.")
@click.option("--new", "answer", flag_value="new", help="Another object; the old one is gone.")
@fair_option
@json_option
def command(number: int | None, answer: str | None, folder: Path, json_: bool) -> None:
    """List open questions, or answer the one with this NUMBER."""
    if number is None:
        with wiring.open_fair(folder) as fair:
            rows = asking.open_questions(fair)
        if json_:
            as_json(rows)
        else:
            as_table(
                f"{len(rows)} open questions",
                ("no.", "object", "question"),
                [(str(q.number), q.object_id, q.words) for q in rows],
            )
        return
    if answer is None:
        raise click.UsageError("Say --same or --new.")
    with wiring.open_fair(folder, write=True) as fair:
        done = asking.answer(fair, number, answer)
    click.echo(done)
