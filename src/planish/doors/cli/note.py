"""`planish note`: record an observation: what was seen or measured, no conclusion."""

from dataclasses import replace
from pathlib import Path
from string import ascii_letters

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.showing import as_json, progress
from planish.doors.papers import forms
from planish.errands.intake.finding import find
from planish.errands.opening import wiring
from planish.errands.opening.refusing import Refused
from planish.errands.panel import examining
from planish.records import Observation, Quantity, freeze

BATCH = 200
UNIT_LETTERS = ascii_letters + "%/"


@click.command(
    epilog="Example: planish note --fair saltmere-2026 7/14 --by p3 --kind thread --value tpi=24 --value diameter=4.76mm --part 'hinge pin'"
)
@click.argument("item", required=False)
@click.option("--by", help="Who looked: a person's id.")
@click.option(
    "--kind",
    help="composition, size, weight, density, capacity, thread, mark, members, construction, wear, condition.",
)
@click.option("--part", default="", help="The part looked at; the whole when left out.")
@click.option(
    "--value",
    "values",
    multiple=True,
    metavar="NAME=FIGURE",
    help="A figure with its unit: Zn=34.1, diameter=4.76mm. May be given again.",
)
@click.option(
    "--term",
    "terms",
    multiple=True,
    help="A settled word of the discipline (planish facts). May be given again.",
)
@click.option("--words", default="", help="What was seen, in words.")
@click.option("--spot", default="", help="Where on the piece.")
@click.option("--surface", default="", help="polished, patina, plated, solder …")
@click.option(
    "--original",
    type=click.Choice(["yes", "no"]),
    help="Only if you say that the feature is original to the object.",
)
@click.option(
    "--from",
    "source",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    help="JSON Lines with many observations.",
)
@fair_option
@json_option
def command(item: str | None, source: Path | None, folder: Path, json_: bool, **given: object) -> None:
    """Record what was seen on ITEM (stand/number or id), or everything in a file of JSON Lines."""
    if source is None and item is None:
        raise click.UsageError("Name an object, or give --from FILE.")
    if source is not None:
        seen, problems = forms.lines(source.read_text(encoding="utf-8"), source.name, forms.observation)
        if problems:
            raise Refused(problems[0], *problems[1:])
    else:
        seen = [_one(str(item), given)]
    done = 0
    with wiring.open_fair(folder, write=True) as fair:
        state = fair.state
        named = [replace(one, object_id=find(state, one.object_id).listed.id) for one in seen]
        with progress("observations", len(named)) as advance:
            for at in range(0, len(named), BATCH):
                done += examining.observe(fair, named[at : at + BATCH])
                advance(BATCH)
    as_json({"recorded": done}) if json_ else click.echo(
        f"{done} observation{'s' * (done != 1)} at the desk."
    )


def _one(item: str, given: dict[str, object]) -> Observation:
    if not given["by"] or not given["kind"]:
        raise click.UsageError("An observation says --by whom and of which --kind.")
    original = {"yes": True, "no": False, None: None}[given["original"]]  # type: ignore[index]
    return Observation(
        id="",
        object_id=item,
        kind=str(given["kind"]),
        by=str(given["by"]),
        part=str(given["part"]),
        values=freeze(dict(_figure(text) for text in given["values"])),  # type: ignore[attr-defined]
        words=str(given["words"]),
        terms=tuple(given["terms"]),  # type: ignore[arg-type]
        spot=str(given["spot"]),
        surface=str(given["surface"]),
        original=original,
    )


def _figure(text: str) -> tuple[str, Quantity]:
    name, _, figure = text.partition("=")
    digits = figure.rstrip(UNIT_LETTERS)
    amount, _, doubt = digits.replace("+-", "±").partition("±")
    try:
        return name, Quantity(float(amount), figure[len(digits) :], float(doubt) if doubt else 0.0)
    except ValueError:
        raise click.BadParameter(
            f"{text!r}: give NAME=FIGURE, such as Zn=34.1±0.5 or diameter=4.76mm."
        ) from None
