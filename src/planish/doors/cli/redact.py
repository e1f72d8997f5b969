"""`planish redact`: delete readable text for good, by two people; the log still verifies."""

from collections import Counter
from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.showing import as_json, as_table
from planish.errands.intake.finding import find
from planish.errands.opening import wiring
from planish.errands.opening.wiring import Fair
from planish.errands.record import redacting
from planish.errands.record.redacting import GROUNDS, Deleted, Wanted


@click.command(
    epilog="Example: planish redact --person ann --ground request --by cy --second lee    planish redact --entry 47 --field words"
)
@click.option("--entry", "entries", multiple=True, type=int, help="An entry's number; may be given again.")
@click.option("--object", "objects", multiple=True, help="All about an object, as 7/14.")
@click.option(
    "--person", "people", multiple=True, help="A specialist's name, contact and reasons of conflicts."
)
@click.option("--stand", "stands", multiple=True, help="All about a stand and its list.")
@click.option("--words", default="", help="Every text that holds these words.")
@click.option("--field", default="", help="Only this field.")
@click.option("--ground", type=click.Choice(GROUNDS), default="request", show_default=True)
@click.option(
    "--by",
    "who",
    default="",
    help="Who deletes; without it the texts are only listed. Taken at their word at the desk's own command line.",
)
@click.option("--second", default="", help="The second person who agrees.")
@click.option("--finish", is_flag=True, help="Carry out what was recorded and cut off.")
@fair_option
@json_option
def command(
    entries: tuple[int, ...],
    objects: tuple[str, ...],
    people: tuple[str, ...],
    stands: tuple[str, ...],
    words: str,
    field: str,
    ground: str,
    who: str,
    second: str,
    finish: bool,
    folder: Path,
    json_: bool,
) -> None:
    """List readable texts, or with --by and --second delete them for good. This cannot be undone.

    The log keeps that something was written, when and by whom, and still verifies. Words that passed, reasons of outcomes
    and ballots are not deleted because somebody asks. Printed papers, archives and copies elsewhere are yours to find.
    """
    with wiring.open_fair(folder, write=bool(who) or finish) as fair:
        if finish:
            told(redacting.finish(fair), json_)
            return
        ids = tuple(find(fair.state, item).listed.id for item in objects)
        wanted = Wanted(entries=entries, objects=ids, people=people, stands=stands, words=words, field=field)
        texts = redacting.chosen(fair, wanted, ground=ground)
        if not who:
            _list(fair, texts, json_)
            return
        told(redacting.redact(fair, texts, ground=ground, who=who, second=second), json_)


def _list(fair: Fair, texts: tuple[redacting.Text, ...], json_: bool) -> None:
    if json_:
        as_json(texts)
        return
    rows = [(str(text.n), text.kind, text.path, text.sub) for text in texts]
    as_table(f"{len(rows)} texts of {fair.state.name}", ("entry", "kind", "field", "about"), rows)
    kinds = Counter(text.kind for text in texts)
    click.echo(
        ", ".join(f"{count} of {kind}" for kind, count in sorted(kinds.items()))
        or "Nothing is left to delete."
    )


def told(done: Deleted, json_: bool) -> None:
    """Say what a deletion did and did not reach."""
    if json_:
        as_json(done)
        return
    click.echo(f"{done.texts} texts and {done.files} files are deleted; the log verifies.")
    click.echo(
        "Backups made before hold them, encrypted, for five weeks at most; restoring one deletes them again."
    )
    if done.copies:
        click.echo(f"{done.copies} earlier copies of papers went from the backup medium.")
    if done.papers:
        click.echo(
            "Printed before, and each may quote what was deleted. Print again what is needed and destroy:"
        )
        for name in done.papers:
            click.echo(f"  papers/{name}, and every sheet printed from it")
        click.echo(
            "Other sticks lose their copies at their next backup. Archives and copies elsewhere: yours to find."
        )
