"""What was seen or measured: by whom, how, on which part. No conclusion."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from planish.records.frozen import EMPTY


@dataclass(frozen=True, slots=True)
class Quantity:
    """A figure with its standard uncertainty and unit (wt%, g, ml, mm, g/cm3, degC)."""

    amount: float
    unit: str
    uncertainty: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Observation:
    """One look at one part of one object.

    `kind` names the look: composition, size, weight, density, capacity, thread, mark, members, construction, wear,
    condition, disclosure, text. `values` are figures by name ("Zn", "pitch"); `words` what was seen, in words.
    `terms` are settled words of the discipline pack ("cond.repatination"). `spot`, `surface` and `instrument` say how.
    `about` is the event the look bears on when the specialist said so ("mark_struck", "part_made"); `original` is
    True only if a specialist has said that the feature is original to the object, None if nobody has said.
    """

    id: str
    object_id: str
    kind: str
    by: str
    part: str = ""
    values: Mapping[str, Quantity] = field(default_factory=lambda: EMPTY)
    words: str = ""
    terms: tuple[str, ...] = ()
    instrument: str = ""
    spot: str = ""
    surface: str = ""
    about: str = ""
    original: bool | None = None
    corrects: str = ""
    more: Mapping[str, object] = field(default_factory=lambda: EMPTY)
