"""Letting somebody in again who cannot sign in: at the laptop, with the fair's keys, never in silence.

Whoever holds the laptop's files could take the accounts away altogether; what this asks for is that it be done by
somebody who holds the fair's passphrase or a sheet, and that the log say so.
"""

from pathlib import Path

from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import OFFICE, Fair
from planish.errands.people.accounts import Accounts
from planish.errands.seals import keys
from planish.ledger.journal import Draft


def wants_proof(folder: Path) -> bool:
    """True when the fair has keys, so that their passphrase or a sheet is asked for."""
    return keys.has_key(folder)


def let_in(fair: Fair, person: str, *, proof: str, sheet: bool) -> str:
    """A new passphrase for `person`, whose sessions end. Refuses a stranger, a wrong passphrase, a sheet of another fair."""
    known = fair.state.people.get(person)
    if known is None or not known.roles - {"exhibitor"}:
        able = ", ".join(sorted(one.id for one in fair.state.people.values() if one.roles)) or "nobody"
        raise refuse(person, "Nobody with this short name has a role here.", f"There are: {able}.")
    how = _proved(fair.folder, proof, sheet)
    words = f"A new passphrase was made for {person} at the laptop, {how}."
    fair.record(
        [
            Draft(
                kind="incident.noted",
                sub=fair.state.id,
                who=OFFICE,
                body={"sort": "other", "words": words},
            )
        ]
    )
    accounts = Accounts(fair.folder)
    try:
        return accounts.new_passphrase(person)
    finally:
        accounts.close()


def _proved(folder: Path, proof: str, sheet: bool) -> str:
    if not wants_proof(folder):
        return "without proof, for the fair has no keys"
    if sheet:
        return f"with recovery sheet {keys.sheet_of(folder, proof)}"
    keys.private(folder, proof)
    return "with the passphrase of the keys"
