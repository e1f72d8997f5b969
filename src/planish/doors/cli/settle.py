"""`planish settle`: count the ballots of an object by the rule book, with the trace that anyone can recount."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.showing import as_json, as_table, progress
from planish.errands import examining, wiring
from planish.errands.finding import find
from planish.errands.refusing import refuse


@click.command(
    epilog="Example: planish settle --fair saltmere-2026 7/14    planish settle --all --confirm --by p1 --second p2"
)
@click.argument("items", nargs=-1)
@click.option("--all", "all_", is_flag=True, help="Every object with ballots that is not settled yet.")
@click.option("--confirm", is_flag=True, help="Also confirm what is proposed.")
@click.option("--by", default="office", help="Who confirms.")
@click.option("--second", default="", help="The second person, needed to remove.")
@click.option(
    "--casting",
    type=click.Choice(["relabel", "refer"]),
    help="The chair's casting vote; it chooses between these two only.",
)
@fair_option
@json_option
def command(
    items: tuple[str, ...],
    all_: bool,
    confirm: bool,
    by: str,
    second: str,
    casting: str | None,
    folder: Path,
    json_: bool,
) -> None:
    """Count ITEMS (stand/number or ids) or everything that has ballots; say what the rule gives, step by step."""
    if not items and not all_:
        raise click.UsageError("Name an object, or give --all.")
    with wiring.open_fair(folder, write=True) as fair:
        chosen = [find(fair.state, item) for item in items] or [
            s
            for s in fair.state.objects.values()
            if s.ballots and s.state.examination in ("examining", "opinions_in", "proposed", "reopened")
        ]
        settled = []
        with progress("counting", len(chosen)) as advance:
            for story in chosen:
                settled.append(examining.count(fair, story, casting=casting))  # type: ignore[arg-type]
                advance(1)
        if items:
            _refuse_empty(settled)
        examining.propose(fair, settled)
        confirmed = (
            examining.confirm(fair, [s.story.listed.id for s in settled], who=by, second=second)
            if confirm
            else 0
        )
        show_counts = fair.rules.voting.split_floor
    if json_:
        as_json(
            [
                {
                    "object": s.story.listed.id,
                    "then": s.settlement.then,
                    "outcome": s.settlement.outcome,
                    "trace": s.recounted,
                }
                for s in settled
            ]
        )
    elif items:
        for one in settled:
            _tell(one, show_counts)
    else:
        _summary(settled)
    if confirm and not json_:
        click.echo(f"{confirmed} outcomes confirmed.")


def _refuse_empty(settled: list[examining.Settled]) -> None:
    for one in settled:
        if one.settlement.then == "waiting":
            raise refuse(
                f"object {one.story.listed.id}",
                "No ballot is locked, so there is nothing to count.",
                "Lock ballots first: planish ballot.",
                code="settle.no_ballots",
                kind="rule",
            )


def _tell(one: examining.Settled, floor: int) -> None:
    settlement = one.settlement
    click.echo(f"{one.story.listed.stand}/{one.story.listed.number}  {one.evident.checked.listed.text}")
    for trigger in settlement.triggers:
        click.echo(
            f"  To talk about: {trigger.sentence}{' (' + trigger.about + ')' if trigger.about else ''}"
        )
    for line in one.recounted:
        click.echo(f"  · {line}")
    if settlement.counted < floor:
        click.echo(f"  (The split is not shown below {floor} ballots.)")
    for clash in one.evident.clashes:
        click.echo(f"  ! {clash.sentence}")
    said = {"talk": "Talk, then a second round, each in private.", "waiting": "Waiting for ballots."}
    click.echo(f"  → {settlement.outcome or said.get(settlement.then, settlement.then)}")


def _summary(settled: list[examining.Settled]) -> None:
    counts: dict[str, int] = {}
    for one in settled:
        name = one.settlement.outcome or one.settlement.then
        counts[name] = counts.get(name, 0) + 1
    as_table(
        f"{len(settled)} objects counted",
        ("what the count gives", "objects"),
        [(k, str(v)) for k, v in sorted(counts.items())],
    )
