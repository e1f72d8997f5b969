"""Figures of the label reader on a folder of museum texts: sizes, materials, whole labels, reading time.

    python -m bench.labels FOLDER          (or PLANISH_LABELS=FOLDER)

The folder holds dimensions-*.jsonl, media-*.jsonl, labels-*.jsonl and score.py; it is not part of planish. On sizes
quantulum3 runs beside it in the same process, when it is installed.
"""

import importlib.util
import os
import re
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path
from types import ModuleType, SimpleNamespace
from typing import Any

import planish
from bench.adapters import MUSEUM
from bench.check import labels
from planish.records import MeasuredPart, Reading

LENGTHS = ("height_mm", "width_mm", "depth_mm", "diameter_mm", "length_mm")


ROW_ORDER = {
    "framed": 0,
    "with fringe": 0,
    "image": 1,
    "": 2,
    "sheet": 3,
    "base": 7,
    "rim": 8,
    "plate": 8,
    "frame": 9,
}


def sizes(text: str) -> list[dict[str, float]]:
    """Sizes as the museums' columns have them: a length stands in the height column when no height is given.

    Only the first row is compared by role, and museums list the rows in an order of their own: so do we here.
    """
    return rows_of(planish.read_label(text))


def _row(part: MeasuredPart) -> int:
    lettered = part.part[1:2] in ("", " ") and part.part != ""
    return 1 if lettered else ROW_ORDER.get(part.part, 4)


def rows_of(reading: Reading) -> list[dict[str, float]]:
    """One row a part, in the museums' order."""
    rows = []
    for part in sorted(reading.measures, key=_row):
        row = {name: value for name in LENGTHS if (value := getattr(part, name)) is not None}
        if "length_mm" in row and "height_mm" not in row:
            row["height_mm"] = row.pop("length_mm")
        elif "length_mm" in row and "depth_mm" not in row:
            row["depth_mm" if "width_mm" in row else "width_mm"] = row.pop("length_mm")
        if row:
            rows.append(row)
    return rows


def materials(text: str) -> list[str]:
    """Material words of a medium line."""
    return list(planish.read_label(text).materials)


def taken_apart(terms: list[str]) -> list[str]:
    """Index terms of one object; some records hold several terms in one, with a bar or a comma between."""
    return list(
        dict.fromkeys(one.strip() for term in terms for one in re.split(r"[|,]", term) if one.strip())
    )


def whole(text: str) -> dict[str, Any]:
    """Years, materials, sizes and object types of a whole label. Circa is left unpadded: the museums widen it by anything
    from 1 to 30 years, and the scorer takes the years as written for agreement as well."""
    reading = planish.read_label(text, MUSEUM)
    return {
        "from": reading.years.earliest,
        "to": reading.years.latest,
        "materials": list(reading.materials),
        "dims": rows_of(reading),
        "object_types": list(reading.object_types),
    }


def quantities(text: str) -> list[float]:
    """The same sizes by quantulum3, in mm."""
    from quantulum3 import parser

    in_mm = {"inch": 25.4, "centimetre": 10.0, "millimetre": 1.0, "metre": 1000.0, "foot": 304.8}
    return [q.value * in_mm[q.unit.name] for q in parser.parse(text) if q.unit.name in in_mm]


def _scorer(folder: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location("scorer", folder / "score.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def _run(scorer: ModuleType, task: str, function: Callable[[str], Any], rows: list[Any], title: str) -> None:
    runner = scorer.Call.__new__(scorer.Call)
    runner.f, runner.load_s = function, 0.0
    settings = SimpleNamespace(suspect=False, unseen=False, domain=None, source=None, limit=None, long=False)
    print(f"== {title}: {len(rows)} rows")
    getattr(scorer, f"score_{task}")(rows, runner, settings)


def reading_time(texts: list[str], at_least: int = 100) -> None:
    """Time for one label of `at_least` to 400 characters, the middle and the best of nine rounds, and labels a second."""
    usual = [text for text in texts if at_least <= len(text) <= 400]
    rounds = []
    for text in usual:
        planish.read_label(text)
    for _ in range(9):
        begin = time.process_time()
        for text in usual:
            planish.read_label(text)
        rounds.append((time.process_time() - begin) / len(usual))
    middle = statistics.median(rounds)
    characters = sum(map(len, usual)) / len(usual)
    print(
        f"== reading time: {middle * 1e6:.0f} µs for a label of {characters:.0f} characters, {1 / middle:.0f} labels a second "
        f"(best round {1 / min(rounds):.0f})"
    )


def main() -> None:
    """Print every figure; without a folder of texts only the reading time, on the labels of the cases."""
    given = [word for word in sys.argv[1:] if not word.startswith("--")]
    folder = Path(given[0] if given else os.environ.get("PLANISH_LABELS", ""))
    if not (folder / "score.py").is_file():
        print("no folder of texts given (PLANISH_LABELS): reading time on the invented labels of tests/cases")
        reading_time(labels(), at_least=0)
        return
    scorer = _scorer(folder)
    rows = {
        kind: scorer.load(sorted(folder.glob(f"{kind}-*.jsonl")))
        for kind in ("dimensions", "media", "labels")
    }
    _run(scorer, "dims", sizes, rows["dimensions"], "sizes")
    if importlib.util.find_spec("quantulum3") is not None and "--alone" not in sys.argv:
        _run(scorer, "dims", quantities, rows["dimensions"], "sizes, by quantulum3")
    _run(scorer, "media", materials, rows["media"], "materials")
    apart = [{**row, "materials_in_text": taken_apart(row["materials_in_text"])} for row in rows["media"]]
    _run(scorer, "media", materials, apart, "materials, joined index terms (ink | watercolor) taken apart")
    _run(scorer, "labels", whole, rows["labels"], "whole labels")
    reading_time([row["label"] for row in rows["labels"]])


if __name__ == "__main__":
    main()
