"""`planish rules`: list the rule books on file, show one, or compare two."""

import click

from planish.doors.cli.showing import as_json, as_table, problems_in_words
from planish.errands.opening import rulebooks
from planish.records import RuleBook


@click.command(epilog="Example: planish rules saltmere    planish rules saltmere my-fair.toml")
@click.argument("books", nargs=-1, metavar="[BOOK [OTHER]]")
@click.option("--json", "json_", is_flag=True, help="Print JSON.")
def command(books: tuple[str, ...], json_: bool) -> None:
    """List the rule books on file; show one BOOK (a name or a TOML file); or say where two differ."""
    if not books:
        names = rulebooks.on_file()
        as_json(names) if json_ else click.echo("Rule books on file: " + ", ".join(names))
        return
    if len(books) > 2:
        raise click.UsageError("One book to show, or two to compare.")
    read = [rulebooks.read(name) for name in books]
    for _, problems in read:
        problems_in_words(problems)
    if len(read) == 2:
        _compare(read[0][0], read[1][0], json_)
    elif json_:
        as_json(read[0][0])
    else:
        _show(read[0][0])


def _compare(left: RuleBook, right: RuleBook, json_: bool) -> None:
    differing = rulebooks.compare(left, right)
    if json_:
        as_json(differing)
        return
    if not differing:
        click.echo("The two rule books say the same.")
        return
    rows = [(d.what, d.left or "—", d.right or "—") for d in differing]
    as_table(f"{len(differing)} differences", ("what", left.fair or left.id, right.fair or right.id), rows)


def _show(book: RuleBook) -> None:
    click.echo(f"{book.fair}, rule book {book.id} {book.version}")
    rows = [(c.number, c.text, c.check, str(c.severity)) for c in book.clauses]
    as_table("", ("clause", "text", "asks", "severity"), rows)
    datelines = ", ".join(f"{field} {year}" for field, year in sorted(book.datelines.items()))
    click.echo(f"Datelines (last year admitted): {datelines or 'none'}")
    voting = book.voting
    click.echo(
        f"Counting: {voting.share:.0%} of decided opinions, quorum {voting.quorum}, at most {voting.rounds} rounds; "
        f"{voting.refer_ballots} ballots refer; doubt {'removes' if voting.doubt_removes else 'does not remove'}."
    )
    conventions = book.conventions
    click.echo(
        f"“c.” is ± {conventions.circa_years} years; centuries begin in year {conventions.century_starts_at}."
    )
