"""`planish ripple`: which outcomes leaned on a fact, in every fair given."""

from pathlib import Path

import click

from planish.doors.cli.options import json_option
from planish.doors.cli.showing import as_json, as_table
from planish.errands.opening import wiring
from planish.errands.record import rippling
from planish.errands.record.rippling import Touched
from planish.facts.loading import load


@click.command(
    epilog="Example: planish ripple metalware.electroplate-1840 saltmere-2025 saltmere-2026    planish ripple --changed saltmere-2025-archive"
)
@click.argument("words", nargs=-1, required=True, metavar="FACT FAIR…")
@click.option(
    "--changed",
    is_flag=True,
    help="No FACT: every fact that today's book holds otherwise than the outcome did.",
)
@click.option(
    "--pack", default="metalware", show_default=True, help="The discipline pack whose facts are meant."
)
@click.option(
    "--record", "who", default="", metavar="PERSON", help="Write the correction into each fair's log."
)
@click.option("--why", default="", help="With --record: the source of the correction.")
@json_option
def command(words: tuple[str, ...], changed: bool, pack: str, who: str, why: str, json_: bool) -> None:
    """List every outcome that leaned on FACT, in each FAIR (its folder or its archive).

    Nothing is decided by this: whoever is responsible looks at the objects again, and reopens what must be reopened.
    """
    book = load(pack)[0]
    if changed:
        found = rippling.changed([Path(word) for word in words], book)
    else:
        if len(words) < 2:
            raise click.UsageError("Name a fact and at least one fair.")
        found = rippling.ripple(words[0], [Path(word) for word in words[1:]], book)
    if who:
        _record(found, who, why)
    if json_:
        as_json(found)
        return
    rows = [(one.fair, f"{one.stand}/{one.number}", one.outcome, one.fact, one.how, "" if one.standing else "an earlier one") for one in found]  # fmt: skip
    as_table(
        f"{len(rows)} outcomes leaned on it", ("fair", "object", "outcome", "fact", "the fact now", ""), rows
    )


def _record(found: tuple[Touched, ...], who: str, why: str) -> None:
    for folder in dict.fromkeys(one.folder for one in found):
        if (Path(folder) / wiring.LEDGER).is_file():
            with wiring.open_fair(Path(folder), write=True) as fair:
                rippling.note_correction(
                    fair, [one for one in found if one.folder == folder], who=who, why=why
                )
