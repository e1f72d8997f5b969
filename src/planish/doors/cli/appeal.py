"""`planish appeal`: lodge an appeal, print what the appeals panel reads, record what it decided."""

from datetime import UTC, datetime
from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.showing import as_json
from planish.errands import appealing, clock, wiring
from planish.errands.finding import find


@click.command(
    epilog="Example: planish appeal 7/14    planish appeal 7/14 --lodge 'the hinge is a repair of 1890' --new 'bill of the smith, 1891' "
    "--by stand:7    planish appeal 7/14 --bundle appeal-7-14.pdf    "
    "planish appeal 7/14 --decide relabel --reason 'the bill names the lid' --heard-by p6 --heard-by p8 --heard-by p9 --by chair"
)
@click.argument("item")
@click.option("--lodge", "words", metavar="WORDS", help="Lodge an appeal: what was overlooked.")
@click.option(
    "--new", "evidence", multiple=True, metavar="LINE", help="One piece of new evidence. May be given again."
)
@click.option("--late", default="", metavar="WHY", help="Why it is heard although the window is over.")
@click.option(
    "--bundle",
    "target",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Print what the appeals panel reads.",
)
@click.option(
    "--decide", "outcome", type=click.Choice(appealing.DECIDES), help="The appeals panel's outcome."
)
@click.option("--reason", "reasons", multiple=True, help="A reason about the object. May be given again.")
@click.option(
    "--heard-by", "members", multiple=True, metavar="PERSON", help="Who heard it. May be given again."
)
@click.option("--by", default="office", show_default=True, help="Who hands this in: stand:7, office, chair.")
@fair_option
@json_option
def command(
    item: str,
    words: str | None,
    evidence: tuple[str, ...],
    late: str,
    target: Path | None,
    outcome: str | None,
    reasons: tuple[str, ...],
    members: tuple[str, ...],
    by: str,
    folder: Path,
    json_: bool,
) -> None:
    """Show where an appeal of ITEM (stand/number or id) stands: until when, who may hear it. Ballots are never shown."""
    with wiring.open_fair(folder, write=bool(words or outcome)) as fair:
        story = find(fair.state, item)
        replaced = None
        if words:
            pairs = [("", line) for line in evidence]
            appealing.lodge(fair, story, words=words, evidence=pairs, late=late, who=by)
        if outcome:
            replaced = appealing.decide(
                fair, story, outcome=outcome, reasons=reasons, members=members, who=by
            )
        story = fair.state.objects[story.listed.id]
        bundle = appealing.bundle(fair, story) if target else None
        standing = appealing.standing(fair, story)
    if bundle is not None and target is not None:
        from planish.doors.papers import printing

        target.write_bytes(printing.appeal(bundle, made=clock.now()))
    if json_:
        as_json({"standing": standing, "replaced": replaced, "bundle": bundle})
        return
    if replaced:
        click.echo(f"{replaced.before} is replaced by {replaced.after}.")
    _tell(standing)
    if target:
        click.echo(f"Bundle in {target}")


def _tell(one: appealing.AppealStanding) -> None:
    click.echo(f"{one.number}  {one.outcome or 'no outcome yet'}")
    if one.until_ms is not None:
        until = datetime.fromtimestamp(one.until_ms / 1000, UTC).strftime("%-d %B %Y %H:%M UTC")
        click.echo(
            f"  An appeal may be lodged until {until}{f' (clause {one.clause})' if one.clause else ' (house default)'}."
        )
    if one.lodged:
        click.echo(f"  Lodged: {one.lodged}")
        for _, line in one.evidence:
            click.echo(f"      New: {line}")
    if one.decided:
        click.echo(f"  Decided: {one.decided}")
    elif not one.lodged:
        for problem in one.why_not:
            click.echo(f"  {problem}")
    if not one.decided:
        may = ", ".join(one.seating.sitting) or "nobody"
        click.echo(f"  May hear it: {may}. {one.seating.why}".rstrip())
