"""`planish settle`: count the ballots of an object by the rule book, with the trace that anyone can recount."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.secrets import own_passphrase
from planish.doors.cli.showing import as_json, as_table, progress
from planish.doors.cli.words_shown import tell_words
from planish.errands.intake.finding import find
from planish.errands.opening import wiring
from planish.errands.opening.refusing import refuse
from planish.errands.panel import accounting, examining
from planish.errands.people import proving


@click.command(
    epilog="Example: planish settle --fair saltmere-2026 7/14    planish settle 7/14 --as p1    "
    "planish settle --all --confirm --by p1 --second p2"
)
@click.argument("items", nargs=-1)
@click.option("--all", "all_", is_flag=True, help="Every object with ballots that is not settled yet.")
@click.option("--confirm", is_flag=True, help="Also confirm what is proposed.")
@click.option(
    "--by",
    default="office",
    show_default=True,
    help="Who confirms, or casts the casting vote. Taken at their word at the desk's own command line.",
)
@click.option(
    "--as",
    "reader",
    metavar="PERSON",
    help="Read as this person, who types the own passphrase: the split, where the rules allow it.",
)
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
    reader: str | None,
    second: str,
    casting: str | None,
    folder: Path,
    json_: bool,
) -> None:
    """Count ITEMS (stand/number or ids) or everything that has ballots; say what the rule gives, step by step.

    Whoever sits at this desk reads as the office does: triggers, reasons, outcome, and no count of votes.
    """
    if not items and not all_:
        raise click.UsageError("Name an object, or give --all.")
    with wiring.open_fair(folder, write=True) as fair:
        if reader:
            proving.prove(folder, fair.state, reader, own_passphrase(reader))
        if casting:
            _must_be_chair(fair, by)
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
        accounts = [
            accounting.account(fair, one, accounting.viewers_of(fair, one.story, reader or wiring.OFFICE))
            for one in (settled if items or json_ else ())
        ]
    if json_:
        as_json([_data(one, told) for one, told in zip(settled, accounts, strict=True)])
    elif items:
        for told in accounts:
            _tell(told)
    else:
        _summary(settled)
    if confirm and not json_:
        click.echo(f"{confirmed} outcomes confirmed.")


def _must_be_chair(fair: wiring.Fair, by: str) -> None:
    known = fair.state.people.get(by)
    if known is None or not known.roles & {"chair", "deputy"}:
        raise refuse(
            "casting vote",
            f"{by} is not the chair.",
            "Name the chair: --by PERSON.",
            code="settle.not_chair",
            kind="rule",
        )


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


def _data(one: examining.Settled, told: accounting.Account) -> dict[str, object]:
    return {
        "object": told.object_id,
        "then": one.settlement.then,
        "outcome": one.settlement.outcome,
        "trace": told.rounds[-1].rule,
        "rounds": told.rounds,
        "clashes": told.clashes,
        "words": told.agreed,
        "next": told.next,
    }


def _tell(told: accounting.Account) -> None:
    click.echo(f"{told.number}  {told.words}")
    for one in told.rounds:
        click.echo(f"  {'First' if one.round == 1 else 'Second'} round")
        for trigger in one.triggers:
            click.echo(f"    To talk about: {trigger}")
        for line in one.rule:
            click.echo(f"    · {line}")
        for reason in one.reasons:
            click.echo(f"    Reason: {reason}")
        if one.withheld:
            click.echo(f"    ({one.withheld})")
    for clash in told.clashes:
        click.echo(f"  ! {clash}")
    click.echo(f"  → {told.outcome}. {told.next}")
    if told.agreed is not None:
        tell_words(told.agreed)


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
