"""`planish report`: the end-of-fair report, with year ribbons, rates, intervals and denominators."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.showing import as_json
from planish.doors.papers import printing
from planish.doors.papers.featured import featured_for
from planish.errands.opening import clock, wiring
from planish.errands.telling import summing


@click.command(epilog="Example: planish report --fair saltmere-2026 --out report.pdf")
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Where to; papers/report.pdf of the fair when left out.",
)
@click.option("--cases", default=6, show_default=True, help="How many cases to show with their ribbon.")
@fair_option
@json_option
def command(out: Path | None, cases: int, folder: Path, json_: bool) -> None:
    """Print what the panels did: outcomes, coverage, grounds, stands in stand order, cases with their year ribbons."""
    with wiring.open_fair(folder) as fair:
        drawn = [featured_for(case) for case in summing.featured(fair, cases)]
        made = summing.report(fair, tuple(drawn), day=clock.now().strftime("%-d %B %Y"))
        if json_:
            as_json(made)
            return
        target = out or folder / wiring.PAPERS / "report.pdf"
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(printing.report(made, made=clock.now()))
    click.echo(f"Report in {target}")
