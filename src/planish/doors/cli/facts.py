"""`planish facts`: search the fact book; show one fact with its source."""

import click

from planish.doors.cli.showing import as_json, as_table
from planish.errands.opening.refusing import refuse
from planish.errands.telling import recalling
from planish.records import Fact


@click.command(epilog="Example: planish facts electroplate    planish facts date.zinc.champion_1738")
@click.argument("words", nargs=-1)
@click.option("--discipline", default="metalware", show_default=True, help="Whose fact book.")
@click.option("--against", type=int, metavar="YEAR", help="Only facts that this year would contradict.")
@click.option("--limit", default=20, show_default=True, help="How many to show.")
@click.option("--json", "json_", is_flag=True, help="Print JSON.")
def command(words: tuple[str, ...], discipline: str, against: int | None, limit: int, json_: bool) -> None:
    """Search dated facts by WORDS, or show one fact by its id. Each stands with its source and how it is vouched for."""
    if discipline not in recalling.disciplines():
        on_file = ", ".join(recalling.disciplines())
        raise refuse("--discipline", f"There is no discipline {discipline!r}.", f"On file: {on_file}.")
    book, _ = recalling.book(discipline)
    one = book.look(words[0]) if len(words) == 1 else None
    if one is not None and one.fact is not None:
        _show(one.fact, json_)
        return
    found = recalling.search(book, " ".join(words), year=against, limit=limit)
    if json_:
        as_json(found)
    elif found:
        rows = [(f.id, recalling.years_in_words(f), f.statement, recalling.witness(f)) for f in found]
        as_table(f"{len(found)} of {len(book)} facts", ("id", "years", "statement", "vouched for"), rows)
    else:
        click.echo(f"Not on file: {' '.join(words)}. That is silence, not a finding; try fewer words.")


def _show(fact: Fact, json_: bool) -> None:
    if json_:
        as_json(fact)
        return
    click.echo(f"{fact.id}  ({fact.family})\n  {fact.statement}")
    years = recalling.years_in_words(fact)
    if years:
        click.echo(f"  years: {years}; bounds: {fact.bounds}; {fact.use.replace('_', ' ')}, {fact.hardness}")
    click.echo(f"  source: {fact.source}")
    if fact.source.seen:
        click.echo(f"  seen at: {fact.source.seen}")
    click.echo(f"  vouched for: {recalling.witness(fact)}; confidence {fact.confidence}")
    for caveat in fact.caveats:
        click.echo(f"  but: {caveat}")
