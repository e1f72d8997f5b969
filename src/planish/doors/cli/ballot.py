"""`planish ballot`: lock your own view of an object, or recuse yourself."""

from dataclasses import replace
from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.showing import as_json, progress
from planish.doors.papers import forms
from planish.errands.intake.finding import find
from planish.errands.opening import wiring
from planish.errands.opening.refusing import Refused
from planish.errands.panel import ballots, examining
from planish.errands.panel.evidence import as_hung
from planish.errands.words import labelling
from planish.reasoning.reading import read
from planish.records import Answer, Ballot, Reading, Years
from planish.records.opinions import DateOpinion

BATCH = 400


@click.command(
    epilog="Example: planish ballot --fair saltmere-2026 7/14 --by p3 --outcome relabel --falls date --reason 'the hinge is later' --dates 1850-1880"
)
@click.argument("item", required=False)
@click.option("--by", help="Whose ballot: a person's id. Taken at their word at the desk's own command line.")
@click.option("--round", "round_", type=click.IntRange(1, 2), default=1, show_default=True)
@click.option("--outcome", type=click.Choice(forms.OUTCOMES), help="What you propose.")
@click.option("--recuse", is_flag=True, help="Step back; no reason is asked.")
@click.option("--holds", multiple=True, metavar="CLAIM", help="A claim that holds: date, maker, material …")
@click.option("--falls", multiple=True, metavar="CLAIM", help="A claim that does not hold.")
@click.option("--unsure", multiple=True, metavar="CLAIM", help="A claim of which you cannot say.")
@click.option(
    "--instead",
    multiple=True,
    metavar="CLAIM=WORDS",
    help="What you would sign for a claim that falls: 'maker=attributed to', 'material=electroplate'. May be given again.",
)
@click.option("--dates", metavar="FIRST-LAST", help="Earliest and latest plausible year of making.")
@click.option(
    "--sure",
    type=click.FloatRange(0.5, 0.95),
    default=0.8,
    show_default=True,
    help="How sure the truth lies inside.",
)
@click.option("--reason", "reasons", multiple=True, help="A reason about the object. May be given again.")
@click.option(
    "--from",
    "source",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    help="JSON Lines with many ballots.",
)
@fair_option
@json_option
def command(item: str | None, source: Path | None, folder: Path, json_: bool, **given: object) -> None:
    """Lock a ballot on ITEM (stand/number or id), or all ballots of a file. A locked ballot is counted, never shown."""
    if source is None and (item is None or not given["by"]):
        raise click.UsageError("Name an object and --by whom, or give --from FILE.")
    if source is not None:
        made, problems = forms.lines(source.read_text(encoding="utf-8"), source.name, forms.ballot)
        if problems:
            raise Refused(problems[0], *problems[1:])
    else:
        made = [_one(str(item), given)]
    done = 0
    with wiring.open_fair(folder, write=True) as fair:
        ready = _with_claims(fair, made)
        with progress("ballots", len(ready)) as advance:
            for at in range(0, len(ready), BATCH):
                done += examining.lock(fair, ready[at : at + BATCH])
                advance(BATCH)
    as_json({"locked": done}) if json_ else click.echo(f"{done} ballot{'s' * (done != 1)} locked.")


def _with_claims(fair: wiring.Fair, made: list[forms.BallotForm]) -> list[Ballot]:
    state, readings = fair.state, dict[str, Reading]()
    ready = []
    for form in made:
        story = find(state, form.object)
        named = replace(form.ballot, object_id=story.listed.id)
        if form.claims:
            if story.listed.id not in readings:
                conventions = fair.rules.conventions
                readings[story.listed.id] = read(
                    as_hung(story).text, words=fair.kit.words, conventions=conventions
                )
            claims = readings[story.listed.id].claims
            named = labelling.readable(ballots.with_claims(named, form.claims, claims), claims, fair.kit)
        ready.append(named)
    return ready


def _one(item: str, given: dict[str, object]) -> forms.BallotForm:
    if not given["recuse"] and not given["outcome"]:
        raise click.UsageError("A ballot proposes an --outcome, or steps back with --recuse.")
    answers, refs = [], []
    instead = dict(_instead(str(pair)) for pair in given["instead"])  # type: ignore[attr-defined]
    for verdict, option in (("holds", "holds"), ("does_not_hold", "falls"), ("cannot_say", "unsure")):
        for claim in given[option]:  # type: ignore[attr-defined]
            side, _, words = str(claim).partition(":")
            carried = instead.pop(str(claim), ()) or instead.pop(side.strip(), ())
            answers.append(Answer(claim="", verdict=verdict, instead=carried))  # type: ignore[arg-type]
            refs.append({"side": side.strip(), **({"words": words.strip()} if words else {})})
    if instead:
        raise click.BadParameter(
            f"--instead {next(iter(instead))}: name the same claim with --falls or --unsure too."
        )
    ballot = Ballot(
        object_id=item,
        person=str(given["by"]),
        round=given["round_"],  # type: ignore[arg-type]
        recused=bool(given["recuse"]),
        answers=tuple(answers),
        date=_dates(given),
        outcome=given["outcome"],  # type: ignore[arg-type]
        reasons=tuple(given["reasons"]),  # type: ignore[arg-type]
    )
    return forms.BallotForm(object=item, ballot=ballot, claims=tuple(refs))


def _instead(pair: str) -> tuple[str, tuple[tuple[str, str], ...]]:
    """'maker=attributed to' → maker, qualifier or words; the words of a maker are a qualifier and, if given, a name."""
    claim, equals, words = (part.strip() for part in pair.partition("="))
    if not equals or not words:
        raise click.BadParameter(f"--instead {pair!r}: give CLAIM=WORDS, such as 'maker=attributed to'.")
    name = "qualifier" if claim.partition(":")[0] == "maker" else "words"
    return claim, ((name, words),)


def _dates(given: dict[str, object]) -> DateOpinion | None:
    if not given["dates"]:
        return None
    first, _, last = str(given["dates"]).partition("-")
    try:
        return DateOpinion(years=Years(int(first), int(last or first)), sure=float(str(given["sure"])))
    except ValueError as error:
        raise click.BadParameter(
            f"--dates {given['dates']!r}: {error}; give FIRST-LAST, such as 1850-1880."
        ) from None
