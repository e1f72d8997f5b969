"""Who may see what: one table, one function. Every route, export, search and count asks `visible`.

Letters: R read · W write (and read) · L after one's own ballot on the object is locked · T for the task in hand ·
m totals only · d if deciding · own only one's own · – nothing. Somebody with several roles gets the most that any gives,
except that a conflict with the stand takes away what the panel roles give (`Viewer.conflicted`).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

Role = Literal[
    "office",
    "chair",
    "leader",
    "member",
    "scribe",
    "steward",
    "exhibitor",
    "laboratory",
    "appeals",
    "auditor",
    "buyer",
]
Data = Literal[
    "stand_list", "price", "papers", "labels", "pictures", "laboratory", "own_ballot", "named_ballot", "split",
    "reason", "recusal", "recusal_reason", "memory", "whereabouts", "statistics", "log",
]  # fmt: skip

_ROLES = ("office", "chair", "leader", "member", "steward", "exhibitor", "laboratory", "appeals", "buyer")
# one row a kind of data, one letter a role, in the order of _ROLES
_TABLE = """
stand_list      R R R R R W T T –
price           R – – – – W – – R
papers          R R L L – W T R –
labels          R R W R W W R R R
pictures        – R W W W R W R –
laboratory      – R L L – – W R –
own_ballot      – – W W – – – – –
named_ballot    – – – – – – – – –
split           – d L L – – – R –
reason          R R W R R R T R R
recusal         R R R R – – – R –
recusal_reason  – R – – – – – – –
memory          – R L L – own – R –
whereabouts     R R R own W R W R –
statistics      R R R R – m m m m
log             – – – – – – – – –
"""
MATRIX: Mapping[str, Mapping[str, str]] = {
    row.split()[0]: dict(zip(_ROLES, row.split()[1:], strict=True)) for row in _TABLE.strip().splitlines()
}
"""By data, then role. Scribes see as members do but own no ballot; deputies as chairs; auditors read the log."""

STANDS_FOR = {"scribe": "member", "deputy": "chair"}
PANEL = frozenset({"leader", "member", "scribe"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Viewer:
    """Who looks: roles, the stand of an exhibitor, and whether an exhibitor may see laboratory readings here (a switch)."""

    person: str
    roles: frozenset[str]
    stand: str = ""
    lab_for_exhibitor: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """What bears on one object for one viewer: whose stand, whether the viewer locked a ballot on it, decides on it,
    has it as a task (laboratory, appeals), has a conflict with it, wrote it, and how many ballots were counted."""

    stand: str = ""
    locked: bool = False
    deciding: bool = False
    task: bool = False
    conflicted: bool = False
    own: bool = False
    sealed: bool = False
    off_floor: bool = False
    ballots: int = 0
    floor: int = 3


def letter(data: Data, role: str) -> str:
    """The table's letter for one kind of data and one role; "–" for what it does not know."""
    if role == "auditor":
        return "R" if data == "log" else "–"
    if role == "scribe" and data == "own_ballot":
        return "–"
    return MATRIX[data].get(STANDS_FOR.get(role, role), "–")


def visible(viewer: Viewer, data: Data, looked: Looked = Looked()) -> bool:
    """True when `viewer` may see this kind of data of this object, as things stand."""
    return any(_seen(viewer, role, data, looked) for role in viewer.roles)


def _seen(viewer: Viewer, role: str, data: Data, looked: Looked) -> bool:
    if looked.conflicted and role in PANEL:
        return False
    if role == "exhibitor":
        return _exhibitor(viewer, data, looked)
    if role == "buyer":
        return looked.sealed and data in ("labels", "price", "reason")
    if role == "steward" and data == "reason":
        return looked.off_floor
    if data == "split" and looked.ballots < looked.floor:
        return False
    given = letter(data, role)
    return {
        "R": True,
        "W": data != "own_ballot" or looked.own,
        "L": looked.locked,
        "T": looked.task,
        "d": looked.deciding,
        "own": looked.own,
    }.get(given, False)


def _exhibitor(viewer: Viewer, data: Data, looked: Looked) -> bool:
    """An exhibitor sees own objects only, and never a count, a name or an opinion."""
    if not viewer.stand or viewer.stand != looked.stand:
        return False
    if data == "laboratory":
        return viewer.lab_for_exhibitor
    return letter(data, "exhibitor") in ("R", "W", "own")


def may_write(viewer: Viewer, data: Data, looked: Looked = Looked()) -> bool:
    """True when `viewer` may write this kind of data; the log asks again when it takes the event."""
    for role in viewer.roles:
        if looked.conflicted and role in PANEL:
            continue
        if letter(data, role) == "W" and (
            role != "exhibitor" or (viewer.stand and viewer.stand == looked.stand)
        ):
            return True
    return False


def totals_only(viewer: Viewer, data: Data) -> bool:
    """True when the viewer may see this as totals of the whole fair and nothing finer."""
    return not visible(viewer, data) and any(letter(data, role) == "m" for role in viewer.roles)
