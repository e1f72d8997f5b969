"""Does a backup get in the way? 150 tablets write an event every two seconds, with and without backups being made meanwhile.

    python -m bench.backup [entries] [seconds of each turn]

Turns with and without backups alternate on the same disk in the same run, so that a busy machine slows both. A backup is
the whole of it: the engine's copy, opened and verified, compressed, encrypted to two sheets, read back. "One a turn" is
still many times more often than every five minutes; "no pause" is the worst that can be.
"""

import secrets
import sys
import tempfile
import threading
import time
from pathlib import Path

from planish.errands.opening import wiring
from planish.errands.record import backing
from planish.errands.seals import keys
from planish.ledger.journal import Draft, Journal

TABLETS, EVERY_S, TURNS = 150, 2.0, 3


def main(entries: int, seconds: float) -> None:
    """Print the figures."""
    with tempfile.TemporaryDirectory() as place:
        folder, stick = Path(place) / "fair", Path(place) / "stick"
        stick.mkdir()
        wiring.begin(folder, "saltmere").close()
        keys.make(
            folder, "a bench passphrase", secret=secrets.token_bytes(32), second=secrets.token_bytes(32)
        )
        with wiring.open_fair(folder, write=True) as fair:
            pens = filled(fair, entries)
            size = (folder / wiring.LEDGER).stat().st_size / 1e6
            alone: list[float] = []
            one: list[float] = []
            beside: list[float] = []
            took: list[float] = []
            for _ in range(TURNS):
                alone += turn(pens, seconds, None)
                one += turn(pens, seconds, lambda: took.append(timed(fair, stick)), once=True)
                beside += turn(pens, seconds, lambda: took.append(timed(fair, stick)))
            made = backing.found(next(stick.iterdir()))[0]
            print(
                f"{fair.journal.store.head().n} entries, log {size:.0f} MB, backup {made.file.stat().st_size / 1e6:.0f} MB"
            )
            print(f"{len(took)} backups, each {sorted(took)[len(took) // 2]:.1f} s (middle)")
    for name, found in (("no backup", alone), ("one a turn", one), ("no pause", beside)):
        times = share(found, 0.95) / share(alone, 0.95)
        print(
            f"{name:10}: {len(found):6} writes, p50 {share(found, 0.5):6.1f} ms, p95 {share(found, 0.95):6.1f} ms, "
            f"{times:.2f} times the p95 without (to hold: at most 2)"
        )


def filled(fair: wiring.Fair, entries: int) -> list[Journal]:
    """A log of that many entries, and the pens of 150 paired tablets."""
    names = [f"tablet-{number}" for number in range(TABLETS)]
    fair.record([Draft(kind="role.given", sub="ann", who="office", body={"role": "member"})])
    fair.record([Draft(kind="device.paired", sub=name, who="office") for name in names])
    words = "Rose and crown, rubbed; the rim is hammered, the booge too. "
    for start in range(0, entries, 5_000):
        body = {"kind": "mark", "words": words * 3}
        drafts = [
            Draft(kind="observation.made", sub=f"o{n}", who="ann", body=body)
            for n in range(start, min(entries, start + 5_000))
        ]
        fair.record(drafts)
    store = fair.journal.store
    return [
        Journal(store, dev=name, now=lambda: time.time_ns() // 1_000_000, chance=secrets.token_bytes)
        for name in names
    ]


def timed(fair: wiring.Fair, stick: Path) -> float:
    """Seconds of one backup."""
    start = time.perf_counter()
    backing.back_up(fair, stick, counts=True)
    return time.perf_counter() - start


def turn(pens: list[Journal], seconds: float, work: object, *, once: bool = False) -> list[float]:
    """Milliseconds of each write while `work` is done once or again and again, or while nothing else is done."""
    until = time.perf_counter() + seconds
    found: list[list[float]] = [[] for _ in pens]
    threads = [
        threading.Thread(target=write, args=(pen, times, until, EVERY_S * number / len(pens)))
        for number, (pen, times) in enumerate(zip(pens, found, strict=True))
    ]
    for thread in threads:
        thread.start()
    while callable(work) and time.perf_counter() < until:
        work()
        if once:
            break
    for thread in threads:
        thread.join()
    return [one for times in found for one in times]


def write(pen: Journal, times: list[float], until: float, first: float) -> None:
    """One tablet: an event every two seconds."""
    time.sleep(first)
    while time.perf_counter() < until:
        start = time.perf_counter()
        pen.add(
            "observation.made",
            sub="o1",
            who="ann",
            body={"kind": "mark", "words": "A rose and crown, rubbed"},
        )
        took = time.perf_counter() - start
        times.append(took * 1000)
        time.sleep(max(0.0, EVERY_S - took))


def share(values: list[float], part: float) -> float:
    """The value below which this part lies."""
    return sorted(values)[int(len(values) * part)]


if __name__ == "__main__":
    given = [float(word) for word in sys.argv[1:]]
    main(int(given[0]) if given else 40_000, given[1] if len(given) > 1 else 20.0)
