"""`planish show`: one object: its words, what bears on them, where it stands; or all objects of a stand."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.showing import as_json, as_table, plain
from planish.errands.intake.finding import find
from planish.errands.opening import wiring
from planish.errands.opening.wiring import Fair
from planish.errands.panel.evidence import Evident, claim_key, evident, speaks_of_whole
from planish.errands.telling import reporting
from planish.errands.telling.recalling import witness
from planish.ledger.story import Story


@click.command(epilog="Example: planish show --fair saltmere-2026 7/14    planish show --stand 7")
@click.argument("item", required=False)
@click.option("--stand", default="", help="List the objects of one stand.")
@click.option(
    "--ribbon",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Also draw the year ribbon to this SVG file.",
)
@fair_option
@json_option
def command(item: str | None, stand: str, ribbon: Path | None, folder: Path, json_: bool) -> None:
    """Show ITEM (stand/number or id): the label, its claims, what clashes, every look and its source, the five axes."""
    with wiring.open_fair(folder) as fair:
        if item is None:
            _list(fair, stand, json_)
            return
        story = find(fair.state, item)
        seen = evident(story, fair.kit)
        if json_:
            as_json(
                {
                    "state": story.state,
                    "label": story.label,
                    "reading": seen.reading,
                    "faults": seen.checked.faults,
                    "clashes": seen.clashes,
                    "weighing": seen.weighing,
                }
            )
        else:
            _tell(fair, story, seen)
        if ribbon is not None:
            _draw(ribbon, seen)


def _draw(target: Path, seen: Evident) -> None:
    from planish.doors.papers.ribbon import ribbon
    from planish.doors.papers.ribbon_seen import ribbon_of

    spec = ribbon_of(seen)
    if spec is None:
        click.echo("No ribbon: nothing was measured or seen that speaks of a year.")
        return
    target.write_text(ribbon(spec), encoding="utf-8")
    click.echo(f"Year ribbon in {target}")


def _list(fair: Fair, stand: str, json_: bool) -> None:
    found = reporting.stories(fair, stand)
    if json_:
        as_json(
            [
                {**plain(s.state), "stand": s.listed.stand, "number": s.listed.number, "text": s.listed.text}
                for s in found
            ]
        )
        return
    rows = [
        (
            f"{s.listed.stand}/{s.listed.number}",
            s.state.examination,
            s.state.outcome,
            s.state.label,
            ", ".join(s.state.disciplines),
            s.listed.text[:70],
        )
        for s in found
    ]
    as_table(
        f"{len(found)} objects", ("object", "examination", "outcome", "label", "disciplines", "words"), rows
    )


def _tell(fair: Fair, story: Story, seen: Evident) -> None:
    listed, state = story.listed, story.state
    click.echo(f"Stand {listed.stand} · No. {listed.number} · id {listed.id}")
    click.echo(f"  {seen.checked.listed.text}")
    click.echo("What it claims")
    for claim in seen.reading.claims:
        click.echo(f"  {claim_key(claim)}{' (' + claim.strength + ')' if claim.strength != 'stated' else ''}")
    for left in seen.reading.unread:
        click.echo(f"  unread: {left.words}")
    _bears(fair, seen)
    _looks(story, seen)
    where = f"{state.whereabouts}{' ' + state.place if state.place else ''}"
    click.echo(
        f"Where it stands\n  examination {state.examination} · label {state.label} v{state.label_version} · {where} · {state.trade} · holds: {', '.join(state.holds) or 'none'}"
    )
    if state.outcome:
        click.echo(f"  outcome: {state.outcome}")
    click.echo(f"  ballots locked: {len({b.who for b in story.ballots})}; stepped back: {len(story.recused)}")


def _bears(fair: Fair, seen: Evident) -> None:
    faults = seen.checked.faults
    if faults or seen.clashes:
        click.echo("What bears on it")
    for fault in faults:
        clause = f" (clause {fault.clause})" if fault.clause else ""
        click.echo(f"  [{'?' if fault.asks else fault.severity}] {fault.sentence}{clause}")
        for fact_id in fault.facts:
            fact = fair.kit.book.look(fact_id).fact
            if fact is not None:
                click.echo(f"      {fact.id}: {fact.source} ({witness(fact)})")
    for clash in seen.clashes:
        click.echo(f"  ! {clash.sentence}")


def _looks(story: Story, seen: Evident) -> None:
    if story.observations:
        click.echo("What was seen")
    for one in story.observations:
        measured = seen.measured[one.id]
        figures = ", ".join(
            f"{name} {q.amount:g}{' ' + q.unit if q.unit else ''}" for name, q in one.values.items()
        )
        click.echo(
            f"  {one.kind}{' on the ' + one.part if one.part else ''}: {one.words or figures or ', '.join(one.terms)}"
        )
        for sentence in measured.sentences:
            click.echo(f"      {sentence}")
        for caution in measured.cautions:
            click.echo(f"      care: {caution}")
    weighing = seen.weighing
    if weighing is not None and weighing.main is not None:
        said = (
            weighing.main.sentence
            if speaks_of_whole(seen)
            else "Nothing measured so far bears on the making of the whole."
        )
        click.echo(f"What the evidence says of the date\n  {said}")
