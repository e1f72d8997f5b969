"""`planish ribbon`: the year ribbon of a case file, as SVG, PNG or PDF."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from planish.records import Problem

if TYPE_CHECKING:
    from planish.doors.papers.case_file import CaseFile
    from planish.reasoning.weighing import Weighing

KINDS = (".svg", ".png", ".pdf")


@click.command(name="ribbon", epilog="Example: planish ribbon pot.toml pot.pdf")
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.argument("out", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--small", is_flag=True, help="For narrow places: labels over the bars.")
@click.option("--words", is_flag=True, help="Also print what the picture says, in words.")
def command(file: Path, out: Path, small: bool, words: bool) -> None:
    """Draw the year ribbon of FILE into OUT (.svg, .png or .pdf).

    A case that cannot be weighed is still drawn, without the curve, and the reasons are said.
    Exit codes: 0 drawn, 2 the file cannot be used.
    """
    from planish.doors.cli.showing import problems_in_words
    from planish.doors.cli.weigh import read_file
    from planish.doors.papers.ribbon import ribbon_words
    from planish.doors.papers.ribbon_from import spec_from
    from planish.reasoning.weighing import weigh

    found = read_file(file)
    weighing = weigh(found.case, found.settings)
    problems_in_words(weighing.problems)
    draw(found, weighing, out, small=small)
    if words:
        click.echo(ribbon_words(spec_from(weighing, found.case, opinions=found.opinions)))


def draw(found: "CaseFile", weighing: "Weighing", out: Path, *, small: bool) -> None:
    """Write the ribbon; the ending of the name chooses the kind."""
    from planish.doors.cli.weigh import stop
    from planish.doors.papers.ribbon import ribbon
    from planish.doors.papers.ribbon_from import spec_from

    if out.suffix.lower() not in KINDS:
        stop(
            (
                Problem(
                    where=str(out),
                    what="This kind of picture is not made here.",
                    remedy="End the name in .svg, .png or .pdf.",
                ),
            )
        )
    spec = spec_from(weighing, found.case, opinions=found.opinions, size="small" if small else "full")
    drawing = ribbon(spec)
    data = drawing.encode() if out.suffix.lower() == ".svg" else rendered(drawing, out.suffix[1:].lower())
    try:
        out.write_bytes(data)
    except OSError as error:
        stop(
            (Problem(where=str(out), what=f"It cannot be written: {error}.", remedy="Choose another place."),)
        )
    click.echo(f"Year ribbon in {out}")


def rendered(drawing: str, kind: str) -> bytes:
    """The SVG as PNG (two pixels a unit) or PDF, on a page of its own size."""
    import tempfile

    import typst

    page = b'#set page(width: auto, height: auto, margin: 0pt)\n#image("ribbon.svg")\n'
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "ribbon.svg").write_text(drawing, encoding="utf-8")
        source = Path(folder) / "ribbon.typ"
        source.write_bytes(page)
        if kind == "pdf":
            return typst.compile(str(source), format="pdf")
        return typst.compile(str(source), format="png", ppi=144.0)
