"""A person's own data as a folder: `record.json` for programs, `record.html` to read, their pictures beside it."""

import json
import shutil
from dataclasses import asdict
from html import escape
from pathlib import Path
from typing import Any

from planish.errands.opening.refusing import refuse
from planish.errands.people.own_data import OwnData, OwnEntry

PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>{title}</title>
<style>body{{font:1rem/1.5 Georgia,serif;max-width:46rem;margin:2rem auto;padding:0 1rem;color:#222;background:#fff}}
h2{{font-size:1.05rem;margin:1.6rem 0 .2rem}}dl{{display:grid;grid-template-columns:max-content 1fr;gap:.1rem 1rem;margin:0}}
dt{{color:#555}}dd{{margin:0;overflow-wrap:anywhere}}p.s{{color:#555;margin:.1rem 0}}</style></head><body>
<h1>{title}</h1>
<p>{count} entries of the log. Written for this person; it holds what they wrote in confidence.</p>
<h2>What is not here, and why</h2><ul>{left}</ul>
{entries}
</body></html>
"""


def write(data: OwnData, target: Path, *, fair: Path) -> int:
    """Write the folder `target`, which must be new; gives how many pictures and papers were put in."""
    if target.exists():
        raise refuse(str(target), "It is there already.", "Name a new folder.")
    target.mkdir(parents=True)
    (target / "record.json").write_text(
        json.dumps(asdict(data), ensure_ascii=False, indent=1) + "\n", encoding="utf-8"
    )
    (target / "record.html").write_text(_page(data), encoding="utf-8")
    wanted = {digest for entry in data.entries for digest in entry.files}
    count = 0
    for where in ("pictures", "blobs"):
        for path in (fair / where).rglob("*"):
            if path.is_file() and path.name.partition(".")[0] in wanted:
                shutil.copyfile(path, target / f"{path.name.partition('.')[0]}.jpg")
                count += 1
    return count


def _page(data: OwnData) -> str:
    title = escape(f"{data.fair}: what is held about {data.name or data.person}")
    left = "".join(f"<li>{escape(line)}</li>" for line in data.left_out)
    return PAGE.format(
        title=title, count=len(data.entries), left=left, entries="\n".join(map(_section, data.entries))
    )


def _section(entry: OwnEntry) -> str:
    rows = [
        ("about", entry.sub),
        ("by", entry.by),
        *((name, _words(value)) for name, value in entry.fields.items()),
    ]
    rows += [(name, "deleted") for name in entry.deleted]
    rows += [("file", f"{digest}.jpg") for digest in entry.files]
    listed = "".join(f"<dt>{escape(name)}</dt><dd>{escape(str(value))}</dd>" for name, value in rows)
    return (
        f"<h2>{entry.n}. {escape(entry.kind)}</h2><p class=s>{escape(entry.at)}; {escape(entry.why)}. {escape(entry.about)}</p>"
        f"<dl>{listed}</dl>"
    )


def _words(value: Any) -> str:
    return value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
