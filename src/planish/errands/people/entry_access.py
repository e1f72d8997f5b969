"""What of one entry of the log a person may see: asked kind by kind and field by field of `access.visible`.

`seen(event, reader)` gives None for an entry that is a stub to this reader, else the names of the private fields whose
openings go along. `reader.sees(data)` is `access.visible` for the object of the entry, as things stand now.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

from planish.errands.people.access import Data
from planish.ledger.commitments import committed
from planish.ledger.events import Event

Rule = Data | Literal["staff", "office", "own", "asked"]
"""Besides the rows of the matrix: everybody on the staff; office and chair; its writer only; who was asked."""
OFFICE = frozenset({"office", "chair", "deputy"})
KEEPERS = OFFICE | {"admin", "steward"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Reader:
    """Who reads an entry, and what `access.visible` says of its object for this reader."""

    person: str
    roles: frozenset[str]
    sees: Callable[[Data], bool]


_KINDS: Mapping[str, Rule] = {
    "fair.begun": "staff",
    "rulebook.adopted": "staff",
    "person.added": "staff",
    "role.given": "staff",
    "role.withdrawn": "staff",
    "panel.formed": "staff",
    "conflict.declared": "office",
    "stand.added": "stand_list",
    "list.taken": "office",
    "import.answered": "office",
    "object.routed": "labels",
    "object.presented": "labels",
    "object.not_found": "labels",
    "object.listed": "labels",
    "object.changed": "labels",
    "object.renumbered": "labels",
    "object.withdrawn": "labels",
    "object.unlisted": "labels",
    "observation.made": "pictures",
    "observation.corrected": "pictures",
    "picture.taken": "pictures",
    "paper.filed": "papers",
    "ballot.locked": "own",
    "ballot.appeal": "own",
    "ballot.recused": "recusal",
    "round.revealed": "labels",
    "incident.noted": "whereabouts",
    "question.asked": "asked",
    "question.answered": "asked",
    "object.moved": "whereabouts",
    "hold.placed": "whereabouts",
    "hold.lifted": "whereabouts",
    "receipt.given": "whereabouts",
    "object.referred": "reason",
    "appeal.lodged": "reason",
    "appeal.counted": "reason",
    "appeal.decided": "reason",
    "examination.reopened": "reason",
    "slip.printed": "reason",
    "second_look.asked": "reason",
    "like_case.noted": "memory",
    "fact.corrected": "staff",
    "desk.restored": "staff",
}
"""By kind; `label.*` is the labels row, `outcome.*` the reason row, everything else is for office and chair."""

_FIELDS: Mapping[tuple[str, str], Rule] = {
    ("person.added", "more"): "office",
    ("stand.added", "more"): "office",
    ("object.listed", "price"): "price",
    ("object.changed", "price"): "price",
    ("label.hung", "price"): "price",
    ("object.listed", "raw"): "price",
    ("object.changed", "raw"): "price",
    ("object.listed", "fields"): "price",
    ("object.changed", "fields"): "price",
    ("label.asked", "reason"): "reason",
    ("ballot.recused", "reason"): "recusal_reason",
    ("outcome.proposed", "trace"): "split",
    ("hold.placed", "reason"): "reason",
    ("hold.lifted", "reason"): "reason",
}
"""Private fields that need more than their entry: prices stand in raw rows too, and a rule trace counts votes."""


def seen(event: Event, reader: Reader) -> frozenset[str] | None:
    """None for a stub; else the private fields of the entry that this reader may read."""
    fields = committed(event).keys()
    if event.who == reader.person and event.name != "outcome.proposed":
        return frozenset(fields)
    if not _allowed(_rule(event), event, reader):
        return None
    if event.body.get("counts") and not reader.sees("split"):
        return None
    return frozenset(
        name
        for name in fields
        if (event.name, name) not in _FIELDS or _allowed(_FIELDS[event.name, name], event, reader)
    )


def _rule(event: Event) -> Rule:
    if event.name.startswith("label.") or event.name == "seal.misplaced":
        return "labels"
    if event.name.startswith("outcome."):
        return "reason"
    if event.name.startswith("observation.") and event.body.get("kind") == "composition":
        return "laboratory"
    return _KINDS.get(event.name, "office")


def _allowed(rule: Rule, event: Event, reader: Reader) -> bool:
    if rule == "staff":
        return True
    if rule == "office":
        return bool(reader.roles & (KEEPERS if event.name.startswith("device.") else OFFICE))
    if rule == "own":
        return event.who == reader.person
    if rule == "asked":
        return bool(reader.roles & OFFICE) or event.body.get("to") in {reader.person, *reader.roles}
    return reader.sees(rule)
