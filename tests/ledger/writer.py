"""A desk in a process of its own, to be killed, starved or lied to. Prints `made` before and `ok` after each event.

python writer.py LEDGER COUNT DEV [--synchronous NORMAL] [--die ODDS SEED]
"""

import os
import random
import signal
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from desks import NOW, Chance

from planish.ledger import sqlite
from planish.ledger.journal import Journal
from planish.ledger.store import LedgerError


def main(place: str, count: str, *options: str) -> None:
    """Write events one after another and say so, unbuffered."""
    if "--synchronous" in options:
        sqlite.SYNCHRONOUS = options[options.index("--synchronous") + 1]
    dice, odds = None, 0.0
    if "--die" in options:
        at = options.index("--die")
        odds, dice = float(options[at + 1]), random.Random(options[at + 2])
    path = Path(place)
    store = sqlite.open_ledger(path) if path.exists() else sqlite.create(path, fair="harbour", epoch="e1")
    seed = f"{store.head().n}/{options}"
    journal = Journal(store, dev="desk", now=lambda: NOW, chance=Chance(seed))
    if store.head().n == 0:
        say(f"ok {journal.add('fair.begun', sub='harbour', who='office', body={'name': 'Harbour'}).id}")
    for number in range(int(count)):
        try:
            result = journal.add(
                "stand.added", sub=f"s{number}", who="office", body={"number": "1", "exhibitor": "N" * 300}
            )
        except LedgerError as error:
            say(f"no {type(error).__name__}")
            continue
        if dice is not None and dice.random() < odds:
            os.kill(os.getpid(), signal.SIGKILL)  # exactly between the commit and the reply
        say(f"ok {result.id}")
    say("end")
    os._exit(0)  # without closing: what is on the disk now must do


def say(line: str) -> None:
    """One line, at once."""
    os.write(1, line.encode() + b"\n")


if __name__ == "__main__":
    main(*sys.argv[1:])
