"""Rows read per second for each form of list, and how long a list of 40,000 rows takes. Run: python -m bench.lists"""

import io
import json
import time
from collections.abc import Callable

import openpyxl

from planish.doors.papers.lists import compare_lists, read_list, read_list_safely
from planish.doors.papers.tables import csv_table, xlsx_table

HEADINGS = ["Stock No", "Description", "Date", "Height cm", "Price"]


def rows(count: int) -> list[list[str | int | float]]:
    """Invented stock, every row with other words."""
    return [
        [f"A{n}", f"Brass candlestick no. {n} with a petal base and a knopped stem", f"c.{1700 + n % 100}", 15 + n % 12 + 0.5, 90 + n]
        for n in range(count)
    ]  # fmt: skip


def files(count: int) -> dict[str, bytes]:
    """The same stock in each form that can be written quickly."""
    table = rows(count)
    typed = "\n".join(
        f"{n}. {row[1]}, English, {row[2]} ........ £{row[4]}" for n, row in enumerate(table, 1)
    )
    lines = "\n".join(json.dumps(dict(zip(HEADINGS, row, strict=True))) for row in table)
    return {
        "list.csv": csv_table(HEADINGS, table),
        "list.tsv": csv_table(HEADINGS, table, delimiter="\t"),
        "list.xlsx": xlsx_table(HEADINGS, table),
        "list.jsonl": lines.encode(),
        "list.txt": typed.encode(),
    }


def timed(work: Callable[[], object]) -> float:
    """Seconds that `work` takes once."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def main() -> None:
    """Print a table of rates."""
    read_list(csv_table(HEADINGS, rows(5)), "warm.csv")
    print(f"{'form':<12}{'rows':>8}{'seconds':>10}{'rows/s':>10}")
    for count in (4_000, 40_000):
        for name, data in files(count).items():
            seconds = timed(lambda data=data, name=name: read_list(data, name))  # type: ignore[misc]
            print(f"{name:<12}{count:>8}{seconds:>10.2f}{count / seconds:>10.0f}")
    data = files(40_000)["list.csv"]
    print(
        f"the same CSV in a child process: {timed(lambda: read_list_safely(data, 'list.csv')):.2f} s for 40000 rows"
    )
    raw = files(40_000)["list.xlsx"]
    print(f"openpyxl alone, words only, 40000 rows: {timed(lambda: _openpyxl(raw)):.2f} s")
    taken = read_list(data, "list.csv")
    print(
        f"comparing 40000 objects with the same list: {timed(lambda: compare_lists(taken.objects, taken)):.2f} s"
    )


def _openpyxl(data: bytes) -> None:
    page = openpyxl.load_workbook(io.BytesIO(data), read_only=True).active
    for _row in page.iter_rows(values_only=True):
        pass


if __name__ == "__main__":
    main()
