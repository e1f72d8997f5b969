"""Labels checked per second on one core: read, admit, route, dated facts. Run: python bench/check.py

The labels are the invented cases of tests/cases, faulty and sound, taken over and over; figures are rates, best of five.
"""

import sys
import time
import tomllib
from collections.abc import Callable
from pathlib import Path

from planish.facts.loading import disciplines, load
from planish.facts.rulebooks import load_rulebook
from planish.facts.words import english
from planish.reasoning.admitting import admit
from planish.reasoning.contradicting.label_facts import against_facts
from planish.reasoning.reading import read
from planish.reasoning.routing import route
from planish.records import ListedObject

CASES = Path(__file__).parent.parent / "tests" / "cases"


def labels() -> list[str]:
    """Every label of the cases, faulty and sound."""
    tables = [tomllib.loads(path.read_text("utf-8")) for path in sorted(CASES.glob("*.toml"))]
    return [case[side] for table in tables for case in table.get("case", ()) for side in ("says", "sound")]


def seconds(work: Callable[[], object], times: int = 5) -> float:
    """Best of `times` runs, in seconds of one core."""
    best = float("inf")
    for _ in range(times):
        start = time.process_time()
        work()
        best = min(best, time.process_time() - start)
    return best


def main() -> None:
    """Print the load time, each stage in microseconds a label, and labels a second."""
    start = time.process_time()
    book, _ = load("metalware")
    loaded = time.process_time() - start
    words, (rules, _), (panels, _) = english(), load_rulebook("saltmere"), disciplines()
    texts = labels()
    listed = [ListedObject(id=str(i), stand="A", number=str(i), text=t) for i, t in enumerate(texts)]
    read(texts[0], words=words)
    readings = [read(text, words=words, conventions=rules.conventions) for text in texts]
    pairs = list(zip(listed, readings, strict=True))
    stages: dict[str, Callable[[], object]] = {
        "read": lambda: [read(text, words=words, conventions=rules.conventions) for text in texts],
        "admit": lambda: [admit(one, found, rules=rules, book=book) for one, found in pairs],
        "route": lambda: [route(one, found, panels) for one, found in pairs],
        "dated facts": lambda: [against_facts(found, book) for found in readings],
    }
    print(
        f"python {sys.version.split()[0]}; {len(texts)} labels; {len(book)} facts loaded in {loaded * 1000:.0f} ms"
    )
    spent = {name: seconds(work) / len(texts) for name, work in stages.items()}
    for name, each in spent.items():
        print(f"{name:12} {each * 1e6:8.1f} µs a label")
    beyond = sum(each for name, each in spent.items() if name != "read")
    print(f"{'beyond read':12} {beyond * 1e6:8.1f} µs a label (aim: at most 150)")
    print(f"whole check  {1 / sum(spent.values()):8.0f} labels a second on one core (aim: 2000)")


if __name__ == "__main__":
    main()
