"""Asking for the words of a recovery sheet: at a prompt or from PLANISH_SHEET, never as an argument."""

import os

import click

from planish.errands.opening.memory import never_dump
from planish.errands.seals import keys


def sheet() -> bytes:
    """The 32 bytes of one recovery sheet, typed as its 34 words."""
    never_dump()
    given = os.environ.get("PLANISH_SHEET", "")
    return keys.from_words(given or click.prompt("The 34 words of a recovery sheet"))
