"""Date reading beside general libraries, in one process on the same texts: rate, and agreement when a set is given.

    python bench/dates.py [rows.jsonl]      or      PLANISH_DATE_ROWS=rows.jsonl, or PLANISH_LABELS=folder with dates-*.jsonl

A row has `text`, `from`, `to` (null for none) and, if it likes, `id`, `class`, `domain`, `shape`, `ok`, `in_period`, `pad` and `open`.
With `shape` and `id` the settings are also chosen with whole shapes left out, and the most that any rule can reach is shown.
Without a set the rate is printed on texts made from the grammar's own forms. Agreement: both ends within a year of the
row's pair, or of that pair less the padding that the row says the museum added.
"""

import collections
import json
import os
import sys
import time
from collections.abc import Callable, Iterable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from bench.adapters import MUSEUM, WORDS, museum_years
from bench.date_ceiling import Pair, Row, agrees, most
from bench.date_conventions import Trials, differences
from planish.reasoning.reading.dates import read_date_text
from planish.records import Years

HOUSE_STYLE = frozenset(
    {
        "event_multi",
        "event_single",
        "century_part",
        "decade_part",
        "hundreds",
        "other",
        "period_name",
        "century_plus_year",
    }
)
"""Classes in which the house decides more than the text; all others are core."""
LARGE = 10

FORMS = ("{y}", "c. {y}", "{y}-{z}", "c. {y}-{z}", "about {y}", "{d}s", "late {c}th century", "June {y}", "before {y}",
         "designed {y}, made {z}", "{y} or later", "George II, c. {y}")  # fmt: skip


def made_up() -> list[Row]:
    """Texts of the trade's forms, when no set is given."""
    return [
        {"text": form.format(y=year, z=year + 7, d=year - year % 10, c=year // 100 + 1)}
        for year in range(1500, 1950)
        for form in FORMS
    ]


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


def with_claims(text: str) -> Pair:
    """planish once more, with every claim and its characters put together as well."""
    reading = read_date_text(text, words=WORDS, conventions=MUSEUM)
    return (reading.earliest, reading.latest) if reading.claims and reading.years != Years() else None


READERS: dict[str, tuple[str, Callable[[str], Pair], int]] = {
    "planish": ("planish", museum_years, 1),
    "with claims": ("planish", with_claims, 1),
    "edtf": ("edtf", by_edtf, 8),
    "dateparser": ("dateparser", by_dateparser, 40),
    "undate": ("undate", by_undate, 8),
}
"""Each reader with its package and the share of the texts it is given (one in n), because some take milliseconds a text."""


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
    known = [agrees(pair, row) for row, pair in zip(rows, pairs, strict=True) if row.get("from") is not None]
    print(f"{name:<12}{len(rows):>7} texts {rate:>12,.0f} a second   agree {share(known)} %")


Hits = dict[str, bool]


def share(hits: Iterable[bool]) -> str:
    """Per cent of hits, or a dash for none."""
    every = list(hits)
    return f"{100 * sum(every) / len(every):6.2f}" if every else "     –"


def by_class(rows: list[Row], columns: dict[str, Hits]) -> None:
    """Print agreement class by class, one column for each way of counting."""
    print("\n  agree, per cent       texts " + "".join(f"{name:>12}" for name in columns))
    groups: dict[str, list[Row]] = collections.defaultdict(list)
    for row in rows:
        for name in ("all", row.get("class", ""), row.get("domain", "") + " things"):
            groups[name].append(row)
        groups["core" if row.get("class") not in HOUSE_STYLE else "house style"].append(row)
    large = [name for name in {row.get("class", "") for row in rows} if len(groups[name]) >= LARGE]
    for name, same in sorted(groups.items(), key=lambda item: -len(item[1])):
        told = [share(hits[row["id"]] for row in same) for hits in columns.values()]
        print(f"  {name:<22}{len(same):>6}" + "".join(f"{one:>12}" for one in told))
    means = [
        sum(float(share(hits[row["id"]] for row in groups[name])) for name in large) / max(1, len(large))
        for hits in columns.values()
    ]
    print(f"  mean of {len(large):>2} classes     {LARGE:>3}+ " + "".join(f"{mean:>12.2f}" for mean in means))


def against_the_ceiling(rows: list[Row]) -> None:
    """planish as it stands, under settings chosen with whole shapes left out, and the most that one rule a shape can reach."""
    trials = Trials(rows)
    left_out, chosen = trials.left_out()
    shapes = collections.Counter(row["shape"] for row in rows)
    now = {row["id"]: trials.start[i] for i, row in enumerate(rows)}
    ceiling = most(rows)
    once = {row["id"]: (now if shapes[row["shape"]] == 1 else ceiling)[row["id"]] for row in rows}
    columns = {
        "planish": now,
        "left out": {row["id"]: left_out[i] for i, row in enumerate(rows)},
        "ceiling": ceiling,
        "as read": once,
    }
    by_class(rows, columns)
    print("  left out: settings chosen on four fifths of the shapes, counted on the fifth left out")
    for fold, conventions in enumerate(chosen, 1):
        print(f"    fold {fold}: {differences(conventions)}")
    print("  ceiling: the best single rule for each shape; a shape seen once is met")
    print("  as read: the same, but a shape seen once counts as planish reads it")


def undated(rows: list[Row]) -> None:
    """Print how many undated texts were left alone."""
    if rows:
        alone = share(museum_years(row["text"]) is None for row in rows)
        print(f"  undated left alone    {len(rows):>6}{alone:>12}")


def beside_the_labels() -> str:
    """The rows of dates in the folder of labels, so that one setting gives `make bench` every figure."""
    folder = os.environ.get("PLANISH_LABELS", "")
    rows = sorted(Path(folder).glob("dates-*.jsonl")) if folder else []
    return str(rows[0]) if rows else ""


def main() -> None:
    """Run every reader that is installed."""
    where = (
        sys.argv[1] if len(sys.argv) > 1 else os.environ.get("PLANISH_DATE_ROWS", "") or beside_the_labels()
    )
    rows: list[Row] = made_up()
    if where:
        lines = Path(where).read_text(encoding="utf-8").splitlines()
        every = [json.loads(line) for line in lines if line.strip()]
        rows = [row for row in every if row.get("ok", True) and row.get("in_period", True)]
    for name, (package, read, one_in) in READERS.items():
        try:
            __import__(package)
        except ImportError:
            print(f"{name:<12} not installed")
            continue
        report(name, read, rows[::one_in])
    dated = [row for row in rows if row.get("from") is not None and row.get("class") != "undated"]
    if where and all("shape" in row and "id" in row for row in dated):
        against_the_ceiling(dated)
    undated([row for row in rows if row.get("class") == "undated"])


if __name__ == "__main__":
    main()
