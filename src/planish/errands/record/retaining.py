"""How long each class of text is kept, by the fair's rule book; what is due; deleting it by two people.

`switches.retention_years` of the rule book gives whole years by class, counted from the fair's last day. A class that
the rule book does not name is kept; nothing is ever deleted by itself.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime

from planish.errands.opening import clock
from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import Fair
from planish.errands.record.redacting import Deleted, Text, redact, texts_of
from planish.ledger.store import Entry

ALL = frozenset({""})
CLASSES: Mapping[str, Mapping[str, frozenset[str]]] = {
    "ballots": {"ballot.locked": ALL, "ballot.appeal": ALL, "ballot.recused": ALL},
    "prices": {
        "object.listed": frozenset({"price", "raw"}),
        "object.changed": frozenset({"price", "raw"}),
        "label.hung": frozenset({"price"}),
        "list.taken": ALL,
    },
    "pictures": {"picture.taken": ALL},
    "laboratory": {"observation.made": ALL, "observation.corrected": ALL},
    "people": {
        "person.added": ALL,
        "stand.added": ALL,
        "conflict.declared": ALL,
        "role.withdrawn": ALL,
    },
    "outcomes": {
        kind: ALL
        for kind in (
            "outcome.proposed",
            "outcome.confirmed",
            "appeal.lodged",
            "appeal.counted",
            "appeal.decided",
            "examination.reopened",
            "slip.printed",
            "label.asked",
        )
    },
}
"""Which fields of which kinds belong to a class; "" for every field. Agreed and hung words stay: they were public."""
LAST = frozenset({"opening.redacted", "desk.restored", "fact.corrected", "clock.jump"})
"""Kinds that may come long after a fair and do not make it last longer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """One class of texts: years kept (None: no term), the day it falls due, how many texts are still there, whether it is due."""

    name: str
    years: int | None
    day: date | None
    texts: tuple[Text, ...]
    due: bool


def retention(fair: Fair, *, today: date | None = None) -> tuple[Due, ...]:
    """Every class with its term and what is still there; writes nothing."""
    terms = _terms(fair)
    day = today or clock.now().date()
    there: dict[str, list[Text]] = {name: [] for name in CLASSES}
    last = None
    for entry in fair.journal.entries():
        if entry.event.name not in LAST:
            last = entry.recv_ms
        for name in CLASSES:
            there[name].extend(_of_class(entry, name))
    end = _last_day(fair, last)
    return tuple(_due(name, terms.get(name), end, tuple(texts), day) for name, texts in there.items())


def _due(name: str, years: int | None, end: date, texts: tuple[Text, ...], today: date) -> Due:
    falls = None if years is None else _years_after(end, years)
    return Due(name=name, years=years, day=falls, texts=texts, due=falls is not None and falls < today)


def _terms(fair: Fair) -> dict[str, int]:
    given = fair.rules.switches.get("retention_years", {})
    terms = dict(given) if isinstance(given, Mapping) else {}
    return {name: years for name, years in terms.items() if isinstance(years, int) and years >= 0}


def _of_class(entry: Entry, name: str) -> list[Text]:
    fields = CLASSES[name].get(entry.event.name)
    if fields is None or (name == "laboratory" and "instrument" not in entry.event.body):
        return []
    return [text for text in texts_of(entry) if fields == ALL or text.path in fields]


def _last_day(fair: Fair, last_ms: int | None) -> date:
    """The fair's last day: as it was said when it began, and never before the last thing that happened at it."""
    days = [
        date.fromisoformat(fair.state.begun[name])
        for name in ("opens", "closes")
        if fair.state.begun.get(name)
    ]
    if last_ms is not None:
        days.append(datetime.fromtimestamp(last_ms / 1000, UTC).date())
    return max(days)


def _years_after(day: date, years: int) -> date:
    try:
        return day.replace(year=day.year + years)
    except ValueError:  # 29 February
        return date(day.year + years, 3, 1)


def retire(
    fair: Fair, *, who: str, second: str, names: tuple[str, ...] = (), today: date | None = None
) -> Deleted:
    """Delete what is due, of all classes or of those named. Refuses a class that is not due, and one person alone."""
    classes = retention(fair, today=today)
    early = [one for one in classes if one.name in names and not one.due]
    unknown = sorted(set(names) - CLASSES.keys())
    if unknown:
        raise refuse(unknown[0], "There is no such class of texts.", f"One of: {', '.join(CLASSES)}.")
    if early:
        when = f"It is due after {early[0].day}." if early[0].day else "The rule book gives no term for it."
        raise refuse(early[0].name, when, "Wait, or delete single texts: planish redact.", kind="rule")
    texts = [text for one in classes if one.due and one.name in (names or CLASSES) for text in one.texts]
    if not texts:
        return Deleted(texts=0, files=0, papers=())
    return redact(fair, texts, ground="retention", who=who, second=second)
