"""`planish serve`: the desk and the counter in a browser."""

from pathlib import Path

import click

from planish.doors.cli.options import fair_option
from planish.errands.opening.refusing import refuse


@click.command(
    epilog="Example: planish serve --fair saltmere-2026    planish serve --fair new-fair --port 8080"
)
@click.option("--host", default="127.0.0.1", show_default=True, help="The address to listen on.")
@click.option("--port", default=8000, show_default=True, type=click.IntRange(0, 65535))
@click.option(
    "--allow-host",
    "names",
    multiple=True,
    metavar="NAME",
    help="A further name by which browsers reach this desk.",
)
@click.option(
    "--cert", type=click.Path(path_type=Path, exists=True, dir_okay=False), help="TLS certificate (PEM)."
)
@click.option(
    "--key", type=click.Path(path_type=Path, exists=True, dir_okay=False), help="Its private key (PEM)."
)
@click.option(
    "--tls",
    type=click.Choice(["own-cert", "fair"]),
    help="own-cert: --cert and --key. fair: a certificate authority made for this fair and these names only.",
)
@click.option(
    "--help-port",
    default=8080,
    show_default=True,
    type=click.IntRange(0, 65535),
    help="With --tls fair: where tablets get the authority's certificate, over plain HTTP.",
)
@fair_option
def command(
    host: str,
    port: int,
    names: tuple[str, ...],
    cert: Path | None,
    key: Path | None,
    tls: str | None,
    help_port: int,
    folder: Path,
) -> None:
    """Open the fair in a browser: one process, its own database, only this computer unless --host says otherwise.

    A folder without a fair starts set-up, with a code that is shown here once.
    """
    try:
        import uvicorn

        from planish.doors.web.app import create_app
    except ImportError as error:
        raise refuse(
            "planish serve",
            f"A part it needs is not installed ({error.name}).",
            "Install planish with its web parts: pip install 'planish[web]'.",
            kind="rule",
        ) from error
    from planish.errands.opening.memory import never_dump
    from planish.errands.opening.serving import open_to_serve

    never_dump()
    if (cert is None) != (key is None):
        raise click.UsageError("Give --cert and --key together.")
    if tls == "own-cert" and cert is None:
        raise click.UsageError("--tls own-cert needs --cert and --key.")
    if tls == "fair":
        if cert is not None:
            raise click.UsageError("--tls fair makes its own certificate; leave --cert and --key out.")
        cert, key = _authority(folder, host, port, names, help_port)
    desk = open_to_serve(folder)
    https = cert is not None
    app = create_app(desk, hosts=(*names, host), https=https)
    _say(desk, f"{'https' if https else 'http'}://{host}:{port}", host, https)
    uvicorn.run(
        app,
        host=host,
        port=port,
        ssl_certfile=str(cert) if cert else None,
        ssl_keyfile=str(key) if key else None,
        log_level="warning",
        proxy_headers=False,
        server_header=False,
        date_header=False,
    )


def _authority(
    folder: Path, host: str, port: int, names: tuple[str, ...], help_port: int
) -> tuple[Path, Path]:
    """The fair's own authority, made now or earlier, and the page that helps to install it."""
    from planish.doors.web.installing import Helper
    from planish.errands.hall import authority
    from planish.errands.opening import clock

    said = [one for one in (*names, host) if one not in ("0.0.0.0", "::")]
    plain, addresses = authority.sorted_out(said)
    now = clock.now()
    made = authority.find(folder, names=plain, addresses=addresses, now=now)
    if made is None:
        folder.mkdir(parents=True, exist_ok=True)
        made = authority.make(folder, names=plain, addresses=addresses, now=now)
        click.echo(f"Made a certificate authority for {', '.join(said)}; its key was thrown away.")
    helper = Helper(made, f"https://{said[0]}:{port}", host=host, port=help_port)
    click.echo(
        f"Tablets of the fair install it from http://{said[0]}:{helper.port}/ (good until {made.until:%d %B %Y})."
    )
    click.echo(f"It says: {made.words}")
    return made.certificate, made.key


def _say(desk: object, address: str, host: str, https: bool) -> None:
    click.echo(f"planish is at {address}   (Ctrl-C ends it)")
    code = getattr(desk, "setup_code", "")
    if code:
        click.echo(f"Set-up code: {code}")
        click.echo("Open the address, give this code, and make the first chair. It works once.")
    if host not in ("127.0.0.1", "localhost", "::1") and not https:
        from planish.errands.hall.authority import LOST_WITHOUT_TLS

        click.echo(
            "Others on this network can reach it, and passphrases travel readable: give --cert and --key, or --tls fair. "
            "Lost over plain HTTP:",
            err=True,
        )
        for line in LOST_WITHOUT_TLS:
            click.echo(f"  - {line}", err=True)
