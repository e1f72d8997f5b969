"""`planish compare`: what a seal's code says, beside the words that hang and beside the fair's log."""

from pathlib import Path

import click

from planish.doors.cli.options import json_option
from planish.doors.cli.showing import as_json
from planish.errands.intake.finding import find
from planish.errands.opening import wiring
from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import Fair
from planish.errands.seals import keys, sealing
from planish.errands.seals.sealing import Compared
from planish.ledger.sealing import SealRefused, open_code
from planish.ledger.sealing.codes import NotACode
from planish.ledger.sealing.lists import ListRefused, SealList, read_list

STATES = {
    "sealed": "These words stand sealed in the fair's record.",
    "superseded": "SUPERSEDED: other words were sealed later for this object; these no longer hold.",
    "revoked": "REVOKED: this seal was withdrawn.",
    "unknown": "UNKNOWN: the fair's record does not hold this seal.",
}
PANEL = (
    "A panel of this fair passed these words as a description of the object under the fair's rules, on that day. It did "
    "not value the object, and it does not answer for what happened to the object or the label since."
)


@click.command(
    epilog="Example: planish compare photo.jpg --keys saltmere.json --hangs 'Pewter flagon, c. 1760'    planish compare 9F3K-7Q2M-H --fair saltmere-2026"
)
@click.argument("code")
@click.option("--hangs", default="", help="The words on the label in front of you.")
@click.option(
    "--keys",
    "key_files",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    multiple=True,
    help="Public keys of fairs, from planish key show.",
)
@click.option(
    "--fair",
    "folder",
    type=click.Path(path_type=Path, file_okay=False),
    help="The fair's folder, if at hand.",
)
@click.option(
    "--at",
    default="",
    metavar="ITEM",
    help="With --fair: where a steward read it. The code of another object raises an alarm on both at the desk.",
)
@click.option("--by", default="office", show_default=True, help="With --at: the steward who read it.")
@click.option(
    "--list",
    "list_file",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    help="A signed list of withdrawn seals.",
)
@json_option
def command(
    code: str,
    hangs: str,
    key_files: tuple[Path, ...],
    folder: Path | None,
    at: str,
    by: str,
    list_file: Path | None,
    json_: bool,
) -> None:
    """Read CODE (a seal's text, a check code, a picture or a PDF) and compare. Exit code 1 when something differs."""
    if not key_files and folder is None:
        raise click.UsageError(
            "Give --keys FILE or --fair FOLDER: a seal is checked with the fair's public key."
        )
    if at and folder is None:
        raise click.UsageError("--at needs --fair: only the fair's own log knows whose code it is.")
    elsewhere: list[str] = []
    known = tuple(key for path in key_files for key in keys.keys_in(path))
    try:
        if folder is None:
            found = [sealing.compare(sealed, known, hangs=hangs) for sealed in _seals(code, None)]
        else:
            with wiring.open_fair(folder, write=bool(at)) as fair:
                known += keys.public_keys(folder)
                elsewhere = _elsewhere(fair, code, at, by) if at else []
                found = [sealing.compare(s, known, hangs=hangs, fair=fair) for s in _seals(code, fair)]
        listed = read_list(list_file.read_bytes(), known) if list_file else None
        states = [_listed(listed, sealed) for sealed in _seals(code, None)] if listed else []
    except (SealRefused, NotACode, ListRefused) as reason:
        raise refuse(
            code[:40], str(reason), "Compare the code with the label; ask the fair's office."
        ) from None
    if json_:
        as_json(found)
    else:
        for number, one in enumerate(found):
            _tell(one, states[number] if states else "", listed)
    for line in elsewhere:
        click.echo(line, err=json_)
    if elsewhere or any(one.same is False or one.state not in ("", "sealed") for one in found) or any(states):
        raise SystemExit(1)


def _elsewhere(fair: Fair, code: str, at: str, by: str) -> list[str]:
    """A line for each code that was read at the wrong object; each is an alarm at the desk."""
    lines = []
    for sealed in _seals(code, fair):
        owner = sealing.read_at(fair, sealed, find(fair.state, at), who=by)
        if owner is not None:
            whose = f"{owner.listed.stand}/{owner.listed.number}"
            lines.append(
                f"ALARM: this is the code of {whose}, read at {at}. Both labels are to be looked at."
            )
    return lines


def _listed(listed: SealList, sealed: bytes) -> str:
    return listed.state(sealed)


def _seals(code: str, fair: Fair | None) -> tuple[bytes, ...]:
    path = Path(code)
    if len(code) < 1000 and path.suffix and path.is_file():
        from planish.doors.papers.scanning import codes_in

        return codes_in(path)
    if len(code) > 24 or fair is None:
        return (open_code(code),)
    sealed = sealing.by_check_code(fair, code)
    if not sealed:
        raise refuse(code, "This fair has no seal with that check code.", "Look at the code again.")
    return (sealed,)


def _tell(one: Compared, listed_state: str, listed: SealList | None) -> None:
    words = one.words
    click.echo(
        f"\n{words.words or '(The code holds only the digest of the words; they are too long for it.)'}\n"
    )
    click.echo(
        f"Words as passed on {words.day}: {words.fair}, stand {words.stand}, no. {words.number}, version {words.version}."
    )
    if words.compare:
        click.echo("Compare with the object: " + "; ".join(words.compare))
    if words.picture:
        click.echo(f"Picture on file begins with digest {words.picture.hex()}")
    if one.state:
        click.echo(STATES[one.state])
    elif listed is not None:
        standing = f"Not on the fair's list of {listed.day}; changes after that day are not known here."
        click.echo(STATES[listed_state] if listed_state else standing)
    else:
        click.echo("Later changes are not known here.")
    if one.same is True:
        click.echo("What hangs is word for word the same.")
    elif one.same is False:
        click.echo("What hangs is NOT the same: " + (_marked(one) or "its digest differs."))
    click.echo(PANEL)


def _marked(one: Compared) -> str:
    signs = {"same": "{}", "removed": "[-{}-]", "added": "{{+{}+}}"}
    parts = []
    for change in one.changes:
        text = change.words
        lead = text[: len(text) - len(text.lstrip())]
        parts.append(lead + signs[change.kind].format(text.strip()))
    return "".join(parts)
