"""`planish check`: check labels against a rule book and dated facts; a whole fair, or a list at home."""

from pathlib import Path

import click

from planish.doors.cli.options import json_option
from planish.doors.cli.showing import as_json, as_sections, problems_in_words, progress
from planish.doors.papers import rehearsal
from planish.doors.papers.lists import read_list_safely
from planish.errands.opening import clock, rulebooks, wiring
from planish.errands.opening.refusing import Refused
from planish.errands.panel import checking
from planish.errands.panel.checking import Checked
from planish.errands.panel.evidence import as_hung
from planish.errands.telling import reporting
from planish.records import ListedObject

WORST_SHOWN = 3


@click.command(
    epilog="Example: planish check my-list.xlsx --rules saltmere --xlsx checked.xlsx    planish check --fair saltmere-2026 --stand 7"
)
@click.argument("file", required=False, type=click.Path(path_type=Path, exists=True, dir_okay=False))
@click.option(
    "--rules",
    default="saltmere",
    show_default=True,
    help="Rule book for a list at home: a name or a TOML file.",
)
@click.option(
    "--fair",
    "folder",
    type=click.Path(path_type=Path, file_okay=False),
    envvar="PLANISH_FAIR",
    help="Check this fair's labels under its own rules.",
)
@click.option("--stand", default="", help="Only this stand of the fair.")
@click.option(
    "--mapping", type=click.Path(path_type=Path, exists=True, dir_okay=False), help="Which column is what."
)
@click.option("--advice", is_flag=True, help="Also show advice (severity 4).")
@click.option(
    "--xlsx", type=click.Path(path_type=Path, dir_okay=False), help="The list with a comment at every label."
)
@click.option("--html", type=click.Path(path_type=Path, dir_okay=False), help="A page to read in a browser.")
@click.option("--pdf", type=click.Path(path_type=Path, dir_okay=False), help="A paper to carry.")
@json_option
def command(
    file: Path | None,
    rules: str,
    folder: Path | None,
    stand: str,
    mapping: Path | None,
    advice: bool,
    xlsx: Path | None,
    html: Path | None,
    pdf: Path | None,
    json_: bool,
) -> None:
    """Check every label of FILE, or of a fair: what is missing, contradictory, too vague or too exact, what would break
    which clause, with suggested words. Exit code 1 when a label needs attention."""
    if file is not None:
        objects, kit = _from_file(file, mapping), wiring.Kit(rulebooks.read(rules)[0])
    else:
        objects, kit = _from_fair(folder or Path(), stand)
    checked: list[Checked] = []
    with progress("labels", len(objects)) as advance:
        for one in checking.check_all(objects, kit):
            checked.append(one)
            advance(1)
    limit = 4 if advice else WORST_SHOWN
    sheet = rehearsal.sheet(checked, kit, limit=limit, title=file.name if file else "Labels of the fair")
    for path, make in ((xlsx, rehearsal.as_xlsx), (html, rehearsal.as_html)):
        if path is not None:
            path.write_bytes(make(sheet))
    if pdf is not None:
        pdf.write_bytes(rehearsal.as_pdf(sheet, clock.now()))
    if json_:
        as_json(sheet)
    else:
        _tell(sheet)
    if any(line.faults for line in sheet.lines):
        raise SystemExit(1)


def _from_file(file: Path, mapping: Path | None) -> list[ListedObject]:
    taken = read_list_safely(file, mapping=mapping.read_text(encoding="utf-8") if mapping else None)
    if not taken.objects and taken.problems:
        raise Refused(taken.problems[0], *taken.problems[1:])
    problems_in_words(taken.problems)
    return list(taken.objects)


def _from_fair(folder: Path, stand: str) -> tuple[list[ListedObject], wiring.Kit]:
    with wiring.open_fair(folder) as fair:
        return [as_hung(story) for story in reporting.stories(fair, stand)], fair.kit


def _tell(sheet: rehearsal.Sheet) -> None:
    """One section a label: its words once, then what to mend beside the way out, then suggested words."""
    sections = []
    for line in sheet.lines:
        rows = [
            (f"{fault.how_soon}: {fault.sentence}", fault.remedy, fault.clause or "fact")
            for fault in line.faults
        ]
        if line.suggested:
            rows.append(("Suggested words:", f"“{line.suggested}”", ""))
        heads = [(line.number, line.words), *[("", "")] * len(rows)]
        sections += [[(*head, *row) for head, row in zip(heads, rows, strict=False)]] if line.faults else []
    if sections:
        as_sections(("no.", "label", "what to mend", "way out", "clause"), sections)
    click.echo(sheet.counted)
    click.echo(sheet.conventions)
