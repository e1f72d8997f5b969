"""Do names give materials? Counts the material claims that stand inside a maker's or owner's name of museum labels.

    python -m bench.names FOLDER          (or PLANISH_LABELS=FOLDER)

The folder holds labels-*.jsonl with the museum's own maker names beside each label; it is not part of planish. A maker's
name is looked for as the museum writes it; a credit line ("gift of", "collection of") is taken for an owner's name from
the next capital on, for as long as capitals follow.
"""

import json
import os
import re
import sys
from collections.abc import Iterator
from pathlib import Path

import planish

_OWNER = re.compile(
    r"(?:gift of|given by|bequest of|collection of|property of|owned by|presented to|made for|by descent to|from the collection of)"
    r" (?:the )?((?:[A-Z][\w.'’-]*|&|and|of|de|van|von)(?: (?:[A-Z][\w.'’-]*|&|and|of|de|van|von))*)",
    re.IGNORECASE,
)


def named(label: str, makers: list[str]) -> Iterator[tuple[int, int]]:
    """Characters of every maker's and owner's name found in `label`."""
    for name in makers:
        at = label.find(name) if len(name) > 3 else -1
        while at >= 0:
            yield at, at + len(name)
            at = label.find(name, at + 1)
    for match in _OWNER.finditer(label):
        if match[1][:1].isupper():
            yield match.span(1)


def makers_of(row: dict[str, object]) -> list[str]:
    """The museum's maker names of one row, whatever form they have there."""
    truth = row.get("truth")
    given = truth.get("maker", ()) if isinstance(truth, dict) else ()
    many = given if isinstance(given, list) else [given]
    return [str(one.get("name", "") if isinstance(one, dict) else one or "") for one in many]


def main() -> None:
    """Print how many names there were, and every material claimed from one."""
    folder = Path(sys.argv[1] if len(sys.argv) > 1 else os.environ.get("PLANISH_LABELS", ""))
    rows = [
        json.loads(line)
        for path in sorted(folder.glob("labels-*.jsonl"))
        for line in path.open(encoding="utf-8")
    ]
    if not rows:
        sys.exit("Give the folder with labels-*.jsonl, or set PLANISH_LABELS.")
    names = wrong = materials = 0
    for row in rows:
        label = str(row["label"])
        spans = list(named(label, makers_of(row)))
        names += len(spans)
        for claim in planish.read_label(label).claims:
            if claim.side not in ("material", "surface"):
                continue
            materials += 1
            if any(a <= claim.span.start and claim.span.end <= b for a, b in spans):
                wrong += 1
                print(f"{claim.words!r} in {label[max(0, claim.span.start - 40) : claim.span.end + 40]!r}")
    print(
        f"{len(rows)} labels, {names} names, {materials} materials claimed, {wrong} of them from a name ({wrong / max(1, materials):.2%})"
    )


if __name__ == "__main__":
    main()
