"""Asking for a passphrase: at a prompt or from PLANISH_PASSPHRASE, never as an argument that a history would keep."""

import os

import click

from planish.errands.opening.memory import never_dump


def passphrase(*, new: bool = False) -> str:
    """The passphrase of the fair's keys; a new one is typed twice."""
    never_dump()
    given = os.environ.get("PLANISH_PASSPHRASE", "")
    if given:
        return given
    typed: str = click.prompt("Passphrase", hide_input=True, confirmation_prompt=new)
    return typed


def own_passphrase(person: str) -> str:
    """A person's own passphrase, which is not that of the fair's keys: at a prompt or from PLANISH_OWN_PASSPHRASE."""
    never_dump()
    given = os.environ.get("PLANISH_OWN_PASSPHRASE", "")
    typed: str = given or click.prompt(f"Passphrase of {person}", hide_input=True)
    return typed
