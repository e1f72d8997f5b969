"""Half a day of a small fair in minutes: three tablets at work, the line cut half of the time, the desk killed at random.

    python -m tests.floor.half_day [turns] [seed]

Prints what was made, what lies in the log, and how often what was cut or killed; ends with an error if they differ.
"""

import random
import sys
import tempfile
from collections import Counter
from pathlib import Path
from typing import Any

from tests.conftest import CHROMIUM, FLAGS
from tests.floor.hall import Hall
from tests.floor.tablet import Tablet

STANDS, OBJECTS = ("7", "8", "9"), 12
OUTCOMES = ("Accept", "Relabel", "Remove", "Refer")


def one_turn(chance: random.Random, tablet: Tablet, done: set[tuple[int, str]]) -> str:
    """One thing that a member does."""
    object_id = f"{chance.choice(STANDS)}-{chance.randrange(1, OBJECTS + 1):03d}"
    what = chance.choice(("pass", "view", "look", "words", "where"))
    if what in ("pass", "view") and (id(tablet), object_id) in done:
        what = "look"
    if what == "pass":
        tablet.go(f"#/object/{object_id}")
        if tablet.page.get_by_role("button", name="Pass", exact=True).count() == 0:
            return "nothing"
        tablet.press("Pass")
        tablet.page.wait_for_function("at => location.hash !== at", arg=f"#/object/{object_id}")
    elif what == "view":
        tablet.views(object_id, chance.choice(OUTCOMES), f"Foot {chance.random()}")
    elif what == "look":
        tablet.go(f"#/look/{object_id}")
        tablet.page.get_by_label("What you saw", exact=True).fill(f"Scraped {chance.random()}")
        tablet.press("Note it")
        tablet.sees("1 look noted")
    elif what == "words":
        tablet.asks_words(object_id, f"Kettle {chance.random()}", "Seams.")
    else:
        tablet.go(f"#/where/{object_id}")
        tablet.press("Needs a key")
        tablet.page.wait_for_function("() => !location.hash.startsWith('#/where/')")
    if what in ("pass", "view"):
        done.add((id(tablet), object_id))
    return what


def run(browser: Any, folder: Path, turns: int, seed: int) -> Counter[str]:
    """Work `turns` turns; gives the counts. Raises AssertionError when the log does not hold everything once."""
    chance = random.Random(seed)
    hall = Hall(folder, objects=OBJECTS, stands=STANDS)
    told: Counter[str] = Counter()
    try:
        tablets = []
        for person in ("ben", "cleo", "dora"):
            context = browser.new_context(viewport={"width": 360, "height": 640}, reduced_motion="reduce")
            tablets.append(Tablet(context, hall))
            tablets[-1].pair(person)
        done: set[tuple[int, str]] = set()
        for _ in range(turns):
            if chance.random() < 0.25:
                (hall.line.cut if hall.line.up else hall.line.mend)()
                told["line turned"] += 1
            if chance.random() < 0.08:
                hall.kill()
                hall.start()
                told["desk killed"] += 1
            told["turns without a line"] += not hall.line.up
            told[one_turn(chance, chance.choice(tablets), done)] += 1
        hall.line.mend()
        made: list[str] = []
        for tablet in tablets:
            tablet.release()
            own = tablet.rows("events")
            tablet.sent(len(own), seconds=180)
            made += [one["id"] for one in tablet.rows("events")]
            assert tablet.errors == []
        devices = {tablet.kept()["dev"] for tablet in tablets}
        log = [one for one in hall.entries() if one["dev"] in devices]
        told["made"], told["in the log"] = len(made), len(log)
        told |= Counter(
            {f"recorded {status}": n for status, n in Counter(one["status"] for one in log).items()}
        )
        assert sorted(one["id"] for one in log) == sorted(made), told
        assert len({one["id"] for one in log}) == len(log), told
        worked = sum(told[one] for one in ("pass", "view", "look", "words", "where"))
        assert len(made) == worked, told
    finally:
        hall.close()
    return told


def main() -> None:
    """Run it and print."""
    from playwright.sync_api import sync_playwright

    turns, seed = (int(one) for one in (*sys.argv[1:], *("300", "1")[len(sys.argv) - 1 :]))
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        for name, count in run(browser, Path(tempfile.mkdtemp()) / "fair", turns, seed).items():
            print(f"{name:22} {count}")
        browser.close()


if __name__ == "__main__":
    main()
