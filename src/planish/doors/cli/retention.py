"""`planish retention`: what the rule book says how long to keep, what is due, and deleting it by two people."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.redact import told
from planish.doors.cli.showing import as_json, as_table
from planish.errands.opening import wiring
from planish.errands.record import retaining


@click.command(
    epilog="Example: planish retention --fair saltmere-2026    planish retention ballots --by cy --second lee"
)
@click.argument("classes", nargs=-1)
@click.option("--by", "who", default="", help="Who deletes what is due; without it nothing is written.")
@click.option("--second", default="", help="The second person who agrees.")
@fair_option
@json_option
def command(classes: tuple[str, ...], who: str, second: str, folder: Path, json_: bool) -> None:
    """Show each class of texts with its term and what is still there; with --by and --second delete what is due.

    Terms are years after the fair's last day, from the rule book. Nothing is ever deleted by itself. Terms that the law
    sets come first: ask whoever advises the fair.
    """
    with wiring.open_fair(folder, write=bool(who)) as fair:
        if who:
            told(retaining.retire(fair, who=who, second=second, names=classes), json_)
            return
        found = [one for one in retaining.retention(fair) if not classes or one.name in classes]
    if json_:
        as_json([{"class": o.name, "years": o.years, "day": str(o.day or ""), "texts": len(o.texts), "due": o.due} for o in found])  # fmt: skip
        return
    rows = [
        (
            one.name,
            "no term" if one.years is None else f"{one.years} years",
            str(one.day or ""),
            str(len(one.texts)),
            "due" if one.due and one.texts else "",
        )
        for one in found
    ]
    as_table("How long texts are kept", ("class", "kept", "until", "still there", ""), rows)
