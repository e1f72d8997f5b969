"""How fast each instrument is, and how far the density model misses handbook rows it has not seen.

Run: python bench/measuring.py
"""

import statistics
import time

from planish.facts.book import FactBook
from planish.facts.loading import load
from planish.reasoning.measuring import measure, mixing
from planish.reasoning.measuring.reading_facts import number, ranges
from planish.records import Observation, Quantity, freeze


def look(kind: str, values: dict[str, tuple[float, str]], **more: object) -> Observation:
    """One observation from figures and units."""
    quantities = {name: Quantity(amount, unit) for name, (amount, unit) in values.items()}
    return Observation(
        id="o", object_id="pot", kind=kind, by="bench", values=freeze(quantities), more=freeze(more)
    )


LOOKS = {
    "composition": look("composition", {"Cu": (64.9, ""), "Zn": (34.1, ""), "Pb": (0.8, "")}),
    "density": look("density", {"air": (812.4, "g"), "water": (716.9, "g"), "Cu": (65, ""), "Zn": (35, "")}),
    "capacity": look("capacity", {"capacity": (568, "ml")}),
    "thread": look("thread", {"tpi": (20, ""), "diameter": (6.35, "mm")}),
    "diamond": look(
        "mark", {}, diamond=freeze({"circle": "I", "top": "R", "right": "12", "bottom": "6", "left": "K"})
    ),
    "registered": look("mark", {}, registered=412211),
    "members": look("members", {str(i): (300.0 + i, "g") for i in range(12)}),
}


def rate(one: Observation, book: FactBook, seconds: float = 0.5) -> float:
    """Looks measured in a second on one core."""
    count, start = 0, time.perf_counter()
    while time.perf_counter() - start < seconds:
        measure(one, book)
        count += 1
    return count / (time.perf_counter() - start)


def misses(book: FactBook) -> list[tuple[float, float, str]]:
    """Each handbook row foretold from the others: (miss, miss by adding volumes, fact id), relative."""
    densities = mixing.element_densities(book)
    found = []
    for row in mixing.handbook(book):
        parts = {metal: low for metal, (low, _) in ranges(row, "composition_wt").items()}
        predicted = mixing.predict(
            {m: Quantity(w, "wt%") for m, w in parts.items()}, FactBook(f for f in book if f.id != row.id)
        )
        density = number(row, "density_g_cm3") or 1.0
        if predicted is not None:
            found.append(
                (
                    predicted.density.amount / density - 1,
                    mixing.additive(parts, densities) / density - 1,
                    row.id,
                )
            )
    return found


def main() -> None:
    """Print rates and misses."""
    book, _ = load("metalware")
    for name, one in LOOKS.items():
        print(f"{name:12s} {rate(one, book):8.0f} looks a second")
    rows = sorted(misses(book), key=lambda r: abs(r[0]))
    ours, plain = [abs(r[0]) for r in rows], sorted(abs(r[1]) for r in rows)
    print(f"\n{len(rows)} handbook densities, each foretold without itself:")
    for label, values in (("planish", ours), ("adding volumes", plain)):
        nine = values[int(0.9 * len(values))]
        print(
            f"{label:15s} half within {100 * statistics.median(values):.2f} %, nine in ten within {100 * nine:.2f} %, worst {100 * values[-1]:.2f} %"
        )
    for miss, bare, row in rows[-5:]:
        print(f"  {row:32s} {100 * miss:+.2f} % (adding volumes {100 * bare:+.2f} %)")


if __name__ == "__main__":
    main()
