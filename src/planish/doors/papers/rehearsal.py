"""What a check found, for an exhibitor at home: as a spreadsheet with comments, a page, a paper."""

import html
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from planish.doors.papers import printing
from planish.doors.papers.tables import xlsx_table
from planish.errands.opening.wiring import Kit
from planish.errands.panel.checking import Checked, Fault, facts_of, suggested
from planish.errands.telling.recalling import witness
from planish.records import Conventions, Fact

SEVERITY = {1: "off the floor", 2: "before opening", 3: "today", 4: "advice"}
ASKS = "a question, before opening"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mended:
    """One fault of one label: how bad, what is wrong, the way out, its clause; or a question. `sources` are the grounds:
    what is known, and where that comes from."""

    severity: int
    sentence: str
    remedy: str
    clause: str
    sources: tuple[str, ...]
    asks: bool = False

    @property
    def how_soon(self) -> str:
        """How bad it is, in words."""
        return (ASKS if self.asks else SEVERITY[self.severity]).capitalize()


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One label and its faults; `years` as understood, `unread` what nobody could read, `suggested` the label with the
    words that the remedies give, empty when they give none."""

    number: str
    words: str
    years: str
    unread: tuple[str, ...]
    faults: tuple[Mended, ...]
    suggested: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A whole check: lines, the rule book, and how words became years."""

    title: str
    rules: str
    conventions: str
    lines: tuple[Line, ...]
    counted: str = ""


def sheet(checked: Sequence[Checked], kit: Kit, *, limit: int, title: str) -> Sheet:
    """Everything found, faults up to severity `limit`."""
    lines = tuple(_line(one, kit, limit) for one in checked)
    return Sheet(
        title=title,
        rules=f"{kit.rules.fair}, rule book {kit.rules.id} {kit.rules.version}",
        conventions=conventions_in_words(kit.rules.conventions),
        lines=lines,
        counted=_counted(lines),
    )


def _counted(lines: Sequence[Line]) -> str:
    """How many labels, how many to mend and how soon."""
    touched = sum(1 for line in lines if line.faults)
    counts = Counter(fault.how_soon for line in lines for fault in line.faults)
    order = [*(SEVERITY[n].capitalize() for n in sorted(SEVERITY)), ASKS.capitalize()]
    soon = "; ".join(f"{name.lower()}: {counts[name]}" for name in order if counts[name])
    labels = "1 label" if len(lines) == 1 else f"{len(lines)} labels"
    return f"{labels} checked, {touched} to mend{f' ({soon})' if soon else ''}."


def conventions_in_words(conventions: Conventions) -> str:
    """How this rule book turned words into years: house choices, printed with every result."""
    return (
        f"Read with “c.” as ± {conventions.circa_years} years and centuries from year "
        f"{conventions.century_starts_at} of the hundred; both are settings of the rule book."
    )


def _line(one: Checked, kit: Kit, limit: int) -> Line:
    known = {fact.id: fact for fact in facts_of(one, kit)}
    years = one.reading.years
    return Line(
        number=one.listed.number or one.listed.id,
        words=one.listed.text,
        years=""
        if years.earliest is None and years.latest is None
        else f"{years.earliest or '…'}–{years.latest or '…'}",
        unread=tuple(left.words for left in one.reading.unread),
        faults=tuple(_mended(fault, known) for fault in one.faults if fault.severity <= limit),
        suggested=suggested(one, kit),
    )


_GROUNDS = re.compile(r" \[[\w.-]+; [^\]]*\]")


def _mended(fault: Fault, known: Mapping[str, Fact]) -> Mended:
    """What is wrong in one breath: the ways out and the grounds stand beside it and are not said twice."""
    gist, parted, _ = fault.sentence.partition(". Either ")
    sentence = _GROUNDS.sub("", f"{gist}." if parted else gist)
    return Mended(
        severity=fault.severity,
        sentence=sentence,
        remedy=fault.remedy,
        clause=fault.clause,
        sources=tuple(_grounds(known[fact], sentence) for fact in fault.facts if fact in known),
        asks=fault.asks,
    )


def _grounds(fact: Fact, said: str) -> str:
    statement = "" if fact.statement in said else f"{fact.statement} "
    return f"{statement}Source: {fact.source} ({witness(fact)})."


def as_xlsx(content: Sheet) -> bytes:
    """A workbook: number, label, what to mend, suggested words, years understood. A label to mend is tinted and bears
    what to mend as a comment as well."""
    rows: list[tuple[str, ...]] = []
    notes: dict[tuple[int, int], str] = {}
    for line in content.lines:
        mend = "\n".join(_in_words(fault) for fault in line.faults)
        if line.faults:
            notes[len(rows), 1] = mend[:2000]
        rows.append((line.number, line.words, mend or "Nothing to mend.", line.suggested, line.years))
    rows += [(), *(("", words) for words in (content.counted, content.rules, content.conventions))]
    columns = [name for name, _ in COLUMNS]
    return xlsx_table(columns, rows, sheet="Labels", widths=[width for _, width in COLUMNS], notes=notes)


COLUMNS = (("No.", 8), ("Label", 46), ("To mend", 74), ("Suggested words", 44), ("Years understood", 16))
"""Columns of the workbook, each with its width in characters."""


def _in_words(fault: Mended) -> str:
    clause = f" Clause {fault.clause}." if fault.clause else ""
    return f"{fault.how_soon}: {fault.sentence} {fault.remedy}{clause}".strip()


STYLE = """body{font:18px/1.5 Georgia,serif;color:#1d1a16;background:#fffdf8;max-width:46rem;margin:2rem auto;padding:0 1rem}
article{border-top:1px solid #b9ae9c;padding:.6rem 0;break-inside:avoid}h2{font-size:1rem;margin:.2rem 0;color:#5c554b}
p{margin:.3rem 0}ul{margin:.3rem 0;padding-left:1.2rem}li{margin:.4rem 0}.label{font-size:1.1em}
.way{display:block;padding-left:1.4em;text-indent:-1.4em}.way::before{content:"→ "}.src{color:#5c554b;font-size:.82em;display:block}
.sound{color:#5c554b}.new{border-left:4px solid #3e7d71;padding-left:.7rem}b{font-weight:700}"""


def as_html(content: Sheet) -> bytes:
    """One page without anything from elsewhere; every word of the list is text, never markup."""
    parts = [
        "<!doctype html><html lang=en><meta charset=utf-8>",
        '<meta name=viewport content="width=device-width,initial-scale=1">',
        f"<title>{html.escape(content.title)}: checked</title><style>{STYLE}</style>",
        f"<h1>{html.escape(content.title)}</h1><p><b>{html.escape(content.counted)}</b></p>",
        f"<p>{html.escape(content.rules)}. {html.escape(content.conventions)}</p>",
    ]
    for line in content.lines:
        faults = "".join(_fault_html(fault) for fault in line.faults)
        said = f"<ul>{faults}</ul>" if faults else "<p class=sound>Nothing to mend.</p>"
        if line.suggested:
            said += f"<p class=new>Suggested words: <q>{html.escape(line.suggested)}</q></p>"
        parts.append(
            f"<article><h2>No. {html.escape(line.number)}</h2><p class=label>{html.escape(line.words)}</p>{said}</article>"
        )
    return "".join(parts).encode("utf-8")


def _fault_html(fault: Mended) -> str:
    sources = "".join(f"<span class=src>{html.escape(source)}</span>" for source in fault.sources)
    clause = f" (clause {html.escape(fault.clause)})" if fault.clause else ""
    return (
        f"<li><b>{fault.how_soon}.</b> {html.escape(fault.sentence)}{clause}"
        f"<span class=way>{html.escape(fault.remedy)}</span>{sources}</li>"
    )


def as_pdf(content: Sheet, made: datetime) -> bytes:
    """The same as a paper."""
    return printing.rehearsal(content, made=made)
