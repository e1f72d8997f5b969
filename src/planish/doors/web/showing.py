"""From stories to answers: every field that somebody may not see is left out here, by asking `Looking`."""

from collections.abc import Mapping

from planish.doors.papers.ribbon import ribbon, ribbon_words
from planish.doors.papers.ribbon_seen import ribbon_of
from planish.doors.web import views
from planish.doors.web.looking import FLOOR, LEAD, OFFICE, Looking
from planish.doors.web.pieces import at_words, claims_shown, clash_shown, fault_shown, unread_shown
from planish.errands.panel.ballots import covered, from_body, may_vote
from planish.errands.panel.evidence import Evident, as_hung
from planish.errands.panel.examining import count
from planish.errands.seals import sealing
from planish.ledger.sealing import check_code
from planish.ledger.story import Story
from planish.ledger.upcasting import Happened
from planish.reasoning.settling.seeing import answer_without_counts
from planish.records import Label, Observation, Settlement

TOLD = {
    "object.listed": "listed",
    "object.changed": "the list changed",
    "object.renumbered": "renumbered",
    "object.withdrawn": "taken out of the fair",
    "object.presented": "laid before the panel",
    "object.not_found": "looked for and not found",
    "label.hung": "words hung",
    "label.asked": "other words asked",
    "label.agreed": "words agreed",
    "label.printed": "label printed",
    "label.checked": "hung label read",
    "label.sealed": "label sealed",
    "outcome.proposed": "outcome proposed",
    "outcome.confirmed": "outcome confirmed",
    "outcome.final": "outcome final",
    "object.referred": "referred",
    "appeal.lodged": "appeal lodged",
    "appeal.decided": "appeal decided",
    "examination.reopened": "reopened",
    "object.moved": "moved",
    "hold.placed": "held",
    "hold.lifted": "hold lifted",
    "observation.made": "looked at",
    "observation.corrected": "a look put right",
    "picture.taken": "picture taken",
    "seal.revoked": "seal withdrawn",
    "label.superseded": "seal superseded",
    "paper.filed": "paper filed",
    "question.asked": "question asked",
    "question.answered": "question answered",
    "second_look.asked": "second look asked",
}
"""Kinds that a history tells. Ballots, stepping back and rounds are not among them: who did what when would tell."""
_DATA_OF = {
    "observation": "pictures",
    "picture": "pictures",
    "paper": "papers",
    "object.moved": "whereabouts",
    "hold": "whereabouts",
    "outcome": "reason",
    "appeal": "reason",
    "examination": "reason",
    "object.referred": "reason",
    "second_look": "reason",
}


def line(looking: Looking, story: Story) -> views.ObjectLine:
    """One object in a list."""
    faults = looking.desk.checked(story).faults
    who, state = looking.who, story.state
    mine = "stepped_back" if any(c.who == who for c in story.recused) else ""
    if not mine and any(cast.who == who for cast in story.ballots):
        mine = "locked"
    return views.ObjectLine(
        id=story.listed.id,
        stand=story.listed.stand,
        number=story.listed.number,
        text=as_hung(story).text,
        examination=state.examination,
        outcome=state.outcome if looking.sees("reason", story) else "",
        label=state.label,
        disciplines=list(state.disciplines),
        whereabouts=state.whereabouts if looking.sees("whereabouts", story) else "",
        faults=len(faults),
        worst=min((fault.severity for fault in faults), default=None),
        mine=mine,  # type: ignore[arg-type]
    )


def object_shown(looking: Looking, story: Story) -> views.ObjectShown:
    """One object, as its reader may see it now."""
    desk, state = looking.desk, story.state
    looks = looking.sees("pictures", story) or looking.sees("laboratory", story)
    seen = desk.evident(story)
    shown = views.ObjectShown(
        id=story.listed.id,
        stand=story.listed.stand,
        number=story.listed.number,
        exhibitor=_exhibitor(looking, story),
        text=seen.checked.listed.text,
        price=_price(story) if looking.sees("price", story) else None,
        examination=state.examination,
        outcome=state.outcome if looking.sees("reason", story) else "",
        label_stage=state.label,
        label_version=state.label_version,
        whereabouts=state.whereabouts if looking.sees("whereabouts", story) else "",
        place=state.place if looking.sees("whereabouts", story) else "",
        trade=state.trade,
        holds=holds_shown(looking, story),
        seal=_seal(looking, story),
        may_be_shown=story.may_be_shown,
        disciplines=list(state.disciplines),
        labels=[label_shown(label, looking.sees("price", story)) for label in story.labels],
        claims=claims_shown(seen.reading),
        unread=unread_shown(seen.reading),
        faults=[fault_shown(fault, desk) for fault in seen.checked.faults],
        clauses=[
            views.ClauseAnswerShown(
                clause=one.clause, answer=one.answer, sentence=one.sentence, remedy=one.remedy
            )
            for one in seen.checked.answers
        ],
        stepped_back=any(cast.who == looking.who for cast in story.recused),
        may_vote=may_vote(looking.state, story, looking.who)
        if looking.sees("own_ballot", story) or looking.writes("own_ballot", story)
        else None,
        round=2 if 1 in story.revealed else 1,
        history=history(looking, story),
        alarms=list(story.alarms) if looking.sees("whereabouts", story) else [],
        hidden=[],
        may=may(looking, story),
    )
    shown.beside = _beside(looking, story)
    journal = desk.fair.journal
    shown.on_outcome = journal.latest("outcome.confirmed", sub=story.listed.id)
    shown.on_label = journal.latest("label.asked", sub=story.listed.id)
    if looks:
        _add_looks(shown, looking, story, seen)
    _add_papers(shown, looking, story)
    _add_outcome(shown, looking, story)
    shown.own_ballots = own_ballots(looking, story)
    if any(cast.who == looking.who for cast in story.ballots) and covered(story):
        shown.hidden.append(
            "your own view: it is locked, and lies covered until the fair's keys are unlocked"
        )
    return shown


def _exhibitor(looking: Looking, story: Story) -> str:
    known = looking.state.stands.get(story.listed.stand)
    return known.exhibitor if known is not None and looking.sees("stand_list", story) else ""


def holds_shown(looking: Looking, story: Story) -> list[views.HoldShown]:
    """The holds that are on; why, only for who may read whereabouts and incidents."""
    why = looking.sees("whereabouts", story)
    return [
        views.HoldShown(
            name=one.name, sort=one.sort, off_floor=one.off_floor, reason=one.reason if why else ""
        )
        for one in story.holds
    ]


def _seal(looking: Looking, story: Story) -> str:
    """The check code of the present seal; "" when the label is not sealed."""
    sealed = sealing.seal_of(looking.desk.fair, story)
    return check_code(sealed) if sealed else ""


def _price(story: Story) -> str:
    return (story.label.price if story.label else "") or story.listed.price


def label_shown(label: Label, price: bool) -> views.LabelShown:
    """One version of the words."""
    return views.LabelShown(
        version=label.version, text=label.text, stage=label.stage, price=label.price if price else ""
    )


def laboratory(one: Observation) -> bool:
    """True for readings that the matrix keeps as laboratory readings: made with an instrument for composition."""
    return one.kind == "composition"


def _add_looks(shown: views.ObjectShown, looking: Looking, story: Story, seen: Evident) -> None:
    """Looks, clashes and the ribbon. What leans on a laboratory reading is shown only to who may read it."""
    readings = {one.id for one in story.observations if laboratory(one)}
    lab = looking.sees("laboratory", story)
    see_all = lab or not readings
    if readings and not lab:
        shown.hidden.append("laboratory readings, and what rests on them, until your own view is locked")
    looks = looking.sees("pictures", story)
    shown.observations = [
        observation_shown(one, seen) for one in story.observations if (lab if one.id in readings else looks)
    ]
    shown.pictures = [picture_shown(event) for event in story.pictures if looks]
    if not see_all:
        return
    shown.clashes = [clash_shown(clash, seen.binding, looking.desk) for clash in seen.clashes]
    if seen.weighing is not None and seen.weighing.main is not None:
        shown.date_sentence = seen.weighing.main.sentence
    if seen.case is not None:
        shown.ribbon_url = f"/api/v1/objects/{story.listed.id}/ribbon.svg"
        shown.ribbon_words = ribbon_said(seen)


def ribbon_drawn(seen: Evident) -> str:
    """The year ribbon as SVG; "" when nothing speaks of a year."""
    spec = ribbon_of(seen, face="screen")
    return ribbon(spec) if spec is not None else ""


def ribbon_said(seen: Evident) -> str:
    """What the ribbon shows, in words."""
    spec = ribbon_of(seen, face="screen")
    return ribbon_words(spec) if spec is not None else ""


def observation_shown(one: Observation, seen: Evident) -> views.ObservationShown:
    """A look and what it tells; by whom is not told: reasons speak of objects."""
    measured = seen.measured.get(one.id)
    return views.ObservationShown(
        id=one.id,
        kind=one.kind,
        part=one.part,
        words=one.words,
        more={name: _said(value) for name, value in one.more.items()},
        values=[
            views.FigureShown(name=name, amount=q.amount, unit=q.unit, uncertainty=q.uncertainty)
            for name, q in one.values.items()
        ],
        terms=list(one.terms),
        instrument=one.instrument,
        spot=one.spot,
        surface=one.surface,
        sentences=list(measured.sentences) if measured is not None else [],
        cautions=list(measured.cautions) if measured is not None else [],
    )


def _said(value: object) -> str:
    """What stands in a further field of a look, in words: a diamond's corners one after another."""
    if isinstance(value, Mapping):
        return ", ".join(f"{name} {said}" for name, said in value.items() if said)
    return f"{value:g}" if isinstance(value, float) else str(value)


def picture_shown(event: Happened) -> views.PictureShown:
    """A picture by the digest of its re-encoded copy."""
    digest = event.att[0] if event.att else ""
    return views.PictureShown(
        digest=digest,
        url=f"/api/v1/pictures/{digest}",
        view=str(event.body.get("view", "")),
        part=str(event.body.get("part", "")),
    )


def papers_of(story: Story) -> list[views.PaperShown]:
    """Papers on file."""
    return [
        views.PaperShown(sort=str(event.body["sort"]), words=str(event.body.get("words", "")))
        for event in story.papers
    ]


def _add_papers(shown: views.ObjectShown, looking: Looking, story: Story) -> None:
    if looking.sees("papers", story):
        shown.papers = papers_of(story)
    elif story.papers:
        shown.hidden.append("papers, until your own view is locked")
    if looking.sees("whereabouts", story):
        shown.moves = [move_shown(event) for event in story.moves]
    if looking.sees("recusal", story) and looking.has(OFFICE | {"leader"}):
        shown.recused = sorted({cast.who for cast in story.recused})
    raw = story.listed.raw
    if raw is not None and looking.sees("price", story):  # raw rows hold prices
        shown.raw = dict(raw.cells)


def move_shown(event: Happened) -> views.MoveShown:
    """One move."""
    body = event.body
    return views.MoveShown(
        n=event.n,
        at=at_words(event.recv_ms),
        from_=str(body["from"]),
        to=str(body["to"]),
        place=str(body.get("place", "")),
        given_by=str(body["given_by"]),
        taken_by=str(body["taken_by"]),
        condition=str(body.get("condition", "")),
    )


def _add_outcome(shown: views.ObjectShown, looking: Looking, story: Story) -> None:
    if looking.sees("reason", story) and story.outcomes:
        newest = story.outcomes[-1]
        with_reasons = next((e for e in reversed(story.outcomes) if e.body.get("reasons")), newest)
        with_clauses = next((e for e in reversed(story.outcomes) if e.body.get("clauses")), newest)
        shown.reasons = [str(reason) for reason in with_reasons.body.get("reasons", ())]
        shown.clauses_of_outcome = [str(clause) for clause in with_clauses.body.get("clauses", ())]
    if story.revealed and looking.sees("reason", story) and covered(story):
        shown.hidden.append("how it was counted, until the fair's keys are unlocked")
    elif story.revealed and looking.sees("reason", story):
        settlement = count(looking.desk.fair, story).settlement
        shown.answer = answer_shown(settlement, triggers=looking.sees_split(story))
        shown.split = split_shown(settlement) if looking.sees_split(story) else None


def answer_shown(settlement: Settlement, *, triggers: bool = False) -> views.AnswerShown:
    """The panel's answer without any number of votes."""
    plain = answer_without_counts(settlement)
    return views.AnswerShown(
        then=plain.then,
        outcome=plain.outcome or "",
        answers=[views.ClaimAnswered(claim=claim, answer=said) for claim, said in plain.answers],
        reasons=list(plain.reasons),
        rule=list(plain.rule),
        triggers=[one.sentence for one in settlement.triggers] if triggers else [],
    )


def split_shown(settlement: Settlement) -> views.SplitShown:
    """The unnamed split."""
    return views.SplitShown(
        round=settlement.round,
        outcomes={word: votes for word, votes in settlement.votes},
        claims=[
            views.ClaimSplit(
                claim=f.claim, holds=f.holds, does_not_hold=f.does_not_hold, cannot_say=f.cannot_say
            )
            for f in settlement.findings
        ],
    )


def own_ballots(looking: Looking, story: Story) -> list[views.OwnBallot]:
    """The reader's own ballots as locked, and nobody else's."""
    if not looking.desk.fair.state.people.get(looking.who):
        return []
    late = {cast.id: cast.late for cast in story.ballots}
    mine = (
        event
        for event in story.events
        if event.kind == "ballot.locked"
        and event.who == looking.who
        and "ballot" in {*event.body, *event.covered}
    )
    return [_own(story, event, late.get(event.id, False)) for event in mine]


def _own(story: Story, event: Happened, late: bool) -> views.OwnBallot:
    if "ballot" in event.covered:
        round_ = int(event.body["round"])
        return views.OwnBallot(round=round_, late=late, outcome="", answers=[], reasons=[], wording="")
    ballot = from_body(story.listed.id, event.who, {"round": event.body["round"], **event.body["ballot"]})
    years = ballot.date.years if ballot.date else None
    return views.OwnBallot(
        round=ballot.round,
        late=late,
        outcome=ballot.outcome or "",
        answers=[
            views.OwnAnswer(claim=one.claim, verdict=one.verdict, reason=one.reason) for one in ballot.answers
        ],
        earliest=years.earliest if years else None,
        latest=years.latest if years else None,
        reasons=list(ballot.reasons),
        wording=ballot.wording,
    )


def history(looking: Looking, story: Story) -> list[views.HistoryLine]:
    """What happened to an object, as far as its reader may know: never a ballot, never who stepped back."""
    told = []
    for event in story.events:
        if event.kind in TOLD and _may_know(looking, story, event):
            told.append(
                views.HistoryLine(
                    n=event.n, at=at_words(event.recv_ms), what=TOLD[event.kind], words=_words_of(event)
                )
            )
    return told


NOT_APPLIED = {
    "stale": "Somebody was quicker; it is kept and does not count.",
    "held": "It waits for the chair.",
    "denied": "It was not theirs to do; it is kept and does not count.",
}


def _beside(looking: Looking, story: Story) -> list[views.BesideShown]:
    """What was recorded about an object and not applied, so that nobody's words are lost; never of a ballot."""
    return [
        views.BesideShown(
            n=event.n,
            at=at_words(event.recv_ms),
            what=TOLD[event.kind],
            words=_words_of(event),
            why=NOT_APPLIED.get(event.status, ""),
        )
        for event in story.losers
        if event.kind in TOLD and _may_know(looking, story, event)
    ]


def _may_know(looking: Looking, story: Story, event: Happened) -> bool:
    for start, data in _DATA_OF.items():
        if event.kind.startswith(start):
            return looking.sees(data, story)  # type: ignore[arg-type]
    return looking.sees("labels", story)


def _words_of(event: Happened) -> str:
    if event.kind.startswith("label."):
        return str(event.body.get("text", ""))
    if event.kind.startswith("outcome."):
        return str(event.body.get("outcome", ""))
    if event.kind == "object.moved":
        return f"{event.body['from']} → {event.body['to']} {event.body.get('place', '')}".strip()
    return ""


def may(looking: Looking, story: Story) -> list[str]:
    """What this reader may do with this object now, for the buttons of a page; the log judges again."""
    state = story.state
    found = []
    if looking.writes("pictures", story):
        found += ["observe", "picture"]
    if looking.writes("own_ballot", story) and not may_vote(looking.state, story, looking.who):
        found += ["ballot", "recuse"]
    lead = looking.has(LEAD) and looking.sees("reason", story)
    if lead and story.ballots:
        found.append("count")
    if lead and state.examination == "proposed" and state.outcome != "refer":
        found.append("confirm")
    if looking.has(OFFICE) and state.examination == "confirmed":
        found.append("final")
    if looking.has(frozenset({"chair", "deputy"})) and state.examination in ("confirmed", "final"):
        found.append("reopen")
    if lead and state.label in ("as_hung", "asked") and state.outcome:
        found.append("ask_words")
    if lead and state.label == "asked":
        found.append("agree_words")
    if looking.writes("whereabouts", story) or looking.has(OFFICE):
        found.append("move")
    return found + _may_keep(looking, story)


def _may_keep(looking: Looking, story: Story) -> list[str]:
    """Holds and seals."""
    found, state = [], story.state
    if looking.has(FLOOR):
        found.append("hold")
    if looking.has(OFFICE):
        found += ["lift", *(["revoke_seal"] if state.label == "sealed" else [])]
    if looking.has(OFFICE | {"steward"}) and sealing.to_seal(story):
        found.append("seal")
    return found
