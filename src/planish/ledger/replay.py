"""The fold: from what happened to where everything stands. Pure; same events, same answer.

`fold(events)` gives a `FairState`; each object's `Story` holds its five axes (`state`), label versions, observations,
who locked or stepped back in which round (never what a ballot says), outcomes, moves, holds, everything recorded and
not applied (`losers`), alarms, and whether it may be shown, which is derived and never stored.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from planish.ledger.growing import Growing
from planish.ledger.story import Story, tell
from planish.ledger.upcasting import Happened
from planish.records.frozen import EMPTY, freeze


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Somebody who takes part. `conflicts` are stand ids, `object_conflicts` object ids."""

    id: str
    name: str = ""
    roles: frozenset[str] = frozenset()
    disciplines: tuple[str, ...] = ()
    conflicts: frozenset[str] = frozenset()
    object_conflicts: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """A stand: number on the plan, zone, exhibitor's name."""

    id: str
    number: str
    zone: str = ""
    exhibitor: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """Who sits together."""

    id: str
    members: tuple[str, ...] = ()
    leader: str = ""
    disciplines: tuple[str, ...] = ()
    stands: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FairState:
    """Where a whole fair stands after entry `n`.

    `cards` are all events recorded and not applied, `lists` the lists taken in, `questions` those still open,
    `notes` what concerns no object: incidents, clock jumps, restores, redactions, corrected facts. `closed` says by event
    id how a card was closed; `shared` who may write on a tablet.
    """

    n: int = 0
    id: str = ""
    name: str = ""
    begun: Mapping[str, Any] = field(default_factory=lambda: EMPTY)
    rulebook: str = ""
    rules: Mapping[str, Any] = field(default_factory=lambda: EMPTY)
    people: Mapping[str, Person] = field(default_factory=lambda: EMPTY)
    panels: Mapping[str, Panel] = field(default_factory=lambda: EMPTY)
    stands: Mapping[str, Stand] = field(default_factory=lambda: EMPTY)
    devices: Mapping[str, str] = field(default_factory=lambda: EMPTY)
    objects: Mapping[str, Story] = field(default_factory=lambda: EMPTY)
    lists: tuple[Happened, ...] = ()
    cards: tuple[Happened, ...] = ()
    questions: tuple[Happened, ...] = ()
    notes: tuple[Happened, ...] = ()
    closed: Mapping[str, str] = field(default_factory=lambda: EMPTY)
    shared: Mapping[str, tuple[str, ...]] = field(default_factory=lambda: EMPTY)


def fold(events: Iterable[Happened]) -> FairState:
    """Fold a whole log, in order."""
    folding = Folding()
    for event in events:
        folding.take(event)
    return folding.done()


class Folding:
    """A fold under way: take events in order, ask `done` whenever the state is wanted, go on."""

    def __init__(self) -> None:
        self.n = 0
        self.fair: dict[str, Any] = {}
        self.people: dict[str, Person] = {}
        self.panels: dict[str, Panel] = {}
        self.stands: dict[str, Stand] = {}
        self.devices: dict[str, str] = {}
        self.objects: Growing[Story] = Growing()
        self.held: dict[str, Happened] = {}
        self.lists: list[Happened] = []
        self.cards: list[Happened] = []
        self.questions: dict[str, Happened] = {}
        self.notes: list[Happened] = []
        self.closed: dict[str, str] = {}
        self.shared: dict[str, tuple[str, ...]] = {}

    def take(self, event: Happened) -> None:
        """Fold one entry: apply it, or keep it as a card."""
        self.n = event.n
        if not event.applied:
            self._keep(event)
            return
        if event.kind == "held.released":
            self._release(event.sub)
            return
        self._apply(event)

    def _keep(self, event: Happened) -> None:
        self.cards.append(event)
        if event.status == "held":
            self.held[event.id] = event
        story = self.objects.get(event.sub)
        if story is not None:
            self.objects[event.sub] = replace(story, losers=(*story.losers, event))

    def _release(self, event_id: str) -> None:
        held = self.held.pop(event_id, None)
        if held is None:
            return
        self.cards = [card for card in self.cards if card.id != event_id]
        story = self.objects.get(held.sub)
        if story is not None:
            left = tuple(loser for loser in story.losers if loser.id != event_id)
            self.objects[held.sub] = replace(story, losers=left)
        self._apply(replace(held, status="ok"))

    def _apply(self, event: Happened) -> None:
        if not event.known:
            return
        maker = _FAIR_KINDS.get(event.kind)
        if maker is not None:
            maker(self, event)
        story = self.objects.get(event.sub)
        if story is not None or event.kind in ("object.listed", "object.unlisted"):
            self.objects[event.sub] = tell(story, event)

    def done(self) -> FairState:
        """The state, frozen."""
        return FairState(
            n=self.n,
            people=freeze(self.people),
            panels=freeze(self.panels),
            stands=freeze(self.stands),
            devices=freeze(self.devices),
            objects=self.objects.snapshot(),
            lists=tuple(self.lists),
            cards=tuple(self.cards),
            questions=tuple(self.questions.values()),
            notes=tuple(self.notes),
            closed=freeze(self.closed),
            shared=freeze(self.shared),
            **self.fair,
        )


def _begun(folding: Folding, event: Happened) -> None:
    folding.fair |= {"id": event.sub, "name": event.body.get("name", ""), "begun": freeze(event.body)}
    folding.devices[event.dev] = "desk"


def _rulebook(folding: Folding, event: Happened) -> None:
    folding.fair |= {"rulebook": event.sub, "rules": freeze(event.body)}


def _person(folding: Folding, event: Happened) -> None:
    known = folding.people.get(event.sub, Person(id=event.sub))
    disciplines = tuple(event.body.get("disciplines", known.disciplines))
    folding.people[event.sub] = replace(known, name=event.body.get("name", ""), disciplines=disciplines)


def _role(folding: Folding, event: Happened) -> None:
    known = folding.people.get(event.sub, Person(id=event.sub))
    role = {event.body["role"]}
    roles = known.roles | role if event.kind == "role.given" else known.roles - role
    folding.people[event.sub] = replace(known, roles=roles)


def _conflict(folding: Folding, event: Happened) -> None:
    known = folding.people.get(event.sub, Person(id=event.sub))
    stands = known.conflicts | ({event.body["stand"]} if event.body.get("stand") else set())
    objects = known.object_conflicts | ({event.body["object"]} if event.body.get("object") else set())
    folding.people[event.sub] = replace(known, conflicts=stands, object_conflicts=objects)


def _panel(folding: Folding, event: Happened) -> None:
    body = event.body
    folding.panels[event.sub] = Panel(
        id=event.sub,
        members=tuple(body["members"]),
        leader=body.get("leader", ""),
        disciplines=tuple(body.get("disciplines", ())),
        stands=tuple(body.get("stands", ())),
    )


def _stand(folding: Folding, event: Happened) -> None:
    body = event.body
    folding.stands[event.sub] = Stand(
        id=event.sub, number=body["number"], zone=body.get("zone", ""), exhibitor=body.get("exhibitor", "")
    )


def _device(folding: Folding, event: Happened) -> None:
    folding.devices[event.sub] = "paired" if event.kind == "device.paired" else event.body["how"]
    if event.body.get("person"):
        _share(folding, event)


def _share(folding: Folding, event: Happened) -> None:
    known = folding.shared.get(event.sub, ())
    folding.shared[event.sub] = tuple(dict.fromkeys((*known, event.body["person"])))


def _closed(folding: Folding, event: Happened) -> None:
    folding.closed[event.sub] = event.body["how"]


def _list(folding: Folding, event: Happened) -> None:
    folding.lists.append(event)


def _asked(folding: Folding, event: Happened) -> None:
    folding.questions[event.id] = event


def _answered(folding: Folding, event: Happened) -> None:
    folding.questions.pop(event.body["question"], None)


def _noted(folding: Folding, event: Happened) -> None:
    folding.notes.append(event)


_FAIR_KINDS = {
    "fair.begun": _begun,
    "rulebook.adopted": _rulebook,
    "person.added": _person,
    "role.given": _role,
    "role.withdrawn": _role,
    "conflict.declared": _conflict,
    "panel.formed": _panel,
    "stand.added": _stand,
    "device.paired": _device,
    "device.revoked": _device,
    "device.shared": _share,
    "card.closed": _closed,
    "list.taken": _list,
    "question.asked": _asked,
    "question.answered": _answered,
    "incident.noted": _noted,
    "clock.jump": _noted,
    "desk.restored": _noted,
    "opening.redacted": _noted,
    "fact.corrected": _noted,
}

__all__ = ["FairState", "Panel", "Person", "Stand", "Story", "fold"]
