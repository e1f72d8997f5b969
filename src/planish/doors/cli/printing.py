"""`planish print`: stand sheets, slips, wording sheets, labels, receipts, open cases as PDF."""

from collections.abc import Callable
from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.showing import as_json
from planish.doors.papers import printing
from planish.errands.opening import clock, wiring
from planish.errands.opening.wiring import Fair
from planish.errands.telling import reporting
from planish.errands.words import labelling

PAPERS = ("sheets", "slips", "wording", "labels", "receipts", "open-cases")


@click.command(epilog="Example: planish print --fair saltmere-2026 slips --stand 7    planish print all")
@click.argument("papers", nargs=-1, required=True, type=click.Choice((*PAPERS, "all")))
@click.option("--stand", default="", help="Only this stand.")
@click.option(
    "--out",
    type=click.Path(path_type=Path, file_okay=False),
    help="Where to; the fair's papers folder when left out.",
)
@fair_option
@json_option
def command(papers: tuple[str, ...], stand: str, out: Path | None, folder: Path, json_: bool) -> None:
    """Print PAPERS as PDF. With --json their content as data instead."""
    wanted = PAPERS if "all" in papers else papers
    with wiring.open_fair(folder, write="labels" in wanted and not json_) as fair:
        content = {name: _content(name, fair, stand) for name in wanted}
        if json_:
            as_json(content)
            return
        target = out or folder / wiring.PAPERS
        target.mkdir(parents=True, exist_ok=True)
        for name in wanted:
            path = target / (f"{name}-stand-{stand}.pdf" if stand else f"{name}.pdf")
            path.write_bytes(_pdf(name, content[name], fair))
            click.echo(f"{len(content[name])} in {path}")
        if "labels" in wanted:
            labelling.printed(fair, [s.listed.id for s in reporting.stories(fair, stand)])


def _content(name: str, fair: Fair, stand: str) -> tuple[object, ...]:
    makers: dict[str, Callable[[Fair, str], tuple[object, ...]]] = {
        "sheets": reporting.stand_sheets,
        "slips": reporting.slips,
        "wording": reporting.wording_lines,
        "labels": reporting.label_cards,
        "receipts": reporting.receipts,
        "open-cases": reporting.open_cases,
    }
    return makers[name](fair, stand)


def _pdf(name: str, content: tuple[object, ...], fair: Fair) -> bytes:
    made, title = clock.now(), fair.state.name
    if name == "labels":
        return printing.labels(content, made=made, title=f"{title}: labels")  # type: ignore[arg-type]
    makers = {
        "sheets": printing.stand_sheets,
        "slips": printing.slips,
        "wording": printing.wording,
        "receipts": printing.receipts,
        "open-cases": printing.open_cases,
    }
    pdf: bytes = makers[name](content, fair=title, made=made)  # type: ignore[operator]
    return pdf
