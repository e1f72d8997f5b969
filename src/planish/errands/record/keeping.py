"""Keeping the record: read the log back and prove that nothing was changed."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import LEDGER, ledger_refusal
from planish.ledger import daywords, sqlite
from planish.ledger.store import LedgerError, LedgerMissingError
from planish.ledger.verifying import Remembered, verify
from planish.records import Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Verified:
    """What reading a whole log back gave: how many entries, the head's hash (hex) and words, and every fault."""

    entries: int
    head: str
    words: str
    problems: tuple[Problem, ...]


def verify_log(folder: Path, *, remembered: str = "") -> Verified:
    """Verify the log in `folder`; `remembered` is a head kept elsewhere, as N:HASH or N:twelve words."""
    try:
        store = sqlite.read_ledger(folder / LEDGER)
    except LedgerMissingError as error:
        raise refuse(
            str(folder), "There is no fair in this folder.", "Name its folder with --fair.", kind="ledger"
        ) from error
    except LedgerError as error:
        raise ledger_refusal(error) from error
    try:
        problems = verify(store, list(heads(remembered)))
        head = store.head()
        return Verified(
            entries=head.n, head=head.hash.hex(), words=daywords.words_of(head.hash), problems=problems
        )
    except LedgerError as error:
        raise ledger_refusal(error) from error
    finally:
        store.close()


def heads(text: str) -> Iterator[Remembered]:
    """A head given as N:HASH or N:twelve words; none for "". Refuses what is neither."""
    if not text:
        return
    number, _, rest = text.partition(":")
    try:
        known = daywords.start_of(rest) if " " in rest.strip() else bytes.fromhex(rest.strip())
        yield Remembered(n=int(number), hash=known, where="the head given")
    except ValueError as error:
        raise refuse(
            "--head", f"{text!r} is not a head: {error}.", "Give N:HASH or N:twelve words, as printed."
        ) from None
