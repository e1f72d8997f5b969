"""`planish seal`: seal what hangs, after a steward has read it on the object; withdraw a seal; list what no longer stands."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option, json_option
from planish.doors.cli.secrets import passphrase
from planish.doors.cli.showing import as_json
from planish.errands.intake.finding import find
from planish.errands.opening import clock, wiring
from planish.errands.opening.wiring import Fair
from planish.errands.seals import keys, sealing
from planish.errands.telling import reporting
from planish.ledger.story import Story


@click.command(
    epilog="Example: planish seal --fair saltmere-2026 7/14 --by steward    planish seal --stand 7    planish seal --write-list list.seals"
)
@click.argument("item", required=False)
@click.option("--stand", default="", help="Everything on this stand that may be sealed, one after another.")
@click.option("--all", "all_", is_flag=True, help="Everything at the fair that may be sealed.")
@click.option("--hangs", default="", help="The words as read on the object; asked for when left out.")
@click.option(
    "--by", default="office", show_default=True, help="The steward who reads the label on the object."
)
@click.option("--revoke", is_flag=True, help="Withdraw the seal of ITEM, by two people.")
@click.option("--second", default="", help="With --revoke: the second person.")
@click.option("--reason", default="", help="With --revoke: why, about the object.")
@click.option(
    "--write-list",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write the signed list of superseded and revoked seals.",
)
@fair_option
@json_option
def command(
    item: str | None,
    stand: str,
    all_: bool,
    hangs: str,
    by: str,
    revoke: bool,
    second: str,
    reason: str,
    write_list: Path | None,
    folder: Path,
    json_: bool,
) -> None:
    """Seal ITEM, a stand or everything: read each label on its object, type it or say that it is the same."""
    if not (item or stand or all_ or write_list):
        raise click.UsageError("Name an object, or give --stand, --all or --write-list.")
    with wiring.open_fair(folder, write=True) as fair:
        if revoke:
            _revoke(fair, item or "", by, second, reason)
            return
        secret = keys.private(folder, passphrase())
        if write_list is not None:
            write_list.write_bytes(sealing.list_of_withdrawn(fair, secret))
            click.echo(f"The signed list is in {write_list}.")
            return
        chosen = [find(fair.state, item)] if item else reporting.stories(fair, stand)
        read_on = _read_on_objects(chosen, hangs, one=bool(item))
        made = sealing.seal_labels(fair, read_on, secret, who=by) if read_on else []
        papers = _print(fair, [one.object_id for one in made])
    if json_:
        as_json(made)
        return
    for one in made:
        click.echo(f"{one.words.stand}/{one.words.number} is sealed. Check code {one.check}")
    click.echo(f"{len(made)} sealed." + (f" Cards with their codes: {papers}" if papers else ""))


def _read_on_objects(chosen: list[Story], hangs: str, *, one: bool) -> list[tuple[Story, str]]:
    """What hangs on each object: typed, or said to be the words shown. An object passed over is left as it is."""
    found = []
    for story in chosen:
        words = sealing.to_seal(story)
        if one:
            sealing.must_be(story, hangs or words)
        if not words:
            continue
        if hangs:
            found.append((story, hangs))
            continue
        click.echo(f"\n{story.listed.stand}/{story.listed.number}\n  {words}", err=True)
        if click.confirm("You have read exactly these words on the object?", default=False, err=True):
            found.append((story, words))
    return found


def _print(fair: Fair, ids: list[str]) -> str:
    if not ids:
        return ""
    from planish.doors.papers import printing

    cards = reporting.label_cards(fair, ids=ids)
    path = fair.folder / wiring.PAPERS / f"sealed-{clock.now():%Y%m%d-%H%M%S}.pdf"
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(printing.labels(cards, made=clock.now(), title=f"{fair.state.name}: sealed labels"))
    return str(path)


def _revoke(fair: Fair, item: str, by: str, second: str, reason: str) -> None:
    if not item or not second or not reason:
        raise click.UsageError("To revoke, name the object, --second and --reason.")
    digest = sealing.revoke(fair, find(fair.state, item), who=by, second=second, reason=reason)
    click.echo(f"The seal {digest[:16]}… is revoked. Take its card down, and write the list anew.")
