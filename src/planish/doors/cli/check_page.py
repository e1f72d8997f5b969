"""`planish check-page`: the page on which anybody can compare sealed words, as one file."""

from pathlib import Path

import click

from planish.doors.check import FairOnPage, single_file
from planish.doors.cli.options import fair_option
from planish.doors.cli.secrets import passphrase
from planish.errands.opening import wiring
from planish.errands.seals import keys, sealing


@click.command(epilog="Example: planish check-page --fair saltmere-2026 --out check.html")
@click.option("--out", required=True, type=click.Path(path_type=Path, dir_okay=False), help="The HTML file.")
@click.option(
    "--with-seals", is_flag=True, help="Put the fair's seals in, so that a typed check code finds its words."
)
@click.option(
    "--with-list", is_flag=True, help="Put in the signed list of withdrawn seals; asks for the passphrase."
)
@fair_option
def command(out: Path, with_seals: bool, with_list: bool, folder: Path) -> None:
    """Write the check page of a fair as a single file that needs no network: for a phone, a stick, a website."""
    with wiring.open_fair(folder) as fair:
        public = keys.public_form(keys.public_keys(folder)[0])
        withdrawn = sealing.list_of_withdrawn(fair, keys.private(folder, passphrase())) if with_list else b""
        page = single_file(
            [
                FairOnPage(
                    name=fair.state.name,
                    id=public["id"],
                    ed25519=public["ed25519"],
                    definitions=fair.rules.definitions,
                    withdrawn=withdrawn,
                )
            ],
            sealing.all_seals(fair) if with_seals else {},
        )
    out.write_text(page, encoding="utf-8", newline="\n")
    click.echo(
        f"The check page is in {out}, {len(page.encode()) / 1000:.0f} kB. Open it once; it then needs no network."
    )
