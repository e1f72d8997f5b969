"""What a label claims: one checkable statement each, with the characters it was read from."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from planish.records.evidence import Event
from planish.records.frozen import EMPTY, quick
from planish.records.making import making_of
from planish.records.problems import Problem
from planish.records.years import Years

Side = Literal[
    "object",  # what the thing is
    "count",  # how many, and what holds them together: pair, set, garniture
    "date",  # years stated or implied, a bare period name included
    "place",
    "maker",
    "material",
    "surface",  # gilt, plated, tinned, lacquered, patinated
    "technique",
    "decoration",
    "mark",
    "inscription",
    "measure",
    "state",  # condition and disclosures
    "style",  # "in the ... style": no claim of date
    "provenance",
    "evidence",  # papers, literature, exhibition
    "price",
    "puff",  # original, unique, royal, rare: praise that needs support
]

Strength = Literal["stated", "likely", "possible", "open", "denied"]
"""stated: plain words. likely: probably, attributed. possible: possibly, '?'. open: unknown, unmarked. denied: 'not silver'."""

Slot = Literal["yes", "no", "open"]

Grain = Literal["year", "decade", "century", "period"]
"""How finely words date: a year or a range of years, a decade, a century or its part, a named period."""


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """Characters `start` (included) to `end` (not included) of the label's text."""

    start: int
    end: int


@quick
@dataclass(frozen=True, slots=True, kw_only=True)
class DateValue:
    """Years of one event. `core` is the narrower reading of a period name; `style` its word when one was used.

    `edtf` is the ISO 8601-2 form. `conventions` names the settings that turned the words into years
    (for example "circa=10"), so that a screen can print them. `written` holds the years as written, before padding.
    `grain` is how finely the words date; `said` the word that names the event ("cast", "dated"), empty when none does.
    """

    years: Years
    event: Event = "body_made"
    core: Years | None = None
    written: Years | None = None
    edtf: str = ""
    period: str = ""
    country: str = ""
    approximate: bool = False
    uncertain: bool = False
    conventions: tuple[str, ...] = ()
    fact: str = ""
    grain: Grain = "year"
    said: str = ""


@quick
@dataclass(frozen=True, slots=True, kw_only=True)
class MakerValue:
    """A name and what is claimed of it, in four slots, never a ladder.

    hand: by this person. workshop: from their shop. period: made in their time. copies: copies a known work of theirs.
    `qualifier` is the label's own qualifying word ("attributed to"); `role` maker, sponsor, retailer, designer, ...
    """

    name: str
    qualifier: str = ""
    role: str = "maker"
    hand: Slot = "open"
    workshop: Slot = "open"
    period: Slot = "open"
    copies: Slot = "open"


@quick
@dataclass(frozen=True, slots=True, kw_only=True)
class MeasureValue:
    """One measure in SI base of the trade: mm, g, ml. `role` height, width, depth, diameter, length, weight, capacity.

    `over` says what the measure was taken over ("handle"). `unit` as written. `readings` holds other sizes the same
    words can mean, each (amount, unit, what would tell them apart): an ounce is avoirdupois or troy.
    `same_as_written` lists the other unit's figure when the label gives one size twice.
    """

    role: str
    amount: float
    base_unit: Literal["mm", "g", "ml"]
    unit: str = ""
    as_written: str = ""
    over: str = ""
    approximate: bool = False
    readings: tuple[tuple[float, str, str], ...] = ()
    same_as_written: str = ""


@quick
@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredPart:
    """The measures of one part, gathered from a reading's claims; `part` is empty for the whole.

    Lengths in mm, weight in g, capacity in ml; None where the label gives none.
    """

    part: str = ""
    height_mm: float | None = None
    width_mm: float | None = None
    depth_mm: float | None = None
    diameter_mm: float | None = None
    length_mm: float | None = None
    weight_g: float | None = None
    capacity_ml: float | None = None


@quick
@dataclass(frozen=True, slots=True, kw_only=True)
class TermValue:
    """A word of the trade in its settled form: `term` "pewter", `kind` its class in the word pack, `more` extra fields."""

    term: str
    kind: str = ""
    more: Mapping[str, object] = field(default_factory=lambda: EMPTY)


ClaimValue = DateValue | MakerValue | MeasureValue | TermValue


@quick
@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """One checkable statement read from a label.

    `part` is the part spoken of ("cover", "handle"), empty for the whole. `words` are the label's own characters at
    `span`. `qualifier` is the hedge as written. `other` holds further readings of an ambiguous expression and
    `told_apart_by` what would decide between them.
    """

    id: str
    side: Side
    value: ClaimValue
    words: str
    span: Span
    part: str = ""
    qualifier: str = ""
    strength: Strength = "stated"
    other: tuple[ClaimValue, ...] = ()
    told_apart_by: str = ""


@dataclass(frozen=True, slots=True)
class Unread:
    """Characters nobody could make sense of: shown, never dropped."""

    words: str
    span: Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Conventions:
    """How this fair's rule book turns words into years. Defaults are house choices; each printed with the result.

    circa_years: years added on both sides of "c. 1760" (Object ID, Thornes 1999, suggests 10). circa_range_years: the same
    for "c. 1760-80". question_years: for "1760?". century_starts_at: 1 reads the 18th century as 1701-1800, 0 as 1700-1799.
    early/mid/late: parts of a century as (first, last) counted from its first year. turn_years: years either side of
    a "turn of the century". early/mid/late_decade: the same for decades. periods: name of the period table in the pack.
    beginning, end: parts of a century called so. hundreds: whether "the 1800s" are a century or a decade.
    dates_of: "object" dates the thing itself (made or cast beats designed), "work" the work that it carries out, as
    collections of prints, casts and photographs record it.
    """

    circa_years: int = 10
    circa_range_years: int = 10
    question_years: int = 0
    century_starts_at: Literal[0, 1] = 1
    early: tuple[int, int] = (0, 33)
    mid: tuple[int, int] = (33, 66)
    late: tuple[int, int] = (66, 99)
    early_decade: tuple[int, int] = (0, 3)
    mid_decade: tuple[int, int] = (3, 6)
    late_decade: tuple[int, int] = (6, 9)
    beginning: tuple[int, int] = (0, 15)
    end: tuple[int, int] = (85, 99)
    turn_years: int = 10
    circa_decade_years: int = 5
    circa_century_years: int = 10
    hundreds: Literal["century", "decade"] = "century"
    dates_of: Literal["object", "work"] = "object"
    periods: str = "trade"
    default_country: str = ""


@quick
@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """Everything read from one label text: claims in the order in which they stand, leftovers, problems."""

    text: str
    claims: tuple[Claim, ...] = ()
    unread: tuple[Unread, ...] = ()
    problems: tuple[Problem, ...] = ()
    conventions: Conventions = field(default_factory=Conventions)

    @property
    def years(self) -> Years:
        """Earliest and latest year of the making claimed by the main object; either may be None."""
        values = [
            c.value for c in self.claims if c.side == "date" and c.part == "" and c.strength != "denied"
        ]
        dates = [v for v in values if isinstance(v, DateValue)]
        return making_of(
            [(v.event, v.grain, v.said, v.years) for v in dates], dates_of=self.conventions.dates_of
        )

    @property
    def measures(self) -> tuple[MeasuredPart, ...]:
        """Measures by part, in the order in which they stand; a second size of one part opens a new entry."""
        return _gathered([(c.part, c.value) for c in self.claims if isinstance(c.value, MeasureValue)])

    @property
    def materials(self) -> tuple[str, ...]:
        """Words for what the object is made of, each followed by what is also true of it (sterling silver, silver).

        Materials denied ("not silver") and plated layers are left out.
        """
        return _terms(self.claims, "material")

    @property
    def object_types(self) -> tuple[str, ...]:
        """What the label says the thing is, each word followed by the wider ones it implies."""
        return _terms(self.claims, "object")


NOT_A_TYPE = frozenset({"form", "part", "mention"})
"""Kinds of object claims that do not say what the thing is: its shape, its parts, things spoken of later on."""


def _terms(claims: tuple[Claim, ...], side: Side) -> tuple[str, ...]:
    words: dict[str, None] = {}
    for claim in claims:
        value = claim.value
        if claim.side != side or claim.strength == "denied" or not isinstance(value, TermValue):
            continue
        if side == "object" and value.kind in NOT_A_TYPE:
            continue
        words[value.term] = None
        broader = value.more.get("is_a", ())
        words.update(dict.fromkeys(broader if isinstance(broader, tuple | list) else ()))
    return tuple(words)


_FIELDS = {"weight": "weight_g", "capacity": "capacity_ml"}


def _gathered(measures: list[tuple[str, MeasureValue]]) -> tuple[MeasuredPart, ...]:
    parts: list[tuple[str, dict[str, float]]] = []
    for part, value in measures:
        name = _FIELDS.get(value.role, f"{value.role}_mm")
        if name not in MeasuredPart.__dataclass_fields__:
            continue
        place = next((p for p in reversed(parts) if p[0] == part), None)
        if place is None or name in place[1]:
            place = (part, {})
            parts.append(place)
        place[1][name] = value.amount
    return tuple(MeasuredPart(part=part, **amounts) for part, amounts in parts)
