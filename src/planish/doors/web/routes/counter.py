"""The counter: an exhibitor, the own stand, before and on the day. Never a count of the panel, a name or an opinion."""

from collections.abc import Sequence
from typing import Annotated, Literal

from fastapi import Body, Path, Query, Response

from planish.doors.web import models, views
from planish.doors.web.areas import area
from planish.doors.web.failing import NotThere
from planish.doors.web.guarding import BYTES
from planish.doors.web.looking import Exhibitor, Looking
from planish.doors.web.pieces import ASKS, URGENCY, changes_shown, claims_shown, clause_text, unread_shown
from planish.doors.web.routes.objects import file_paper, keep_picture, questions_for
from planish.doors.web.routes.papers import PDF, made, pdf
from planish.doors.web.routes.wording import agree, wording_of
from planish.doors.web.showing import papers_of, picture_shown
from planish.errands.intake.listing import correct
from planish.errands.opening.refusing import refuse
from planish.errands.panel import appealing, liking
from planish.errands.panel.checking import Checked, Fault, check
from planish.errands.panel.evidence import as_hung
from planish.errands.telling import reporting
from planish.errands.words.correcting import suggested
from planish.ledger.journal import Draft
from planish.ledger.story import Story
from planish.reasoning.wording import changes

router = area("counter", "/counter")
Which = Annotated[str, Path(max_length=80)]
TELLS = ("proposed", "confirmed", "final", "referred", "under_appeal", "reopened")
TOLD = ("confirmed", "final")
SAYS = {
    "listed": "on your list",
    "presented": "with the panel",
    "examining": "with the panel",
    "opinions_in": "with the panel",
    "proposed": "with the panel",
    "unlisted": "on your stand and on no list",
    "not_found": "looked for and not found",
    "not_seen": "not seen yet",
    "paper_due": "a paper is due",
    "referred": "a second look follows",
    "withdrawn": "taken out",
    "under_appeal": "under appeal",
    "reopened": "is looked at again",
}
OUTCOME_SAYS = {
    "accept": "may stand as described",
    "relabel": "may stand with the agreed words",
    "remove": "is taken off the stand",
    "refer": "a second look follows",
}


def _mine(looking: Looking) -> list[Story]:
    return [
        s for s in reporting.stories(looking.desk.fair, looking.viewer.stand) if looking.sees("labels", s)
    ]


def _one(looking: Looking, object_id: str) -> Story:
    story = looking.story(object_id)
    if story.listed.stand != looking.viewer.stand:
        raise NotThere("object")
    return story


def told_outcome(story: Story) -> str:
    """The outcome once it is confirmed; before, an exhibitor is told nothing of it."""
    return story.state.outcome if story.state.examination in (*TOLD, "under_appeal") else ""


def _says(story: Story) -> str:
    outcome = told_outcome(story)
    says = OUTCOME_SAYS.get(outcome, "") or SAYS.get(story.state.examination, "with the panel")
    return f"{says}; your appeal is open" if story.state.examination == "under_appeal" else says


@router.get("", operation_id="counter")
def counter(looking: Exhibitor) -> views.CounterShown:
    """The own stand: every object with what is to mend."""
    state, stand = looking.state, looking.viewer.stand
    stories = _mine(looking)
    lines = [_line(looking, story) for story in stories]
    return views.CounterShown(
        fair=state.name,
        stand=stand,
        exhibitor=state.stands[stand].exhibitor,
        objects=len(lines),
        clean=sum(1 for one in lines if not one.to_mend),
        to_mend=sum(1 for one in lines if one.to_mend),
        lists_taken=sum(1 for event in state.lists if event.sub == stand),
        questions=questions_for(looking, stories, to="exhibitor"),
        lines=lines,
    )


def _line(looking: Looking, story: Story) -> views.CounterLine:
    faults = _mendable(looking.desk.checked(story))
    return views.CounterLine(
        id=story.listed.id,
        number=story.listed.number,
        text=as_hung(story).text,
        to_mend=len(faults),
        worst=min((fault.severity for fault in faults), default=None),
        stage=story.state.label,
        outcome=told_outcome(story),
        says=_says(story),
    )


def _mendable(checked: Checked) -> list[Fault]:
    return list(checked.faults)


def _fault(looking: Looking, fault: Fault) -> views.CounterFault:
    book = looking.desk.fair.kit.book
    facts = [f for one in fault.facts if (f := book.look(one).fact) is not None]
    return views.CounterFault(
        severity=fault.severity,
        urgency=ASKS if fault.asks else URGENCY[fault.severity],
        sentence=fault.sentence,
        remedy=fault.remedy,
        clause=fault.clause,
        clause_text=clause_text(looking.desk, fault.clause),
        claims=list(fault.claims),
        sources=[f"{one.statement} ({one.source})" for one in facts],
    )


@router.get("/objects/{object_id}", operation_id="counter_object")
def counter_object(object_id: Which, looking: Exhibitor) -> views.CounterObject:
    """One of the own objects in full."""
    return _object(looking, _one(looking, object_id))


def _object(looking: Looking, story: Story) -> views.CounterObject:
    checked = looking.desk.checked(story)
    text, label = checked.listed.text, story.label
    better = suggested(checked, looking.desk.fair)
    asked = wording_of(story) if label is not None else None
    slip = next(iter(reporting.slips(looking.desk.fair, story.listed.stand, only=lambda s: s is story)), None)
    told = told_outcome(story)
    slip = slip if told else None
    return views.CounterObject(
        id=story.listed.id,
        stand=story.listed.stand,
        number=story.listed.number,
        text=text,
        price=(label.price if label else "") or story.listed.price,
        version=story.state.label_version,
        stage=story.state.label,
        may_correct=may_correct(story),
        claims=claims_shown(checked.reading),
        unread=unread_shown(checked.reading),
        faults=[_fault(looking, fault) for fault in _mendable(checked)],
        suggestion=better if better != text else "",
        suggestion_changes=changes_shown(changes(text, better)) if better != text else [],
        outcome=told,
        says=_says(story),
        reasons=_told_reasons(story, slip.reasons if slip else ()) if told else [],
        clauses=[f"{number}: {clause_text(looking.desk, number)}" for number in slip.clauses] if slip else [],
        to_do=slip.to_do if slip else "",
        appeal=slip.appeal if slip else "",
        may_appeal=bool(told) and not appealing.standing(looking.desk.fair, story).why_not,
        asked=asked.asked if asked else "",
        asked_changes=asked.changes if asked else [],
        asked_why=asked.why if asked else [],
        may_agree=story.state.label == "asked",
        whereabouts=story.state.whereabouts,
        pictures=[picture_shown(event) for event in story.pictures],
        papers=papers_of(story),
        questions=questions_for(looking, [story], to="exhibitor"),
    )


def _told_reasons(story: Story, on_slip: Sequence[str]) -> list[str]:
    """Reasons as on the slip; an appeal that ended well has no slip, and its reasons are told all the same."""
    last = story.outcomes[-1] if story.outcomes else None
    if last is not None and last.kind == "appeal.decided":
        return [str(reason) for reason in last.body.get("reasons", ())]
    return list(
        on_slip or (liking.outcome_reasons(story) if story.state.examination == "under_appeal" else ())
    )


def may_correct(story: Story) -> bool:
    """True until somebody looked at the object: after that words change by agreement only."""
    return story.state.examination == "listed" and story.state.label in ("draft", "as_hung")


@router.post("/try", operation_id="counter_try")
def counter_try(given: models.LabelCorrected, looking: Exhibitor) -> views.CounterTry:
    """What the check says of words; nothing is kept."""
    from planish.records import ListedObject

    listed = ListedObject(
        id="try", stand=looking.viewer.stand, number="", text=given.text, price=given.price or "—"
    )
    checked = check(listed, looking.desk.fair.kit)
    return views.CounterTry(
        text=given.text,
        claims=claims_shown(checked.reading),
        unread=unread_shown(checked.reading),
        faults=[_fault(looking, fault) for fault in _mendable(checked)],
    )


@router.put("/objects/{object_id}/label", operation_id="correct_label")
def correct_label(object_id: Which, given: models.LabelCorrected, looking: Exhibitor) -> views.CounterObject:
    """Put a label right, before anybody looks at the object."""
    with looking.desk.fair.lock:
        story = _one(looking, object_id)
        if not may_correct(story):
            raise refuse(
                f"object {object_id}",
                "The panel has it, or the words are under way.",
                "Come to the office about these words.",
                code="counter.too_late",
                kind="rule",
            )
        if given.version != story.state.label_version:
            raise refuse(
                f"object {object_id}",
                "The words were changed meanwhile.",
                "Read them again, then change them.",
                code="counter.changed",
                kind="rule",
            )
        correct(looking.desk.fair, story, text=given.text, price=given.price, who=looking.who)
    return _object(looking, _one(looking, object_id))


@router.post("/objects/{object_id}/agree", operation_id="counter_agree", status_code=201)
def counter_agree(object_id: Which, given: models.WordsAgreed, looking: Exhibitor) -> views.CounterObject:
    """Agree to the words asked; the panel signed when it asked for them."""
    with looking.desk.fair.lock:
        story = _one(looking, object_id)
        asked = next((e for e in reversed(story.events) if e.kind == "label.asked"), None)
        if asked is None:
            raise refuse(
                f"object {object_id}",
                "No words are asked.",
                "There is nothing to sign.",
                code="words.none",
                kind="rule",
            )
        agree(looking, story, given.version, for_panel=asked.who, for_exhibitor=looking.who)
    return _object(looking, _one(looking, object_id))


@router.post("/objects/{object_id}/reprint", operation_id="ask_reprint", status_code=201)
def ask_reprint(object_id: Which, looking: Exhibitor) -> views.Done:
    """Ask the office to print this label again."""
    story = _one(looking, object_id)
    if not reporting.may_hang(story):
        raise refuse(
            f"object {object_id}",
            "Its words are not settled.",
            "Wait for the panel.",
            code="reprint.early",
            kind="rule",
        )
    words = f"Please print the label of No. {story.listed.number} again."
    open_now = [q for q in looking.state.questions if q.sub == object_id and q.body.get("words") == words]
    if not open_now:
        draft = Draft(
            kind="question.asked", sub=object_id, who=looking.who, body={"to": "office", "words": words}
        )
        looking.desk.fair.record([draft])
    return views.Done(done=1, words="The office has it.")


@router.post("/objects/{object_id}/appeal", operation_id="lodge_appeal", status_code=201)
def lodge_appeal(object_id: Which, given: models.AppealLodged, looking: Exhibitor) -> views.CounterObject:
    """Appeal with new evidence, in words; pictures are added to the object."""
    with looking.desk.fair.lock:
        appealing.lodge(
            looking.desk.fair,
            _one(looking, object_id),
            words=given.words,
            evidence=[("", line) for line in given.evidence],
            who=looking.who,
        )
    return _object(looking, _one(looking, object_id))


@router.post("/objects/{object_id}/pictures", operation_id="counter_picture", status_code=201)
def counter_picture(
    object_id: Which,
    looking: Exhibitor,
    content: Annotated[bytes, Body(media_type=BYTES)],
    view: Annotated[str, Query(max_length=40, pattern=r"^[\w .-]*$")] = "",
) -> views.PictureShown:
    """Add a picture of an own object or paper (JPEG, PNG or WebP as bytes)."""
    story = _one(looking, object_id)
    if len(story.pictures) >= 20:
        raise refuse(
            f"object {object_id}",
            "It has twenty pictures.",
            "Bring more to the office.",
            code="picture.many",
            kind="rule",
        )
    return keep_picture(looking, object_id, content, view, "")


@router.post("/objects/{object_id}/papers", operation_id="counter_file_paper", status_code=201)
def counter_file_paper(object_id: Which, given: models.PaperFiled, looking: Exhibitor) -> views.Done:
    """File a paper of an own object, in words."""
    story = _one(looking, object_id)
    if len(story.papers) >= 20:
        raise refuse(
            f"object {object_id}",
            "It has twenty papers.",
            "Bring more to the office.",
            code="paper.many",
            kind="rule",
        )
    return file_paper(looking, object_id, given)


@router.get("/papers/{paper}.pdf", operation_id="counter_paper", response_class=Response, responses=PDF)
def counter_paper(
    paper: Annotated[Literal["slips", "wording", "labels"], Path()], looking: Exhibitor
) -> Response:
    """Slips, wording sheets or label cards of the own stand."""
    return pdf(made(looking, paper, looking.viewer.stand), paper, looking.viewer.stand)
