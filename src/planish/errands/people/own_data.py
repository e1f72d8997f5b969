"""Everything held about one person, for that person: their own entries in full, third parties masked.

The person is a specialist (id as in `planish people`) or an exhibitor (the id of a stand). What others think stays theirs:
no ballot of anybody else, no split, no reason of anybody else's conflict; an exhibitor gets reasons and never counts.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import OFFICE, Fair
from planish.ledger.kinds import KINDS
from planish.ledger.replay import FairState
from planish.ledger.upcasting import Happened

ANOTHER = "[another person]"
OTHERS_ONLY = frozenset(
    {
        "ballot.locked",
        "ballot.appeal",
        "ballot.recused",
        "conflict.declared",
        "round.revealed",
        "appeal.counted",
    }
)
"""Kinds that are given to the person who wrote them, or whom they are about, and to nobody else."""
COUNTED = frozenset({"counts", "trace", "needs"})
INSIDE = ("second_look.", "like_case.", "question.", "object.routed", "panel.")
"""Beginnings of kinds that are the panels' own work: not given to an exhibitor."""
LEFT_OUT = (
    "Names and ids of other people: they stand as [another person], and parts of their names wherever they occur in a text.",
    "Ballots, recusals and conflicts of other people, and counts of votes.",
    "Texts that were deleted: the log shows that there was one, and nobody can read it any more.",
    "Encrypted backups: they hold nothing that is not here, and end after five weeks.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnEntry:
    """One entry of the log that is the person's own, is about them, or names them (`why`). Times are UTC, ISO 8601."""

    n: int
    at: str
    kind: str
    about: str
    sub: str
    by: str
    why: str
    fields: Mapping[str, Any]
    deleted: tuple[str, ...] = ()
    files: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnData:
    """What a fair holds about one person, and what was left out and why."""

    fair: str
    person: str
    name: str
    entries: tuple[OwnEntry, ...]
    left_out: tuple[str, ...] = LEFT_OUT


def own_data(fair: Fair, person: str) -> OwnData:
    """Gather what is held about a specialist or an exhibitor. Refuses an id that the fair does not know."""
    state = fair.state
    stand = person not in state.people
    if stand and person not in state.stands:
        raise refuse(person, "Nobody at this fair has this id.", "planish people lists the ids.")
    name = state.stands[person].exhibitor if stand else state.people[person].name
    names = {text for event in fair.journal.happened() for text in _named_in(event, person)} | {name}
    mask = _mask(state, person, names - {""})
    objects = {s.listed.id for s in state.objects.values() if stand and s.listed.stand == person}
    rows = [
        _entry(event, why, mask, stand)
        for event in fair.journal.happened()
        if (why := _why(event, person, names - {""}, objects, stand))
    ]
    return OwnData(fair=state.name, person=person, name=name, entries=tuple(rows))


def _named_in(event: Happened, person: str) -> Iterator[str]:
    """Names under which the person was ever written down."""
    if event.sub == person and event.kind in ("person.added", "stand.added"):
        yield str(event.body.get("name", "") or event.body.get("exhibitor", ""))


def _why(event: Happened, person: str, names: Iterable[str], objects: set[str], stand: bool) -> str:
    mine = not stand and event.who == person
    about = event.sub == person and event.kind not in ("object.listed",)
    if event.kind in OTHERS_ONLY:
        return "written by the person" if mine else ("about the person" if about and not stand else "")
    if mine:
        return "written by the person"
    if about:
        return "about the person"
    if stand and event.kind.startswith(INSIDE):
        return ""
    if event.sub in objects or (stand and event.body.get("stand") == person):
        return "about the person's objects"
    if any(_mentions(value, person, names) for value in event.body.values()):
        return "" if stand and event.kind.startswith("observation.") else "names the person"
    return ""


def _mentions(value: Any, person: str, names: Iterable[str]) -> bool:
    """True when a value is the person's id, lists it, or is a text that holds their name. Ids of stands are too short to search."""
    if isinstance(value, Mapping):
        return any(_mentions(item, person, names) for item in value.values())
    if isinstance(value, (list, tuple)):
        return any(_mentions(item, person, names) for item in value)
    if not isinstance(value, str):
        return False
    return (value == person and not value.isdecimal()) or any(
        one.casefold() in value.casefold() for one in names
    )


def _entry(event: Happened, why: str, mask: Callable[[Any], Any], stand: bool) -> OwnEntry:
    kind = KINDS.get(event.kind)
    shown = {name: value for name, value in event.body.items() if not (stand and name in COUNTED)}
    return OwnEntry(
        n=event.n,
        at=datetime.fromtimestamp(event.recv_ms / 1000, UTC).isoformat(timespec="seconds"),
        kind=event.kind,
        about="" if kind is None else kind.about,
        sub=str(mask(event.sub)),
        by=str(mask(event.who)),
        why=why,
        fields={name: mask(value) for name, value in shown.items()},
        deleted=event.gone,
        files=event.att,
    )


def _mask(state: FairState, person: str, names: set[str]) -> Callable[[Any], Any]:
    """A function that takes other people out of any value: ids as whole values, names and their parts inside texts."""
    own = {part.casefold() for name in names for part in _parts(name)}
    others = {one.name for one in state.people.values() if one.id != person}
    others |= {one.exhibitor for one in state.stands.values() if one.id != person}
    ids = state.people.keys() - {person, OFFICE}
    parts = {part for name in others for part in _parts(name) if part.casefold() not in own}
    words = sorted({name for name in others if name and name not in names} | parts, key=len, reverse=True)
    pattern = re.compile("|".join(rf"(?<!\w){re.escape(word)}(?!\w)" for word in words)) if words else None

    def mask(value: Any) -> Any:
        if isinstance(value, Mapping):
            return {str(mask(name)): mask(item) for name, item in value.items()}
        if isinstance(value, (list, tuple)):
            return [mask(item) for item in value]
        if not isinstance(value, str):
            return value
        if value in ids:
            return ANOTHER
        return pattern.sub(ANOTHER, value) if pattern else value

    return mask


def _parts(name: str) -> list[str]:
    """Parts of a name long enough to know somebody by."""
    return [part for part in re.findall(r"[^\W\d_][\w'’-]{2,}", name) if part[0].isupper()]
