"""What a kind of event is made of: its fields, its conflict rule, who may write it."""

from dataclasses import dataclass

PANEL = ("member", "leader", "chair", "deputy")
LEAD = ("leader", "chair", "deputy")
CHAIR = ("chair", "deputy")
OFFICE = ("office", "chair", "deputy")
FLOOR = (*PANEL, "scribe", "steward", "laboratory", "office")
ROLES = (
    "office",
    "chair",
    "deputy",
    "leader",
    "member",
    "scribe",
    "steward",
    "exhibitor",
    "laboratory",
    "appeals",
)
ROLES_ALL = (*ROLES, "admin", "auditor")


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One body field: what it holds, whether it may be absent, whether it is kept apart as an opening."""

    name: str
    about: str
    optional: bool = False
    private: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One kind of event in its newest version.

    `compares`: the key whose last event must be `base`, else the event is stale. `sets`: the key it becomes the last
    event of. `once`: the key must be unset. `roles`: who may (nobody named: anybody known). `desk_only`: irreversible,
    so only at the desk. `second`: a second person must be named in the body field `second`.
    """

    name: str
    about: str
    sub: str
    fields: tuple[Field, ...] = ()
    version: int = 1
    compares: str = ""
    sets: str = ""
    once: str = ""
    roles: tuple[str, ...] = ()
    desk_only: bool = False
    second: bool = False

    @property
    def word(self) -> str:
        """The kind as it stands in the log: "object.listed/1"."""
        return f"{self.name}/{self.version}"

    @property
    def private(self) -> frozenset[str]:
        """Names of the fields that are kept apart."""
        return frozenset(item.name for item in self.fields if item.private)


def plain(name: str, about: str) -> Field:
    return Field(name=name.rstrip("?"), about=about, optional=name.endswith("?"))


def private(name: str, about: str) -> Field:
    return Field(name=name.rstrip("?"), about=about, optional=name.endswith("?"), private=True)


LABEL = "label:{sub}"
EXAM = "exam:{sub}"
VERSION = plain("version", "number of the label version this is about, from 1")
SECOND = plain("second", "id of the second person who agreed; not the writer")
NOTE = private("note?", "free words")
REASON = private("reason", "why, about the object")

_WHOLE = ("round", "version", "needs", "rows", "objects", "copies", "ms", "n")
_LISTS = ("members", "disciplines", "stands", "others", "terms", "clauses", "ids")
_NAMED = ("values", "mapping", "counts", "facts")
_YES_NO = ("off_floor", "paper", "ask", "original")


def well_formed(kind: Kind, name: str, value: object) -> bool:
    """True when a plain field's value is of the sort its name promises: text unless listed above."""
    if kind.name == "rulebook.adopted" and name == "version":
        return isinstance(value, (str, int))
    if name in _WHOLE:
        return isinstance(value, int) and not isinstance(value, bool)
    if name in _LISTS:
        return isinstance(value, list) and all(isinstance(item, str) for item in value)
    if name == "values" and kind.name.startswith("observation."):
        return isinstance(value, dict) and all(_quantity(one) for one in value.values())
    if name in _NAMED:
        return isinstance(value, dict)
    if name in _YES_NO:
        return value is None or isinstance(value, bool)
    return isinstance(value, (int, float) if name == "alike" else str)


def _quantity(value: object) -> bool:
    """[amount, unit] or [amount, unit, standard uncertainty]."""
    if not isinstance(value, list) or len(value) not in (2, 3) or not isinstance(value[1], str):
        return False
    return all(isinstance(one, (int, float)) and not isinstance(one, bool) for one in (value[0], *value[2:]))
