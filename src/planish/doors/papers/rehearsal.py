"""What a check found, for an exhibitor at home: as a spreadsheet with comments, a page, a paper."""

import html
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from planish.doors.papers import printing
from planish.doors.papers.tables import xlsx_table
from planish.errands.checking import Checked, facts_of
from planish.errands.recalling import witness
from planish.errands.wiring import Kit
from planish.records import Conventions

SEVERITY = {1: "off the floor", 2: "before opening", 3: "today", 4: "advice"}
ASKS = "a question, before opening"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mended:
    """One fault of one label: how bad, the sentence, the way out, its clause and the sources it leans on; or a question."""

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
    """One label and its faults; `years` as understood, `unread` what nobody could read."""

    number: str
    words: str
    years: str
    unread: tuple[str, ...]
    faults: tuple[Mended, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A whole check: lines, the rule book, and how words became years."""

    title: str
    rules: str
    conventions: str
    lines: tuple[Line, ...]


def sheet(checked: Sequence[Checked], kit: Kit, *, limit: int, title: str) -> Sheet:
    """Everything found, faults up to severity `limit`."""
    return Sheet(
        title=title,
        rules=f"{kit.rules.fair}, rule book {kit.rules.id} {kit.rules.version}",
        conventions=conventions_in_words(kit.rules.conventions),
        lines=tuple(_line(one, kit, limit) for one in checked),
    )


def conventions_in_words(conventions: Conventions) -> str:
    """How this rule book turned words into years: house choices, printed with every result."""
    return (
        f"Read with “c.” as ± {conventions.circa_years} years and centuries from year "
        f"{conventions.century_starts_at} of the hundred; both are settings of the rule book."
    )


def _line(one: Checked, kit: Kit, limit: int) -> Line:
    sources = {fact.id: f"{fact.source} ({witness(fact)})" for fact in facts_of(one, kit)}
    years = one.reading.years
    return Line(
        number=one.listed.number or one.listed.id,
        words=one.listed.text,
        years=""
        if years.earliest is None and years.latest is None
        else f"{years.earliest or '…'}–{years.latest or '…'}",
        unread=tuple(left.words for left in one.reading.unread),
        faults=tuple(
            Mended(
                severity=fault.severity,
                sentence=fault.sentence,
                remedy=fault.remedy,
                clause=fault.clause,
                sources=tuple(sources[fact] for fact in fault.facts if fact in sources),
                asks=fault.asks,
            )
            for fault in one.faults
            if fault.severity <= limit
        ),
    )


def as_xlsx(content: Sheet) -> bytes:
    """A workbook: number, label, years understood, what to mend; each label with faults bears them as a comment."""
    rows: list[tuple[str, ...]] = []
    notes: dict[tuple[int, int], str] = {}
    for line in content.lines:
        mend = "\n".join(_in_words(fault) for fault in line.faults)
        clauses = ", ".join(dict.fromkeys(fault.clause for fault in line.faults if fault.clause))
        if line.faults:
            notes[len(rows), 1] = mend[:2000]
        rows.append((line.number, line.words, line.years, mend, clauses))
    rows += [(), (content.rules,), (content.conventions,)]
    columns = ("No.", "Label", "Years understood", "To mend", "Clauses")
    return xlsx_table(columns, rows, sheet="Labels", widths=(10, 60, 18, 70, 12), notes=notes)


def _in_words(fault: Mended) -> str:
    clause = f" Clause {fault.clause}." if fault.clause else ""
    return f"{fault.how_soon}: {fault.sentence} {fault.remedy}{clause}".strip()


STYLE = """body{font:18px/1.5 Georgia,serif;color:#1d1a16;background:#fffdf8;max-width:60rem;margin:2rem auto;padding:0 1rem}
article{border-top:1px solid #b9ae9c;padding:.8rem 0}h2{font-size:1.05rem;margin:.2rem 0}ul{margin:.3rem 0}
.way{display:block}.src{color:#5c554b;font-size:.85em;display:block}.sound{color:#5c554b}b{font-weight:700}"""


def as_html(content: Sheet) -> bytes:
    """One page without anything from elsewhere; every word of the list is text, never markup."""
    parts = [
        "<!doctype html><html lang=en><meta charset=utf-8>",
        '<meta name=viewport content="width=device-width,initial-scale=1">',
        f"<title>{html.escape(content.title)}: checked</title><style>{STYLE}</style>",
        f"<h1>{html.escape(content.title)}</h1><p>{html.escape(content.rules)}. {html.escape(content.conventions)}</p>",
    ]
    for line in content.lines:
        faults = "".join(_fault_html(fault) for fault in line.faults)
        said = f"<ul>{faults}</ul>" if faults else "<p class=sound>Nothing to mend.</p>"
        parts.append(
            f"<article><h2>No. {html.escape(line.number)}</h2><p>{html.escape(line.words)}</p>{said}</article>"
        )
    return "".join(parts).encode("utf-8")


def _fault_html(fault: Mended) -> str:
    sources = "".join(f"<span class=src>Source: {html.escape(source)}</span>" for source in fault.sources)
    clause = f" (clause {html.escape(fault.clause)})" if fault.clause else ""
    return (
        f"<li><b>{fault.how_soon}.</b> {html.escape(fault.sentence)}{clause}"
        f"<span class=way>{html.escape(fault.remedy)}</span>{sources}</li>"
    )


def as_pdf(content: Sheet, made: datetime) -> bytes:
    """The same as a paper."""
    return printing.rehearsal(content, made=made)
