"""Who sits at the desk's own command line? Whoever does is trusted as the office and reads what the office may read.

Reading more than that, such as the unnamed split, needs a person who proves to be one with the own passphrase.
"""

from pathlib import Path

from planish.errands.opening.refusing import refuse
from planish.ledger.replay import FairState


def prove(folder: Path, state: FairState, person: str, passphrase: str) -> None:
    """Refuses unless `passphrase` is that of `person`, who takes part in the fair."""
    from planish.errands.people.accounts import FILE, Accounts, Wait

    where = f"reader {person}"
    if person not in state.people or not (folder / FILE).is_file():
        raise _not_proven(where)
    accounts = Accounts(folder)
    try:
        right = accounts.opens(person, passphrase, client="command line")
    except Wait as wait:
        raise refuse(
            where, "Too many wrong tries.", f"Wait {wait.seconds} seconds.", code="reader.wait"
        ) from wait
    finally:
        accounts.close()
    if not right:
        raise _not_proven(where)


def _not_proven(where: str) -> Exception:
    return refuse(
        where,
        "The person and the passphrase do not belong together, or no passphrase was given yet.",
        "Give a person a passphrase: planish people --passphrase PERSON. Without one, read as the office does.",
        code="reader.not_proven",
        kind="rule",
    )


def new_passphrase(folder: Path, state: FairState, person: str) -> str:
    """Make a passphrase for somebody of the fair and give it, once. The old one opens nothing any more."""
    from planish.errands.people.accounts import Accounts

    if person not in state.people:
        raise refuse(f"person {person}", "Nobody of this fair has this id.", "See who takes part: planish people.",
                     code="person.unknown")  # fmt: skip
    accounts = Accounts(folder)
    try:
        return accounts.new_passphrase(person)
    finally:
        accounts.close()
