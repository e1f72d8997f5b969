"""`planish take`: take in a stand's list, as it was sent."""

from dataclasses import replace
from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.showing import as_json, as_table, problems_in_words
from planish.doors.papers.lists import read_list_safely
from planish.errands.intake import listing
from planish.errands.intake.relisting import compare_lists, stand_problems
from planish.errands.opening import wiring
from planish.errands.opening.refusing import Refused
from planish.records.lists import TakenList


@click.command(epilog="Example: planish take --fair saltmere-2026 --stand 7 stand-7.xlsx")
@click.argument("file", type=click.Path(path_type=Path, exists=True, dir_okay=False))
@click.option("--stand", required=True, help="Whose list it is.")
@click.option(
    "--mapping", type=click.Path(path_type=Path, exists=True, dir_okay=False), help="Which column is what."
)
@click.option("--look", is_flag=True, help="Only show what would be taken; change nothing.")
@fair_option
@json_option
def command(file: Path, stand: str, mapping: Path | None, look: bool, folder: Path, json_: bool) -> None:
    """Take in FILE (XLSX, XLS, ODS, CSV, TSV, JSON or typed text) as the list of a stand.

    The same file again changes nothing; a changed file updates and says what changed; stock that seems renumbered is
    asked about, never guessed. Every odd cell is named with its place and the way out.
    """
    taken = read_list_safely(file, mapping=mapping.read_text(encoding="utf-8") if mapping else None)
    if not taken.objects and taken.problems:
        raise Refused(taken.problems[0], *taken.problems[1:])
    taken = replace(taken, problems=(*taken.problems, *stand_problems(taken, stand)))
    with wiring.open_fair(folder, write=not look) as fair:
        change = compare_lists(listing.on_file(fair, stand), taken)
        if look:
            _preview(taken, json_)
            return
        done = listing.take(fair, stand, taken, change)
    if json_:
        as_json(done)
        return
    click.echo(
        f"Stand {stand}, {done.file}: {done.added} new, {len(done.updated)} changed, {done.withdrawn} gone, {done.same} the same."
    )
    for line in done.updated:
        click.echo(f"  {line}")
    for question in done.questions:
        click.echo(f"  To ask: {question}  (planish answer)")
    if done.problems:
        click.echo(f"{len(done.problems)} cells to look at:", err=True)
        problems_in_words(done.problems)


def _preview(taken: TakenList, json_: bool) -> None:
    if json_:
        as_json(taken)
        return
    rows = [
        (c.sheet, c.letter, c.heading, c.field or "—", f"{c.confidence:.0%}", c.why) for c in taken.columns
    ]
    as_table(
        f"{taken.file}: {len(taken.objects)} objects",
        ("sheet", "column", "heading", "taken for", "sure", "why"),
        rows,
    )
    problems_in_words(taken.problems)
