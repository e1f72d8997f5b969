"""Options that many commands share, in the same words everywhere."""

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

F = TypeVar("F", bound=Callable[..., Any])


def fair_option(function: F) -> F:
    """--fair FOLDER: the fair's folder; PLANISH_FAIR or the present folder when left out."""
    return click.option(
        "--fair",
        "folder",
        type=click.Path(path_type=Path, file_okay=False),
        envvar="PLANISH_FAIR",
        default=Path(),
        show_default="this folder",
        help="The fair's folder.",
    )(function)


def json_option(function: F) -> F:
    """--json: data for programs instead of words."""
    return click.option("--json", "json_", is_flag=True, help="Print JSON.")(function)
