"""One object's story: how each event moves it along the five axes."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, replace
from operator import attrgetter
from typing import Any, get_args

from planish.ledger import bodies
from planish.ledger.upcasting import Happened
from planish.records.frozen import freeze
from planish.records.objects import Label, LabelStage, ListedObject, State, Trade, Whereabouts
from planish.records.observations import Observation

STAGES: Mapping[str, LabelStage] = {
    "label.hung": "as_hung",
    "label.asked": "asked",
    "label.agreed": "agreed",
    "label.printed": "printed",
    "label.checked": "checked",
    "label.sealed": "sealed",
    "label.superseded": "superseded",
}
DECIDED = ("confirmed", "final")


@dataclass(frozen=True, slots=True, kw_only=True)
class BallotCast:
    """That somebody locked a ballot, or stepped back (`round` 0). What it says is not here."""

    who: str
    round: int
    n: int
    id: str
    late: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """One hold that is on."""

    name: str
    sort: str
    off_floor: bool
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Story:
    """Everything the log says about one object. `losers` were recorded and not applied; `alarms` are sentences."""

    state: State
    listed: ListedObject
    labels: tuple[Label, ...] = ()
    observations: tuple[Observation, ...] = ()
    ballots: tuple[BallotCast, ...] = ()
    recused: tuple[BallotCast, ...] = ()
    revealed: tuple[int, ...] = ()
    outcomes: tuple[Happened, ...] = ()
    moves: tuple[Happened, ...] = ()
    holds: tuple[Hold, ...] = ()
    pictures: tuple[Happened, ...] = ()
    papers: tuple[Happened, ...] = ()
    events: tuple[Happened, ...] = ()
    losers: tuple[Happened, ...] = ()
    alarms: tuple[str, ...] = ()

    @property
    def label(self) -> Label | None:
        """The newest label version, None before any hung."""
        return self.labels[-1] if self.labels else None

    @property
    def may_be_shown(self) -> bool:
        """The public answer: final with accept, or relabel with the label sealed; no hold that takes it off the
        floor; standing on its stand."""
        state = self.state
        words = state.outcome == "accept" or (state.outcome == "relabel" and state.label == "sealed")
        held = any(hold.off_floor for hold in self.holds)
        return state.examination == "final" and words and not held and state.whereabouts == "stand"

    def standing_ballots(self, round: int) -> tuple[BallotCast, ...]:
        """Ballots of a round whose makers have not stepped back."""
        away = {cast.who for cast in self.recused}
        return tuple(cast for cast in self.ballots if cast.round == round and cast.who not in away)


_NAMES = tuple(one.name for one in fields(Story))
_values = attrgetter(*_NAMES)
_PLACES: Mapping[str, int] = {name: place for place, name in enumerate(_NAMES)}
_PUT = tuple(getattr(Story, name).__set__ for name in _NAMES)


def retold(story: Story, **changed: Any) -> Story:
    """As `dataclasses.replace`, several times as fast: a fold of a large fair does this for every entry."""
    values = [*_values(story)]
    for name, value in changed.items():
        values[_PLACES[name]] = value
    made = object.__new__(Story)
    for put, value in zip(_PUT, values, strict=True):
        put(made, value)
    return made


def tell(story: Story | None, event: Happened) -> Story:
    """The story after one more applied event."""
    if story is None:
        return _opened(event)
    teller = _TELLERS.get(event.kind)
    told = teller(story, event) if teller is not None else story
    return retold(told, events=(*told.events, event))


def _opened(event: Happened) -> Story:
    listed = bodies.listed_object(event.sub, event.body)
    state = State(object_id=event.sub, place=listed.stand, trade=_trade(event.body.get("trade"), "for_sale"))
    if event.kind == "object.unlisted":
        state = replace(state, examination="unlisted", whereabouts="stand")
    return Story(state=state, listed=listed, events=(event,))


def _trade(value: Any, before: Trade) -> Trade:
    return value if value in get_args(Trade) else before


def _changed(story: Story, event: Happened) -> Story:
    body = event.body
    listed = story.listed
    new = {name: body[name] for name in ("stand", "text", "price", "content") if name in body}
    fields = freeze(body["fields"]) if "fields" in body else listed.fields
    raw = bodies.listed_object(event.sub, body).raw or listed.raw
    state = replace(story.state, trade=_trade(body.get("trade"), story.state.trade))
    return retold(story, listed=replace(listed, fields=fields, raw=raw, **new), state=state)


def _renumbered(story: Story, event: Happened) -> Story:
    return retold(story, listed=replace(story.listed, number=event.body["number"]))


def _routed(story: Story, event: Happened) -> Story:
    disciplines = (event.body["lead"], *event.body.get("others", ()))
    return retold(story, state=replace(story.state, disciplines=disciplines))


def _examination(value: str) -> Callable[[Story, Happened], Story]:
    def teller(story: Story, _: Happened) -> Story:
        return retold(story, state=replace(story.state, examination=value))  # type: ignore[arg-type]

    return teller


def _on_stand(state: State) -> State:
    """Whoever looks at an object at its stand finds it there; no move is written for that."""
    return replace(state, whereabouts="stand") if state.whereabouts == "exhibitor" else state


def _presented(story: Story, _: Happened) -> Story:
    return retold(story, state=replace(_on_stand(story.state), examination="presented"))


def _not_found(story: Story, event: Happened) -> Story:
    seen = "not_seen" if event.body.get("reason") in ("not_seen", "locked") else "not_found"
    return _examination(seen)(story, event)


def _looked_at(story: Story) -> State:
    early = ("listed", "presented", "unlisted", "not_found", "not_seen", "reopened")
    state = _on_stand(story.state)
    return replace(state, examination="examining") if state.examination in early else state


def _observed(story: Story, event: Happened) -> Story:
    return retold(
        story, state=_looked_at(story), observations=(*story.observations, bodies.observation(event))
    )


def _corrected(story: Story, event: Happened) -> Story:
    left = tuple(seen for seen in story.observations if seen.id != event.body["corrects"])
    return retold(story, observations=(*left, bodies.observation(event)))


def _pictured(story: Story, event: Happened) -> Story:
    return retold(story, pictures=(*story.pictures, event))


def _filed(story: Story, event: Happened) -> Story:
    due = story.state.examination == "paper_due"
    state = replace(story.state, examination="examining") if due else story.state
    return retold(story, state=state, papers=(*story.papers, event))


def _asked(story: Story, event: Happened) -> Story:
    return _examination("paper_due")(story, event) if event.body.get("paper") else story


def _locked(story: Story, event: Happened) -> Story:
    round_ = event.body["round"]
    cast = BallotCast(who=event.who, round=round_, n=event.n, id=event.id, late=round_ in story.revealed)
    return retold(story, state=_looked_at(story), ballots=(*story.ballots, cast))


def _recused(story: Story, event: Happened) -> Story:
    cast = BallotCast(who=event.who, round=0, n=event.n, id=event.id)
    return retold(story, recused=(*story.recused, cast))


def _revealed(story: Story, event: Happened) -> Story:
    """A round was counted. Unless the object is decided the panel talks, and what was proposed before stands no longer."""
    told = retold(story, revealed=(*story.revealed, event.body["round"]))
    if story.state.examination in DECIDED:
        return told
    return retold(told, state=replace(told.state, examination="opinions_in", outcome=""))


def _worded(story: Story, event: Happened) -> Story:
    """A step of the label. Words that differ from the sealed ones reopen what was decided on the sealed ones."""
    stage = STAGES[event.kind]
    version = event.body["version"]
    words = bodies.label(event, stage)
    known = next((label for label in reversed(story.labels) if label.version == version), None)
    if known is not None and "text" not in event.body:
        words = replace(known, stage=stage)
    others = tuple(label for label in story.labels if label.version != version)
    state = replace(story.state, label=stage, label_version=version)
    if event.kind == "label.hung":
        state = _hung(story, _on_stand(state), words)
    return retold(story, labels=(*others, words), state=state)


def _hung(story: Story, state: State, words: Label) -> State:
    sealed = story.state.label == "sealed"
    same = story.labels and story.labels[-1].text == words.text
    reopen = sealed and not same and state.examination in DECIDED
    return replace(state, examination="reopened") if reopen else state


def _unsealed(story: Story, _: Happened) -> Story:
    labels = story.labels
    if labels:
        labels = (*labels[:-1], replace(labels[-1], stage="as_hung"))
    return retold(story, labels=labels, state=replace(story.state, label="as_hung"))


def _misplaced(story: Story, event: Happened) -> Story:
    """A code that is read at another object: a copy, a swapped card or an honest mix-up. Somebody goes and looks."""
    where = event.body["where"]
    said = (
        f"its code was read at {where}"
        if event.body["here"] == "code"
        else f"the code read here is that of {where}"
    )
    return replace(story, alarms=(*story.alarms, f"Entry {event.n}: {said}. Go and look at both labels."))


def _outcome(examination: str) -> Callable[[Story, Happened], Story]:
    def teller(story: Story, event: Happened) -> Story:
        outcome = event.body["outcome"]
        reached = "referred" if outcome == "refer" and examination != "proposed" else examination
        state = replace(story.state, examination=reached, outcome=outcome)  # type: ignore[arg-type]
        return retold(story, state=state, outcomes=(*story.outcomes, event))

    return teller


def _moved(story: Story, event: Happened) -> Story:
    """A move names where it came from; when the record disagrees both stay, and somebody goes and looks."""
    body, alarms = event.body, story.alarms
    known = story.state.whereabouts
    if body["from"] != known and not (known == "exhibitor" and body["from"] == "stand"):
        sentence = f"Entry {event.n} moves it from {body['from']}; the record had it at {known}. Go and look."
        alarms = (*alarms, sentence)
    to: Whereabouts = body["to"]
    state = replace(story.state, whereabouts=to, place=body.get("place", ""))
    return retold(story, state=state, moves=(*story.moves, event), alarms=alarms)


def _held(story: Story, event: Happened) -> Story:
    body = event.body
    hold = Hold(
        name=body["hold"],
        sort=body["sort"],
        off_floor=bool(body.get("off_floor")),
        reason=body.get("reason", ""),
    )
    return _with_holds(story, (*(one for one in story.holds if one.name != hold.name), hold))


def _lifted(story: Story, event: Happened) -> Story:
    return _with_holds(story, tuple(one for one in story.holds if one.name != event.body["hold"]))


def _with_holds(story: Story, holds: tuple[Hold, ...]) -> Story:
    names = tuple(sorted(hold.name for hold in holds))
    return retold(story, holds=holds, state=replace(story.state, holds=names))


_TELLERS: Mapping[str, Callable[[Story, Happened], Story]] = {
    "object.changed": _changed,
    "object.renumbered": _renumbered,
    "object.withdrawn": _examination("withdrawn"),
    "object.routed": _routed,
    "object.presented": _presented,
    "object.not_found": _not_found,
    "observation.made": _observed,
    "observation.corrected": _corrected,
    "picture.taken": _pictured,
    "paper.filed": _filed,
    "question.asked": _asked,
    "ballot.locked": _locked,
    "ballot.recused": _recused,
    "round.revealed": _revealed,
    **dict.fromkeys(STAGES, _worded),
    "seal.revoked": _unsealed,
    "seal.misplaced": _misplaced,
    "outcome.proposed": _outcome("proposed"),
    "outcome.confirmed": _outcome("confirmed"),
    "outcome.final": _outcome("final"),
    "appeal.decided": _outcome("final"),
    "object.referred": _examination("referred"),
    "appeal.lodged": _examination("under_appeal"),
    "examination.reopened": _examination("reopened"),
    "object.moved": _moved,
    "hold.placed": _held,
    "hold.lifted": _lifted,
}
