"""`planish weigh`: weigh a small case file, and play "what if" with its items."""

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from planish.records import Problem

if TYPE_CHECKING:
    from planish.doors.papers.case_file import CaseFile
    from planish.reasoning.weighing import LookValue, Weighing

WIDTH = 100


def read_file(path: Path) -> "CaseFile":
    """Read a case file, or leave with exit code 2 and the reasons in words."""
    from planish.doors.papers.case_file import read_case

    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        stop(
            (Problem(where=str(path), what=f"It cannot be read: {error}.", remedy="Save it as UTF-8 text."),)
        )
    found = read_case(text, path.name)
    if found.problems:
        stop(found.problems)
    return found


def stop(problems: tuple[Problem, ...]) -> NoReturn:
    """Say what is wrong and leave with exit code 2."""
    from planish.doors.cli.showing import problems_in_words

    problems_in_words(problems)
    raise SystemExit(2)


def changed(found: "CaseFile", without: tuple[str, ...], doubts: tuple[str, ...]) -> "CaseFile":
    """The case with items left out or doubted otherwise; an unknown name leaves with exit code 2."""
    known = {item.id for item in found.case.items}
    new: dict[str, float] = {}
    for pair in doubts:
        name, _, figure = pair.rpartition("=")
        try:
            new[name] = float(figure)
        except ValueError:
            stop((_unknown(pair, "Write ITEM=0.2."),))
    for name in (*without, *new):
        if name not in known:
            stop((_unknown(name, f"The items are {', '.join(sorted(known)) or 'none'}."),))
    items = tuple(
        replace(item, doubt=new.get(item.id, item.doubt))
        for item in found.case.items
        if item.id not in without
    )
    return replace(found, case=replace(found.case, items=items))


def _unknown(name: str, remedy: str) -> Problem:
    return Problem(where="the case", what=f"No item is called {name!r}.", remedy=remedy, code="item.unknown")


@click.command(name="weigh", epilog="Example: planish weigh pot.toml --without hinge --ribbon pot.svg")
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--without", multiple=True, metavar="ITEM", help="Leave an item out. May be given again.")
@click.option("--doubt", "doubts", multiple=True, metavar="ITEM=CHANCE", help="Doubt an item more or less.")
@click.option(
    "--ribbon",
    "picture",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Also draw it: .svg, .png or .pdf.",
)
@click.option("--discipline", default="metalware", show_default=True, help="Whose table of looks to use.")
@click.option("--json", "json_", is_flag=True, help="Print everything as JSON, full numbers included.")
def command(
    file: Path,
    without: tuple[str, ...],
    doubts: tuple[str, ...],
    picture: Path | None,
    discipline: str,
    json_: bool,
) -> None:
    """Weigh a case: what each item says, what clashes, how far the claim stands, which look comes next.

    FILE is a small TOML file (docs/weighing.md). Exit codes: 0 weighed, 2 the case cannot be weighed.
    """
    from planish.doors.cli.showing import as_json
    from planish.errands.panel.looks import looks_for
    from planish.reasoning.weighing import next_looks, weigh

    found = changed(read_file(file), without, doubts)
    weighing = weigh(found.case, found.settings)
    if weighing.blocked:
        if json_:
            as_json({"weighing": weighing, "next_looks": ()})
        stop(weighing.problems)
    try:
        looks = next_looks(found.case, looks_for(discipline)[0], found.settings, most=3)
    except LookupError as error:
        stop((Problem(where=discipline, what=str(error), remedy="Choose one on file."),))
    if json_:
        as_json({"weighing": weighing, "next_looks": looks})
    else:
        _in_words(found, weighing, looks)
    if picture is not None:
        from planish.doors.cli.ribbon import draw

        draw(found, weighing, picture, small=False)


def _in_words(found: "CaseFile", weighing: "Weighing", looks: "tuple[LookValue, ...]") -> None:
    from planish.reasoning.contradicting import in_full

    main = weighing.main
    _say("", [found.case.title, *([main.sentence] if main else [])])
    _say("When", [e.sentence for e in weighing.events if e.event == "made" or e.period_chances])
    _say("What each item says", [_with_source(found, i.item, i.sentence) for i in weighing.items])
    _say("Parts", [p.sentence for p in weighing.parts])
    _say("What clashes", [in_full(c) for c in weighing.clashes])
    _say("Ways to explain it (choose; planish does not)", [e.sentence for e in weighing.explanations])
    notes = [weighing.copy.sentence] if weighing.copy else []
    if weighing.pulls_apart:
        notes.append("The items pull apart: taken together they are unlikely for one thing.")
    if weighing.depends_on_assumptions:
        worst = "; ".join(f"{s.assumption}: {s.band}" for s in weighing.stress)
        notes.append(f"Depends on assumptions. {worst}.")
    if weighing.beside_flat:
        notes.append(f"With a flat prior: {weighing.beside_flat.band}.")
    _say("Bear in mind", notes)
    _say("Next look", [k.sentence + (f" Caution. {k.look.caution}" if k.look.caution else "") for k in looks])
    _say("House defaults used", [*weighing.defaults, *(str(p) for p in weighing.problems)])


def _with_source(found: "CaseFile", item: str, sentence: str) -> str:
    source = found.case.sources.get(item)
    return f"{sentence} [{source}]" if source else sentence


def _say(heading: str, lines: list[str]) -> None:
    kept = [line for line in lines if line]
    if not kept:
        return
    if heading:
        click.echo(f"\n{heading}")
    for line in kept:
        click.echo(click.wrap_text(line, WIDTH, "  " if heading else "", "    " if heading else ""))
