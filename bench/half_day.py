"""Half a day on the floor in a few minutes: three tablets, the line cut half of the time, the desk killed at random.

    python -m bench.half_day [--minutes 4] [--seed 1]

Each tablet walks, writes, words labels, locks ballots, and hands in when it can. Answers are lost, requests come twice,
tablets are reloaded from what they had stored, the desk dies with kill -9 and is started again. At the end the line
stays: the log must hold everything that was entered, once, in each tablet's order; every event that does not count must
stand on a card; and the log must verify. Exits with 1 when it does not.
"""

import argparse
import copy
import random
import sys
import tempfile
import threading
import time
from collections import Counter
from pathlib import Path
from typing import Any

import httpx
from tests.sync.tablets import PIN, Tablet

from bench.hall import DeskProcess, free_port, lay_out, pair_many
from planish.ledger import sqlite
from planish.ledger.verifying import verify

CUT_S, UP_S = 3.0, 3.0
"""Cut and there for as long: half of the time each."""
LOSE_ANSWER, TWICE, RELOAD = 0.08, 0.08, 0.01
TROUBLE = (httpx.HTTPError, ConnectionError)
COUNTS: Counter[str] = Counter()


class Line:
    """The hall's network as one tablet has it: cut and back by itself, answers lost, requests doubled."""

    def __init__(self, port: int, cookie: str, dice: random.Random) -> None:
        home = f"http://127.0.0.1:{port}"
        self._http = httpx.Client(
            base_url=home, headers={"origin": home}, cookies={"planish_device": cookie}, timeout=30
        )
        self._dice, self._lock = dice, threading.Lock()
        self.good = False
        self._change = time.monotonic()
        self._up = False

    def up(self) -> bool:
        """Whether the line is there now."""
        if not self.good and time.monotonic() >= self._change:
            self._up = not self._up
            mean = UP_S if self._up else CUT_S
            self._change = time.monotonic() + mean * (0.5 + self._dice.random())
        return self.good or self._up

    def _ask(self, method: str, address: str, **given: Any) -> httpx.Response:
        if not self.up():
            COUNTS["requests into a cut line"] += 1
            raise httpx.ConnectError("the line is cut")
        said = self._http.request(method, address, **given)
        if self.good or not address.endswith(("/push", "/pull")):
            return said
        if self._dice.random() < TWICE:
            COUNTS["requests doubled"] += 1
            said = self._http.request(method, address, **given)
        if self._dice.random() < LOSE_ANSWER:
            COUNTS["answers lost"] += 1
            raise httpx.ReadTimeout("the answer never came")
        return said

    def get(self, address: str, **given: Any) -> httpx.Response:
        """GET."""
        return self._ask("GET", address, **given)

    def post(self, address: str, **given: Any) -> httpx.Response:
        """POST."""
        return self._ask("POST", address, **given)


def write_something(tablet: Tablet, dice: random.Random, voted: set[str]) -> None:
    """One thing that a specialist does."""
    thing = f"7-{dice.randrange(1, 41):03}"  # forty objects that all three meet
    what = dice.random()
    if what < 0.5:
        words = f"{tablet.who} saw {len(tablet.made)}"
        tablet.make("observation.made", thing, {"kind": "wear", "words": words})
    elif what < 0.75 and thing not in voted:
        voted.add(thing)
        outcome = dice.choice(["accept", "relabel"])
        tablet.make("ballot.locked", thing, {"round": 1, "ballot": {"round": 1, "outcome": outcome}})
    elif what < 0.9:
        base = tablet.objects.get(thing, {}).get("bases", {}).get("label", "")
        text = f"Words of {tablet.who}, {len(tablet.made)}"
        tablet.make("label.asked", thing, {"version": 2, "text": text}, base=base)
    else:
        tablet.make("object.not_found", thing, {"reason": dice.choice(["absent", "locked"])})


def walk(tablet: Tablet, seed: int, until: float) -> None:
    """One tablet's half day."""
    dice, voted = random.Random(seed), set[str]()
    while time.monotonic() < until:
        for _ in range(dice.randrange(1, 4)):
            write_something(tablet, dice, voted)
        hand_in(tablet)
        if dice.random() < RELOAD:
            reload(tablet)
        time.sleep(0.1 + 0.3 * dice.random())


def hand_in(tablet: Tablet) -> None:
    """Push and pull once; a line or a desk that is not there is no matter."""
    before = copy.copy(tablet.__dict__)
    try:
        tablet.push(50)
        said = tablet.pull()
        if said.status_code == 401:
            tablet.unlock(first=False)
    except TROUBLE:
        COUNTS["tries that came to nothing"] += 1
        tablet.acked = max(tablet.acked, int(before["acked"]))


def reload(tablet: Tablet) -> None:
    """The page is loaded again: what was stored is there, what was only known is not."""
    COUNTS["reloads"] += 1
    tablet.objects, tablet.entries, tablet.after, tablet.hash = {}, [], 0, ""


def murder(desk: DeskProcess, dice: random.Random, until: float) -> None:
    """Kill the desk now and then, in the middle of whatever it does."""
    while time.monotonic() < until:
        time.sleep(2.0 + 4.0 * dice.random())
        desk.kill()
        COUNTS["desk killed"] += 1
        time.sleep(dice.random())
        desk.start()


def settle(tablets: list[Tablet]) -> None:
    """The line stays: everybody hands in all they have and reads all there is."""
    for tablet in tablets:
        tablet.client.good = True
        tablet.unlock(first=False)
        tablet.push_all()
    for tablet in tablets:
        for _ in range(3):
            if tablet.pull().status_code == 200:
                break
        tablet.push_all()


def judged(folder: Path, tablets: list[Tablet]) -> list[str]:
    """What is not as it must be; empty when everything is."""
    wrong = []
    store = sqlite.read_ledger(folder / "ledger.db")
    entries = [*store.entries()]
    problems = verify(store)
    store.close()
    wrong += [f"the log: {problem}" for problem in problems[:3]]
    ids = Counter(entry.event.id for entry in entries)
    wrong += [f"{one} stands {count} times" for one, count in ids.items() if count != 1][:3]
    for tablet in tablets:
        there = [entry.event.id for entry in entries if entry.event.dev == tablet.dev]
        if there != tablet.ids():
            wrong.append(
                f"{tablet.dev} made {len(tablet.made)} and the log holds {len(there)}, or in another order"
            )
        losers = {
            entry.event.id for entry in entries if entry.event.dev == tablet.dev and entry.status != "ok"
        }
        if not losers <= set(tablet.cards):
            wrong.append(
                f"{tablet.dev}: {len(losers - set(tablet.cards))} that do not count stand on no card"
            )
    statuses = Counter(entry.status for entry in entries if entry.event.dev != "desk")
    print(f"in the log: {sum(statuses.values()):,} entries of tablets {dict(statuses)}")
    return wrong


def main() -> int:
    """Run it and say what came of it."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--minutes", type=float, default=4)
    asked.add_argument("--seed", type=int, default=1)
    given = asked.parse_args()
    dice = random.Random(given.seed)
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "fair"
        lay_out(folder)
        people = ("member", "leader", "chair")
        tablets = [pair_many(folder, 1, sign=True, person=one, pin=PIN)[0] for one in people]
        desk = DeskProcess(folder, free_port())
        desk.start()
        for number, tablet in enumerate(tablets):
            tablet.client = Line(desk.port, tablet.client, random.Random(given.seed * 10 + number))
            tablet.client.good = True
            assert tablet.unlock(first=False) == 201
            tablet.client.good = False
        until = time.monotonic() + given.minutes * 60
        walkers = [
            threading.Thread(target=walk, args=(tablet, given.seed * 100 + number, until))
            for number, tablet in enumerate(tablets)
        ]
        for walker in walkers:
            walker.start()
        murder(desk, dice, until)
        for walker in walkers:
            walker.join()
        settle(tablets)
        desk.stop()
        made = sum(len(tablet.made) for tablet in tablets)
        print(f"entered: {made:,} events on {len(tablets)} tablets in {given.minutes:g} minutes")
        print(", ".join(f"{what}: {count}" for what, count in sorted(COUNTS.items())))
        wrong = judged(folder, tablets)
    print(
        "\n".join(wrong)
        or "everything entered is in the log, once, in order; every loser stands on a card; the log verifies"
    )
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
