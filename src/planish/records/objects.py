"""Objects as listed, their labels, parts, and the five axes of where each stands."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from planish.records.frozen import EMPTY

LabelStage = Literal["draft", "as_hung", "asked", "agreed", "printed", "checked", "sealed", "superseded"]
Examination = Literal[
    "listed",
    "presented",
    "examining",
    "opinions_in",
    "proposed",
    "confirmed",
    "final",
    "unlisted",
    "not_found",
    "not_seen",
    "paper_due",
    "referred",
    "withdrawn",
    "under_appeal",
    "reopened",
]
Whereabouts = Literal["exhibitor", "stand", "table", "laboratory", "safe_keeping", "sold_store", "left_hall"]
Trade = Literal["for_sale", "not_for_sale", "on_loan", "reserved", "sold", "sold_subject"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RawRow:
    """One row as it came: file, sheet, row number (1-based), and every cell as text by column heading. Always kept.

    `kind` says what the row was taken for: blank, title, heading, section, total, continued, note or object.
    """

    file: str
    sheet: str = ""
    row: int = 0
    cells: Mapping[str, str] = field(default_factory=lambda: EMPTY)
    file_digest: str = ""
    kind: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """One version of an object's words. `lines` are the words as hung; `text` joins them."""

    object_id: str
    version: int
    text: str
    stage: LabelStage = "as_hung"
    price: str = ""
    language: str = "en"


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedObject:
    """One object on one stand's list. `fields` are the guessed columns (title, date, maker, material, measures, ...).

    `number` is the exhibitor's stock number as written. `content` is a digest of the words, for stock renumbered.
    """

    id: str
    stand: str
    number: str
    text: str
    fields: Mapping[str, str] = field(default_factory=lambda: EMPTY)
    price: str = ""
    content: str = ""
    raw: RawRow | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part of an object: body, cover, hinge pin, nozzle. `within` is the part it belongs to ("" for the whole)."""

    name: str
    within: str = ""
    members: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """Where one object stands on the five axes. Never one status field; the public answer is derived."""

    object_id: str
    examination: Examination = "listed"
    label: LabelStage = "draft"
    label_version: int = 0
    whereabouts: Whereabouts = "exhibitor"
    place: str = ""
    trade: Trade = "for_sale"
    holds: tuple[str, ...] = ()
    outcome: str = ""
    disciplines: tuple[str, ...] = ()
