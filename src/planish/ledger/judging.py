"""How an event is recorded: applied, or recorded and not applied. Nothing anybody wrote is refused by a rule.

`judge` is pure. What it must know of the past it asks by key through `look`; what an applied event changes it answers
as keys and values, which a store keeps in the same transaction. The keys (`label:OBJECT`, `roles:PERSON` …) are
derived: dropping them all and judging the log again gives the same ones.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from planish.ledger.chain import Status
from planish.ledger.events import Event, kind_of
from planish.ledger.kinds import Kind, well_formed

Look = Callable[[str], str | None]
"""Answers what a key holds, None when nothing was ever put there."""
Sets = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Judgement:
    """How an event is recorded, why (a sentence, "" when applied), and the keys it sets."""

    status: Status
    why: str = ""
    sets: Sets = ()


def judge(event: Event, look: Look) -> Judgement:
    """Judge an event from a known device against what went before."""
    if look(f"device:{event.dev}") == "revoked":
        return Judgement(status="held", why="The device was revoked; a person decides whether this counts.")
    return judge_released(event, look)


def judge_released(event: Event, look: Look) -> Judgement:
    """As `judge`, once a person has said that the device's being revoked, or the ballot's being late, is no matter."""
    kind = kind_of(event)
    if kind is None:
        return Judgement(
            status="held", why=f"This desk does not know {event.kind} yet; it waits for the newer version."
        )
    lacking = body_fault(kind, event.body)
    if lacking:
        return Judgement(status="held", why=f"{lacking}; a person decides.")
    denied = _no_right(kind, event, look) or _against_rule(event, look)
    if denied:
        return Judgement(status="denied", why=denied)
    return _ballot_late(event, look) or _compared(kind, event, look)


def known_device(event: Event, look: Look) -> bool:
    """True when the device was paired, is the desk, or begins the log."""
    if look(f"device:{event.dev}") is not None:
        return True
    return event.name == "fair.begun" and look("fair") is None


def body_fault(kind: Kind, body: Any) -> str:
    """What a body lacks or has too much of, as half a sentence; "" when it is as the table says.

    Only the newest version's names are asked for; older bodies are read through `upcasting`.
    """
    names = {item.name for item in kind.fields}
    missing = sorted(item.name for item in kind.fields if not item.optional and item.name not in body)
    strange = sorted(body.keys() - names)
    if missing:
        return f"{kind.word} lacks the field {missing[0]}"
    if strange:
        return f"{kind.word} has no field {strange[0]}"
    plain = [(name, value) for name, value in body.items() if name not in kind.private]
    odd = sorted(name for name, value in plain if not well_formed(kind, name, value))
    return f"{kind.word} has a {odd[0]} that is not of its sort" if odd else ""


def fill(template: str, event: Event) -> str:
    """A key from its template: `{sub}`, `{who}` and plain body fields."""
    return template.format_map({**event.body, "sub": event.sub, "who": event.who})


def is_desk(event: Event, look: Look) -> bool:
    """True when the event was written at the desk, or begins the log."""
    return look(f"device:{event.dev}") in ("desk", None)


def _no_right(kind: Kind, event: Event, look: Look) -> str:
    if kind.desk_only and not is_desk(event, look):
        return f"{kind.name} is written at the desk only."
    people = look(f"people:{event.dev}")
    if people is not None and event.who not in people.split(","):
        return "The person has not set a PIN on this tablet."
    held = look(f"roles:{event.who}")
    if held is None:
        return "" if is_desk(event, look) else "The person has no role in this fair."
    if kind.roles and not set(kind.roles).intersection(held.split(",")):
        return f"{kind.name} is for: {', '.join(kind.roles)}; the person's roles are: {held or 'none now'}."
    return ""


def _against_rule(event: Event, look: Look) -> str:
    body = event.body
    wants_second = (kind := kind_of(event)) is not None and kind.second
    if event.name in ("outcome.confirmed", "outcome.final") and body["outcome"] == "remove":
        wants_second = True
    if wants_second and body.get("second", event.who) == event.who:
        return "A second person must agree to this."
    if event.name == "label.agreed" and body["for_panel"] == body["for_exhibitor"]:
        return "Agreed words need two parties."
    if event.name in ("ballot.locked", "ballot.appeal"):
        return _may_not_vote(event, look)
    if event.name == "outcome.confirmed":
        return _short_of_quorum(event, look)
    return ""


def _may_not_vote(event: Event, look: Look) -> str:
    if look(f"recused:{event.sub}:{event.who}") is not None:
        return "The person stepped back from this object."
    stand = look(f"stand_of:{event.sub}")
    if look(f"conflict:{event.who}:object:{event.sub}") is not None:
        return "The person declared a conflict for this object."
    if stand is not None and look(f"conflict:{event.who}:stand:{stand}") is not None:
        return "The person declared a conflict for this stand."
    return ""


def _short_of_quorum(event: Event, look: Look) -> str:
    needs = int(look(f"needs:{event.sub}") or 0)
    if not needs:
        return ""
    round_ = look(f"round_of:{event.sub}") or "1"
    stand = int(look(f"ballots:{event.sub}:{round_}") or 0)
    return f"Only {stand} ballots stand and {needs} are needed." if stand < needs else ""


def _ballot_late(event: Event, look: Look) -> Judgement | None:
    if event.name != "ballot.locked" or look(f"released:{event.id}") is not None:
        return None
    if look(f"revealed:{event.sub}:{event.body['round']}") is None:
        return None
    return Judgement(status="held", why="The round was shown before this ballot came in; the chair decides.")


def _compared(kind: Kind, event: Event, look: Look) -> Judgement:
    if kind.once and look(fill(kind.once, event)) is not None:
        return Judgement(status="stale", why="This was written before, and the first stays.")
    if kind.compares:
        latest = look(fill(kind.compares, event)) or ""
        if (event.base or "") != latest:
            return Judgement(
                status="stale", why="Somebody changed it first; both are kept, a person decides."
            )
    return Judgement(status="ok", sets=keys_set(event, look))


def keys_set(event: Event, look: Look) -> Sets:
    """The keys an applied event sets, given what the keys held before it."""
    kind = kind_of(event)
    if kind is None:
        return ()
    own = ((fill(kind.sets, event), event.id),) if kind.sets else ()
    maker = _MAKERS.get(event.name)
    return (*own, *maker(event, look)) if maker is not None else own


def _begun(event: Event, _: Look) -> Sets:
    return ((f"device:{event.dev}", "desk"),)


def _paired(event: Event, look: Look) -> Sets:
    keys = [(f"device:{event.sub}", "paired")]
    if event.body.get("key") or look(f"key:{event.sub}"):
        keys.append((f"key:{event.sub}", event.body.get("key", "")))
    return (*keys, *_shared(event, look)) if event.body.get("person") else tuple(keys)


def _shared(event: Event, look: Look) -> Sets:
    people = {*(look(f"people:{event.sub}") or "").split(","), event.body["person"]} - {""}
    return ((f"people:{event.sub}", ",".join(sorted(people))),)


def _revoked(event: Event, _: Look) -> Sets:
    return ((f"device:{event.sub}", "revoked"),)


def _role_given(event: Event, look: Look) -> Sets:
    held = {*(look(f"roles:{event.sub}") or "").split(","), event.body["role"]} - {""}
    return ((f"roles:{event.sub}", ",".join(sorted(held))),)


def _role_withdrawn(event: Event, look: Look) -> Sets:
    held = {*(look(f"roles:{event.sub}") or "").split(",")} - {"", event.body["role"]}
    return ((f"roles:{event.sub}", ",".join(sorted(held))),)


def _conflict(event: Event, _: Look) -> Sets:
    named = [(word, event.body[word]) for word in ("stand", "object") if event.body.get(word)]
    return tuple((f"conflict:{event.sub}:{word}:{which}", event.id) for word, which in named)


def _stand_of(event: Event, _: Look) -> Sets:
    stand = event.body.get("stand")
    return ((f"stand_of:{event.sub}", stand),) if stand else ()


def _ballot(event: Event, look: Look) -> Sets:
    key = f"ballots:{event.sub}:{event.body['round']}"
    return ((key, str(int(look(key) or 0) + 1)),)


def _recused(event: Event, look: Look) -> Sets:
    if look(f"recused:{event.sub}:{event.who}") is not None:
        return ()
    fewer = []
    for round_ in (1, 2):
        if look(f"ballot:{event.sub}:{round_}:{event.who}") is not None:
            key = f"ballots:{event.sub}:{round_}"
            fewer.append((key, str(int(look(key) or 0) - 1)))
    return tuple(fewer)


def _proposed(event: Event, _: Look) -> Sets:
    needs, round_ = event.body.get("needs", 0), event.body.get("round", 1)
    return ((f"needs:{event.sub}", str(needs)), (f"round_of:{event.sub}", str(round_)))


def _redacted(event: Event, look: Look) -> Sets:
    """What was deleted stays deleted, also when a tablet hands it in again after a restore; "*" is every field."""
    path = event.body.get("path", "") or "*"
    held = ((f"redacted:{one}", look(f"redacted:{one}")) for one in event.body["ids"])
    return tuple(
        (key, path if before is None else ",".join(sorted({*before.split(","), path})))
        for key, before in held
    )


def keeps(event_id: str, path: str, look: Look) -> bool:
    """False for a text whose deletion is recorded already: it is taken in without being readable."""
    gone = (look(f"redacted:{event_id}") or "").split(",")
    return "*" not in gone and path not in gone


_MAKERS: dict[str, Callable[[Event, Look], Sets]] = {
    "fair.begun": _begun,
    "device.paired": _paired,
    "device.revoked": _revoked,
    "device.shared": _shared,
    "role.given": _role_given,
    "role.withdrawn": _role_withdrawn,
    "conflict.declared": _conflict,
    "object.listed": _stand_of,
    "object.unlisted": _stand_of,
    "object.changed": _stand_of,
    "ballot.locked": _ballot,
    "ballot.recused": _recused,
    "outcome.proposed": _proposed,
    "opening.redacted": _redacted,
}
