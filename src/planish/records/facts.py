"""A dated, sourced statement, and the witness who says so."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from planish.records.frozen import EMPTY, quick
from planish.records.years import Years

Verified = Literal["found", "memory", "derived", "practice"]
"""found: the source was read. memory: recalled, not read. derived: our arithmetic. practice: common, no source."""

Use = Literal["not_before", "not_after", "within", "info"]
Hardness = Literal["hard", "soft", "info"]
"""hard: a claim wholly outside is contradicted if the feature is genuine and original. soft: ask. info: background."""

Confidence = Literal["high", "medium", "low"]


@quick
@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Where a statement comes from. `seen` says where it was read when that was a copy or a quotation."""

    body: str
    title: str = ""
    year: str = ""
    where: str = ""
    seen: str = ""

    def __str__(self) -> str:
        return ", ".join(part for part in (self.body, self.title, self.year, self.where) if part)


@quick
@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One dated statement about things of a kind.

    `bounds` names the event that `years` bound (body_made, part_made, finish_applied, mark_struck, decorated,
    repair, label ...); a dated screw bounds the screw. `more` holds the extra values of one family
    (composition, density_g_cm3, pitch_mm ...), as the pack gives them.
    """

    id: str
    statement: str
    years: Years
    bounds: str
    use: Use
    hardness: Hardness
    source: Source
    verified: Verified
    confidence: Confidence = "medium"
    partly_memory: bool = False
    jurisdiction: str = ""
    family: str = ""
    caveats: tuple[str, ...] = ()
    also: tuple[Source, ...] = ()
    more: Mapping[str, object] = field(default_factory=lambda: EMPTY)
