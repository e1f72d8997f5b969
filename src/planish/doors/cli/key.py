"""`planish key`: make the fair's keys, try their recovery sheets, show what may be public."""

import json
import secrets
from pathlib import Path

import click

from planish.doors.cli.options import fair_option
from planish.doors.cli.secrets import passphrase
from planish.doors.cli.sheets import sheet
from planish.errands.opening import clock, wiring
from planish.errands.record.envelopes import identity
from planish.errands.seals import keys


@click.command(
    epilog="Example: planish key make --fair saltmere-2026 --out sheets    planish key finish --fair saltmere-2026    planish key show    planish key identity"
)
@click.argument("step", type=click.Choice(["make", "finish", "show", "identity"]))
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    help="make: where the sheets go (recovery-sheets in this folder). show: a file for the public key.",
)
@click.option("--new-passphrase", is_flag=True, help="finish: replace a lost passphrase by means of sheet 1.")
@fair_option
def command(step: str, out: Path | None, new_passphrase: bool, folder: Path) -> None:
    """MAKE the fair's keys and print two recovery sheets; FINISH by typing both once; SHOW the public key.

    IDENTITY turns a sheet into the line with which any age tool opens this fair's backups, without planish.
    The passphrase is asked for, or taken from PLANISH_PASSPHRASE. Nothing can be sealed until both sheets were tried.
    """
    if step == "identity":
        click.echo(identity(sheet()))
        click.echo("Whoever has this line can read every backup. Delete it when you have done.", err=True)
        return
    with wiring.open_fair(folder) as fair:
        name = fair.state.name
    if step == "make":
        _make(folder, name, out or Path("recovery-sheets"))
    elif step == "finish":
        _finish(folder, new_passphrase)
    else:
        _show(folder, name, out)


def _make(folder: Path, name: str, out: Path) -> None:
    from planish.doors.papers import printing

    made = keys.make(
        folder, passphrase(new=True), secret=secrets.token_bytes(32), second=secrets.token_bytes(32)
    )
    out.mkdir(parents=True, exist_ok=True)
    for number, words in enumerate((made.words, made.second), 1):
        sheet = {"number": number, "about": keys.ABOUT[number - 1], "words": words, "id": made.id}
        path = out / f"sheet-{number}.pdf"
        path.write_bytes(printing.recovery_sheets([sheet], fair=name, made=clock.now()))
        click.echo(f"Sheet {number} in {path}: print it, delete the file, put the paper into its envelope.")
    click.echo(f"Key {made.id}. Next, from the paper: planish key finish --fair {folder}")


def _finish(folder: Path, new_passphrase: bool) -> None:
    done, wanted = False, passphrase(new=True) if new_passphrase else ""
    while not done:
        sheet, done = keys.finish(folder, click.prompt("The 34 words of a sheet"), wanted)
        click.echo(f"Sheet {sheet} opens the key.")
        if new_passphrase and sheet == 1:
            click.echo("The seal key has its new passphrase.")
            break
    if done:
        click.echo("Both sheets were tried: labels can be sealed.")


def _show(folder: Path, name: str, out: Path | None) -> None:
    public = keys.public_keys(folder)[0]
    text = json.dumps({"fair": name, **keys.public_form(public)}, indent=2, ensure_ascii=False)
    if out is None:
        click.echo(text)
        return
    out.write_text(text + "\n", encoding="utf-8")
    click.echo(f"The public key is in {out}: put it into the catalogue and on the fair's page.")
