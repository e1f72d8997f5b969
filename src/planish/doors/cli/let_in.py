"""`planish let-in`: a new passphrase for somebody who cannot sign in any more, made at the laptop."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option
from planish.doors.cli.secrets import passphrase
from planish.errands.opening import wiring
from planish.errands.people import letting_in


@click.command(epilog="Example: planish let-in ada --fair saltmere-2026    planish let-in ada --sheet")
@click.argument("person")
@click.option("--sheet", is_flag=True, help="Type a recovery sheet instead of the passphrase of the keys.")
@fair_option
def command(person: str, sheet: bool, folder: Path) -> None:
    """Give PERSON, such as a fair's only chair, a new passphrase: asked of the fair's keys, told once, noted in the log.

    Close planish first: the log has one writer. A fair without keys asks nothing, and says so in the log.
    """
    with wiring.open_fair(folder, write=True) as fair:
        proof = ""
        if letting_in.wants_proof(folder):
            proof = click.prompt("The 34 words of a sheet") if sheet else passphrase()
        made = letting_in.let_in(fair, person, proof=proof, sheet=sheet)
    click.echo(f"New passphrase of {person}: {made}")
    click.echo("It is told this once. Sign in with it, then choose another under My passphrase.")
