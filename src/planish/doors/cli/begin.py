"""`planish begin`: start a fair in a folder, under a rule book."""

from pathlib import Path

import click

from planish.errands.opening import wiring


@click.command(epilog="Example: planish begin saltmere-2026 --rules saltmere --opens 2026-10-15")
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--rules", required=True, help="A rule book on file (planish rules) or a TOML file.")
@click.option("--opens", default="", metavar="DATE", help="Opening day, such as 2026-10-15.")
@click.option("--name", default="", help="The fair's name; the rule book's when left out.")
def command(folder: Path, rules: str, opens: str, name: str) -> None:
    """Start a fair in FOLDER, which must be new or empty. Its rule book is copied in and its digest logged."""
    fair = wiring.begin(folder, rules, opens=opens, name=name)
    click.echo(
        f"{fair.state.name} is begun in {folder}, under rule book {fair.rules.id} {fair.rules.version}."
    )
    click.echo(
        f"Next: planish people --fair {folder} people.toml, then planish take --fair {folder} --stand 1 LIST"
    )
    fair.close()
