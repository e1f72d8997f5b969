"""Date reading beside general libraries, in one process on the same texts: rate, and agreement when a set is given.

    python bench/dates.py [rows.jsonl]      or      PLANISH_DATE_ROWS=rows.jsonl python bench/dates.py

A row has `text`, `from`, `to` (null for none) and, if it likes, `class`, `shape`, `ok`, `in_period`, `pad` and `open`.
Without a set the rate is printed on texts made from the grammar's own forms. Agreement: both ends within a year of the
row's pair, or of that pair less the padding that the row says the museum added.
"""

import collections
import json
import os
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent.parent))

from bench.adapters import museum_years

Pair = tuple[int | None, int | None] | None
Row = dict[str, Any]

FORMS = ("{y}", "c. {y}", "{y}-{z}", "c. {y}-{z}", "about {y}", "{d}s", "late {c}th century", "June {y}", "before {y}",
         "designed {y}, made {z}", "{y} or later", "George II, c. {y}")  # fmt: skip


def made_up() -> list[Row]:
    """Texts of the trade's forms, when no set is given."""
    return [
        {"text": form.format(y=year, z=year + 7, d=year - year % 10, c=year // 100 + 1)}
        for year in range(1500, 1950)
        for form in FORMS
    ]


def agrees(pair: Pair, row: Row) -> bool:
    """True when every end that the row states is met within a year."""
    if pair is None:
        return False
    ends = {"from": (0,), "to": (1,)}.get(row.get("open") or "", (0, 1))
    truths = [(row["from"], row["to"])]
    if row.get("pad"):
        truths.append((row["from"] + row["pad"][0], row["to"] - row["pad"][1]))
    return any(
        all((got := pair[i]) is not None and abs(got - truth[i]) <= 1 for i in ends) for truth in truths
    )


def by_edtf(text: str) -> Pair:
    """The `edtf` package: its reading of English, then its bounds."""
    import edtf

    written = edtf.text_to_edtf(text)
    if not written:
        return None
    parsed = edtf.parse_edtf(written)
    return parsed.lower_strict().tm_year, parsed.upper_strict().tm_year


def by_dateparser(text: str) -> Pair:
    """The `dateparser` package: one moment, so one year."""
    import dateparser

    found = dateparser.parse(text)
    return (found.year, found.year) if found else None


def by_undate(text: str) -> Pair:
    """The `undate` package, through its own parser of formats."""
    from undate import Undate

    found = Undate.parse(text, "EDTF")
    return int(found.earliest.year), int(found.latest.year)


READERS: dict[str, tuple[Callable[[str], Pair], int]] = {
    "planish": (museum_years, 1),
    "edtf": (by_edtf, 8),
    "dateparser": (by_dateparser, 40),
    "undate": (by_undate, 8),
}
"""Each reader with the share of the texts it is given (one in n), because some take milliseconds a text."""


def guarded(read: Callable[[str], Pair], text: str) -> Pair:
    """A library that raises on a text has not read it."""
    try:
        return read(text)
    except Exception:
        return None


def report(name: str, read: Callable[[str], Pair], rows: list[Row]) -> None:
    """Print one reader's rate and, where the rows have years, its agreement."""
    guarded(read, rows[0]["text"])
    start = time.process_time()
    pairs = [guarded(read, row["text"]) for row in rows]
    rate = len(rows) / max(1e-9, time.process_time() - start)
    known = [(row, pair) for row, pair in zip(rows, pairs, strict=True) if row.get("from") is not None]
    share = (
        f"{100 * sum(agrees(pair, row) for row, pair in known) / len(known):6.2f} %" if known else "      –"
    )
    print(f"{name:<12}{len(rows):>7} texts {rate:>12,.0f} a second   agree {share}")


def by_class(rows: list[Row]) -> None:
    """Print planish's agreement class by class, and how much of it hangs on shapes seen once only."""
    hits: dict[str, list[bool]] = collections.defaultdict(list)
    shapes: collections.Counter[str] = collections.Counter(row.get("shape", "") for row in rows)
    for row in rows:
        if row.get("from") is None:
            continue
        met = agrees(museum_years(row["text"]), row)
        hits[row.get("class", "all")].append(met)
        hits["shape seen once" if shapes[row.get("shape", "")] == 1 else "shape seen again"].append(met)
    for name, met in sorted(hits.items(), key=lambda item: -len(item[1])):
        print(f"  {name:<22}{len(met):>6}  {100 * sum(met) / len(met):6.2f} %")
    undated = [row for row in rows if row.get("class") == "undated"]
    if undated:
        left = sum(museum_years(row["text"]) is None for row in undated)
        print(f"  undated left alone    {len(undated):>6}  {100 * left / len(undated):6.2f} %")


def main() -> None:
    """Run every reader that is installed."""
    where = sys.argv[1] if len(sys.argv) > 1 else os.environ.get("PLANISH_DATE_ROWS", "")
    rows: list[Row] = made_up()
    if where:
        lines = Path(where).read_text(encoding="utf-8").splitlines()
        every = [json.loads(line) for line in lines if line.strip()]
        rows = [row for row in every if row.get("ok", True) and row.get("in_period", True)]
    for name, (read, one_in) in READERS.items():
        try:
            __import__(name)
        except ImportError:
            print(f"{name:<12} not installed")
            continue
        report(name, read, rows[::one_in])
    if where:
        by_class(rows)


if __name__ == "__main__":
    main()
