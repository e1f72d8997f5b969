"""Papers as PDF: records in, bytes out. User text travels as JSON data, never as markup, so nothing in it can act."""

import dataclasses
import json
from collections.abc import Mapping, Sequence
from datetime import datetime
from functools import cache
from importlib.resources import as_file, files
from typing import Any

from planish.doors.papers.qr import draw
from planish.records.papers import (
    AppealBundle,
    LabelCard,
    OpenCase,
    Receipt,
    Report,
    Slip,
    StandSheet,
    WordingLine,
)

STANDARDS: Any = ["ua-1", "a-2a"]
"""Tagged for screen readers and fit for keeping; the printer's own word, no independent checker was to be had."""


def labels(cards: Sequence[LabelCard], *, made: datetime, title: str = "Labels") -> bytes:
    """Label cards, eight 90 × 60 mm cards a sheet of A4, with cut marks; sealed ones with their code, 25 to 40 mm wide."""
    return _pdf("labels", {"title": title, "cards": [_card(card) for card in cards]}, made)


def _card(card: LabelCard) -> dict[str, Any]:
    drawn = draw(card.code) if card.code else None
    side = {"svg": drawn.svg, "mm": drawn.side_mm} if drawn else {"svg": "", "mm": 0}
    return {**_plain(card), **side}


def recovery_sheets(sheets: Sequence[object], *, fair: str, made: datetime) -> bytes:
    """The sheets of words that open the fair's keys, one a page."""
    return _pdf("recovery_sheets", {"title": "Recovery sheets", "fair": fair, "sheets": sheets}, made)


def slips(items: Sequence[Slip], *, fair: str, made: datetime) -> bytes:
    """Slips for exhibitors: reasons about the object, clause, appeal time; no names, no counts."""
    return _pdf("slips", {"title": "Slips", "fair": fair, "slips": items}, made)


def stand_sheets(sheets: Sequence[StandSheet], *, fair: str, made: datetime) -> bytes:
    """Stand sheets to carry round, with room for marks by hand."""
    return _pdf("stand_sheets", {"title": "Stand sheets", "fair": fair, "sheets": sheets}, made)


def wording(lines: Sequence[WordingLine], *, fair: str, made: datetime) -> bytes:
    """Wording sheets: changed words marked, two signatures."""
    return _pdf("wording", {"title": "Wording sheet", "fair": fair, "lines": lines}, made)


def receipts(items: Sequence[Receipt], *, fair: str, made: datetime) -> bytes:
    """Receipts for objects taken off the floor."""
    return _pdf("receipts", {"title": "Receipts", "fair": fair, "receipts": items}, made)


def open_cases(cases: Sequence[OpenCase], *, fair: str, made: datetime) -> bytes:
    """The list of what is not settled."""
    return _pdf("open_cases", {"title": "Open cases", "fair": fair, "cases": cases}, made)


def appeal(bundle: AppealBundle, *, made: datetime) -> bytes:
    """What an appeals panel reads of one object: no ballot, no count, no name of the first panel."""
    return _pdf("appeal", {"title": f"Appeal: {bundle.number}", "fair": bundle.fair, "bundle": bundle}, made)


def report(item: Report, *, made: datetime) -> bytes:
    """The end-of-fair report with year ribbons."""
    return _pdf("report", {"title": f"{item.fair}: report", "report": item}, made)


def rehearsal(sheet: object, *, made: datetime) -> bytes:
    """What a check at home found (`papers.rehearsal.Sheet`)."""
    return _pdf("rehearsal", {"title": "Labels checked", "sheet": sheet}, made)


def _pdf(template: str, data: Mapping[str, Any], made: datetime) -> bytes:
    """Compile one template. `made` goes into the file so that the same data gives the same bytes."""
    import typst

    with as_file(files("planish.doors.papers") / "templates") as folder:
        made_pdf: bytes = typst.compile(
            str(folder / f"{template}.typ"),
            root=str(folder),
            ignore_system_fonts=True,
            format="pdf",
            sys_inputs={"data": json.dumps(data, default=_plain, ensure_ascii=False)},
            pdf_standards=STANDARDS,
            timestamp=int(made.timestamp()),
        )
    return made_pdf


def _plain(value: object) -> dict[str, Any]:
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: getattr(value, f.name) for f in _fields(type(value))}
    raise TypeError(f"{type(value).__name__} does not belong on paper")


@cache
def _fields(kind: type) -> tuple[Any, ...]:
    return dataclasses.fields(kind)
