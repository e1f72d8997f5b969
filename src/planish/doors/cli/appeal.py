"""`planish appeal`: lodge an appeal, print what the appeals panel reads, seal views on it and count them."""

from datetime import UTC, datetime
from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.showing import as_json
from planish.doors.papers import forms
from planish.errands.intake.finding import find
from planish.errands.opening import clock, wiring
from planish.errands.panel import appealing, hearing
from planish.errands.panel.ballots import with_claims
from planish.ledger.story import Story
from planish.reasoning.reading import read
from planish.records import Answer, Ballot


@click.command(
    epilog="Example: planish appeal 7/14    planish appeal 7/14 --lodge 'the hinge is a repair of 1890' --new 'bill of the smith, 1891' "
    "--by stand:7    planish appeal 7/14 --bundle appeal-7-14.pdf    "
    "planish appeal 7/14 --vote relabel --falls date --reason 'the bill names the lid' --by p6    planish appeal 7/14 --count --by chair    "
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
    "--vote",
    "vote",
    type=click.Choice(forms.OUTCOMES),
    help="Seal the own view of the one named by --by, with --falls and --reason. Counted, never shown.",
)
@click.option("--falls", multiple=True, metavar="CLAIM", help="With --vote: a claim that does not hold.")
@click.option(
    "--count", "count", is_flag=True, help="Close the round: talk and vote again, or replace the outcome."
)
@click.option(
    "--decide",
    "outcome",
    type=click.Choice(appealing.DECIDES),
    help="The outcome of a panel that came to one mind at its own table, without sealed views.",
)
@click.option("--reason", "reasons", multiple=True, help="A reason about the object. May be given again.")
@click.option(
    "--heard-by", "members", multiple=True, metavar="PERSON", help="Who heard it. May be given again."
)
@click.option(
    "--by",
    default="office",
    show_default=True,
    help="Who hands this in: stand:7, office, chair, p6. Whoever types at the desk's command line is taken at their word.",
)
@fair_option
@json_option
def command(
    item: str,
    words: str | None,
    evidence: tuple[str, ...],
    late: str,
    vote: str | None,
    falls: tuple[str, ...],
    count: bool,
    target: Path | None,
    outcome: str | None,
    reasons: tuple[str, ...],
    members: tuple[str, ...],
    by: str,
    folder: Path,
    json_: bool,
) -> None:
    """Show where an appeal of ITEM (stand/number or id) stands: until when, who may hear it. Ballots are never shown."""
    with wiring.open_fair(folder, write=bool(words or outcome or vote or count)) as fair:
        story = find(fair.state, item)
        replaced, heard = None, None
        if words:
            pairs = [("", line) for line in evidence]
            appealing.lodge(fair, story, words=words, evidence=pairs, late=late, who=by)
        if vote:
            hearing.seal(fair, story, _view(fair, story, vote, falls, reasons, by))
            story = fair.state.objects[story.listed.id]
        if count:
            heard = hearing.count(fair, story, who=by)
            replaced = heard.replaced
        if outcome:
            replaced = appealing.decide(
                fair, story, outcome=outcome, reasons=reasons, members=members, who=by
            )
        story = fair.state.objects[story.listed.id]
        bundle = appealing.bundle(fair, story) if target else None
        standing = appealing.standing(fair, story)
        now = hearing.hearing(fair, story)
    if bundle is not None and target is not None:
        from planish.doors.papers import printing

        target.write_bytes(printing.appeal(bundle, made=clock.now()))
    if json_:
        as_json(
            {
                "standing": standing,
                "hearing": now,
                "heard": heard,
                "replaced": replaced,
                "bundle": bundle,
            }
        )
        return
    for line in (*heard.talk, *heard.rule) if heard else ():
        click.echo(f"  {line}")
    if replaced:
        click.echo(f"{replaced.before} is replaced by {replaced.after}.")
    _tell(standing)
    if now and now.sealed:
        click.echo(
            f"  Round {now.round}: {now.sealed} of {now.needed} views that are needed are sealed."
            + (" Count them with --count." if now.sealed >= now.needed else "")
        )
    if target:
        click.echo(f"Bundle in {target}")


def _view(
    fair: wiring.Fair, story: Story, outcome: str, falls: tuple[str, ...], reasons: tuple[str, ...], by: str
) -> Ballot:
    """One view of somebody who hears the appeal, on the words that hung."""
    hung = story.labels[0].text if story.labels else story.listed.text
    claims = read(hung, words=fair.kit.words, conventions=fair.rules.conventions).claims
    refs = [dict(zip(("side", "words"), map(str.strip, one.split(":", 1)), strict=False)) for one in falls]
    ballot = Ballot(
        object_id=story.listed.id,
        person=by,
        round=1,
        answers=tuple(Answer(claim="", verdict="does_not_hold") for _ in falls),
        outcome=outcome,  # type: ignore[arg-type]
        reasons=reasons,
    )
    return with_claims(ballot, refs, claims)


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
