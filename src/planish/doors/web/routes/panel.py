"""Like cases, second looks, appeals: so that like is treated alike, and nothing is decided twice by the same eyes."""

import secrets
from typing import Annotated, Literal

from fastapi import Path, Query, Response

from planish.doors.papers import printing
from planish.doors.web import models, two, views
from planish.doors.web.areas import area
from planish.doors.web.failing import Denied, NotThere
from planish.doors.web.looking import CHAIR, LEAD, OFFICE, PANEL, Looking, Staff
from planish.doors.web.pieces import at_words, changes_shown
from planish.doors.web.routes.papers import PDF, pdf
from planish.errands.opening import clock
from planish.errands.panel import appealing, hearing, liking, second_looks
from planish.errands.panel.evidence import as_hung
from planish.errands.telling import reporting
from planish.ledger.story import Story
from planish.records import Answer, Ballot

router = area("panel")
Which = Annotated[str, Path(max_length=80)]
READS_OUTCOMES = LEAD | OFFICE | {"appeals"}
LOOKS = PANEL | {"scribe", "office"}
HEARS = CHAIR | {"appeals"}


# -- like cases ---------------------------------------------------------------------------------------------------------


def _may_compare(looking: Looking, story: Story) -> bool:
    """Like cases tell outcomes of others: a member's own view is locked first, as before earlier fairs are shown."""
    if not looking.sees("reason", story):
        return False
    return looking.at(story).locked or looking.has(CHAIR | {"office", "appeals"}) or bool(story.revealed)


@router.get("/objects/{object_id}/like-cases", operation_id="like_cases")
def like_cases(object_id: Which, looking: Staff) -> views.LikeCasesShown:
    """What was done where the same fault was found. Only once your own view is locked."""
    story = looking.story(object_id)
    if not _may_compare(looking, story):
        raise Denied
    found = looking.desk.case_book().like(story)
    seen = {one for one in (c.object_id for c in found.cases) if _seen(looking, one)}
    return views.LikeCasesShown(
        faults=list(found.faults),
        cases=[
            views.LikeShown(
                object=one.object_id,
                number=one.number,
                words=one.words,
                outcome=one.outcome,
                reasons=list(one.reasons),
                different=list(one.different),
            )
            for one in found.cases
            if one.object_id in seen
        ],
        unlike=[alarm.sentence for alarm in found.alarms if {alarm.one, alarm.other} <= {object_id, *seen}],
    )


def _seen(looking: Looking, object_id: str) -> bool:
    story = looking.state.objects.get(object_id)
    return story is not None and looking.sees("labels", story) and looking.sees("reason", story)


@router.get("/unlike-cases", operation_id="unlike_cases")
def unlike_cases(looking: Staff) -> list[views.UnlikeShown]:
    """Every pair of like cases with unlike outcomes, as far as you may see both."""
    looking.must_be(READS_OUTCOMES)
    return [
        views.UnlikeShown(
            one=alarm.one,
            other=alarm.other,
            outcomes=alarm.outcomes,
            sentence=alarm.sentence,
            noted=_noted(looking, alarm),
        )
        for alarm in looking.desk.unlike()
        if _seen(looking, alarm.one) and _seen(looking, alarm.other)
    ]


def _noted(looking: Looking, alarm: liking.Unlike) -> bool:
    story = looking.state.objects[alarm.one]
    return any(e.kind == "like_case.noted" and e.body.get("like") == alarm.other for e in story.events)


@router.post("/unlike-cases", operation_id="note_unlike", status_code=201)
def note_unlike(given: models.UnlikeNoted, looking: Staff) -> views.Done:
    """Write down that two like cases had unlike outcomes, after somebody looked at both."""
    looking.must_be(LEAD | {"office"})
    found = [a for a in looking.desk.unlike() if (a.one, a.other) == (given.one, given.other)]
    if not found or not (_seen(looking, given.one) and _seen(looking, given.other)):
        raise NotThere("pair of cases")
    liking.note(looking.desk.fair, found[0], who=looking.who)
    return views.Done(done=1, words="Noted.")


# -- second looks -------------------------------------------------------------------------------------------------------


@router.get("/second-looks", operation_id="second_looks")
def second_looks_(
    looking: Staff, capacity: Annotated[int, Query(ge=0, le=1_000)] = 20
) -> views.SecondLooksShown:
    """What to look at again, in stand order. Why an object is on the list is told to nobody who might look."""
    looking.must_be(LOOKS)
    plan = second_looks.second_looks(
        looking.desk.fair, capacity=capacity, sees=looking.sees_split, only=looking.shown()
    )
    shown = views.SecondLooksShown(looks=[_look(looking, one) for one in plan.looks], capacity=capacity)
    if looking.has(LEAD | {"office"}):
        shown.would_pay, shown.referred = plan.would_pay, plan.referred
        shown.pace = [views.PaceShown(panel=p.panel, hour=p.hour, sentence=p.sentence) for p in plan.pace]
        both = [plan.missed.both.sentence] if plan.missed.both else []
        shown.missed = [plan.missed.sentence, *both]
        shown.assumptions = list(plan.assumptions)
    return shown


def _look(looking: Looking, one: second_looks.LookAgain) -> views.LookAgainShown:
    story = looking.state.objects[one.object_id]
    saw = any(cast.who == looking.who for cast in (*story.ballots, *story.recused))
    return views.LookAgainShown(
        object=one.object_id,
        number=one.number,
        words=one.words,
        done=one.done,
        may_look=not one.done and not saw and looking.has(PANEL),
        chance=one.reckoned.chance if one.reckoned else "",
    )


@router.post("/second-looks", operation_id="draw_second_looks", status_code=201)
def draw_second_looks(given: models.LotDrawn, looking: Staff) -> views.Done:
    """Draw objects by lot for a blind second look. The seed is written down, so that anybody can draw it again."""
    looking.must_be(CHAIR | {"office"})
    seed = secrets.randbelow(1_000_000) if given.seed is None else given.seed
    with looking.desk.fair.lock:
        drawn = second_looks.draw(
            looking.desk.fair, size=given.size, seed=seed, who=looking.who, among=given.among
        )
    return views.Done(done=len(drawn), words=f"{len(drawn)} drawn with seed {seed}.")


@router.post("/objects/{object_id}/second-look", operation_id="looked_again", status_code=201)
def looked_again(object_id: Which, given: models.LookedAgain, looking: Staff) -> views.Done:
    """Record what a second look found; only by somebody who had no ballot on the object."""
    looking.must_be(PANEL)
    with looking.desk.fair.lock:
        story = two.led(looking, object_id)
        second_looks.done(looking.desk.fair, story, found=given.found, who=looking.who, words=given.words)
    return views.Done(done=1, words="At the desk.")


# -- appeals ------------------------------------------------------------------------------------------------------------


@router.get("/appeals", operation_id="appeals")
def appeals(looking: Staff) -> list[views.AppealLine]:
    """Every appeal, open ones first."""
    looking.must_be(READS_OUTCOMES)
    may, found = looking.shown(), []
    for story in reporting.stories(looking.desk.fair):
        if not any(e.kind == "appeal.lodged" for e in story.events):
            continue
        if may(story) and looking.sees("reason", story):
            found.append(_appeal_line(looking, story))
    return sorted(found, key=lambda one: bool(one.decided))


def _appeal_line(looking: Looking, story: Story) -> views.AppealLine:
    one = appealing.standing(looking.desk.fair, story)
    return views.AppealLine(
        object=story.listed.id,
        stand=story.listed.stand,
        number=story.listed.number,
        words=as_hung(story).text,
        grounds=one.lodged,
        decided=one.decided,
    )


@router.get("/objects/{object_id}/appeal", operation_id="appeal")
def appeal(object_id: Which, looking: Staff) -> views.AppealShown:
    """Where an appeal of one object stands; with what the appeals panel reads, for those who may read all of it."""
    looking.must_be(READS_OUTCOMES)
    story = looking.story(object_id)
    if not looking.sees("reason", story):
        raise Denied
    fair = looking.desk.fair
    one, terms = appealing.standing(fair, story), appealing.terms(fair.rules)
    late = next((str(e.body.get("late", "")) for e in story.events if e.kind == "appeal.lodged"), "")
    old = appealing.known(story)
    hearers = list(one.seating.sitting) if looking.has(HEARS | {"office"}) else []
    shown = views.AppealShown(
        object=story.listed.id,
        stand=story.listed.stand,
        number=story.listed.number,
        words=as_hung(story).text,
        outcome=one.outcome,
        until=at_words(one.until_ms) if one.until_ms is not None else "",
        clause=one.clause,
        lodged=one.lodged,
        late=late,
        evidence=[views.EvidenceLine(words=line, new=event not in old) for event, line in one.evidence],
        decided=one.decided,
        why_not=[f"{problem.what} {problem.remedy}" for problem in one.why_not] if not one.lodged else [],
        may_hear=hearers,
        names={who: looking.state.people[who].name for who in hearers if who in looking.state.people},
        needed=terms.members,
        short=one.seating.why if looking.has(HEARS | {"office"}) else "",
    )
    if one.lodged and _reads_all(looking, story):
        _add_bundle(shown, looking, story)
    _add_hearing(shown, looking, story)
    shown.may = _may_appeal(looking, story, one, shown)
    return shown


def _add_hearing(shown: views.AppealShown, looking: Looking, story: Story) -> None:
    now = hearing.hearing(looking.desk.fair, story)
    if now is None or not looking.has(HEARS):
        return
    shown.round, shown.sealed, shown.needed = now.round, now.sealed, now.needed
    shown.own_sealed = looking.who in now.sealed_by
    shown.claims = hearing.claims(looking.desk.fair, story)


def _reads_all(looking: Looking, story: Story) -> bool:
    """The bundle holds readings and pictures: only for those who may see both without a ballot of their own."""
    return looking.has(HEARS) and looking.sees("laboratory", story) and looking.sees("pictures", story)


def _add_bundle(shown: views.AppealShown, looking: Looking, story: Story) -> None:
    read = appealing.bundle(looking.desk.fair, story, book=looking.desk.case_book())
    shown.words = read.words
    shown.asked_changes = changes_shown(read.changes)
    shown.reasons, shown.clauses = list(read.reasons), list(read.clauses)
    shown.seen, shown.readings, shown.clashes = list(read.seen), list(read.readings), list(read.clashes)
    shown.like_cases, shown.unlike = list(read.like_cases), list(read.alarms)


def _may_appeal(
    looking: Looking, story: Story, one: appealing.AppealStanding, shown: views.AppealShown
) -> list[Literal["lodge", "vote", "count", "decide"]]:
    found: list[Literal["lodge", "vote", "count", "decide"]] = []
    if looking.has(OFFICE) and not one.lodged and all(p.code == "appeal.late" for p in one.why_not):
        found.append("lodge")
    if story.state.examination != "under_appeal" or not looking.has(HEARS):
        return found
    begun = shown.round == 2 or shown.sealed > 0
    if looking.who in one.seating.sitting and not shown.own_sealed:
        found.append("vote")
    if not begun:
        found.append("decide")
    elif shown.sealed >= shown.needed:
        found.append("count")
    return found


@router.get(
    "/objects/{object_id}/appeal.pdf", operation_id="appeal_paper", response_class=Response, responses=PDF
)
def appeal_paper(object_id: Which, looking: Staff) -> Response:
    """What the appeals panel reads, on paper."""
    looking.must_be(HEARS)
    story = looking.story(object_id)
    if not _reads_all(looking, story):
        raise Denied
    read = appealing.bundle(looking.desk.fair, story, book=looking.desk.case_book())
    return pdf(printing.appeal(read, made=clock.now()), "appeal", object_id)


@router.post("/objects/{object_id}/appeal", operation_id="take_appeal", status_code=201)
def take_appeal(object_id: Which, given: models.AppealTaken, looking: Staff) -> views.AppealShown:
    """Take an appeal in at the office; after its time only with why it is heard all the same."""
    looking.must_be(OFFICE)
    with looking.desk.fair.lock:
        appealing.lodge(
            looking.desk.fair,
            looking.story(object_id),
            words=given.words,
            evidence=[("", line) for line in given.evidence],
            late=given.late,
            who=looking.who,
        )
    return appeal(object_id, looking)


@router.post("/objects/{object_id}/appeal/view", operation_id="seal_appeal_view", status_code=201)
def seal_appeal_view(object_id: Which, given: models.AppealView, looking: Staff) -> views.AppealShown:
    """Seal one's own view on an appeal that one may hear. It is counted, never shown, and stays as it is."""
    looking.must_be(HEARS)
    with looking.desk.fair.lock:
        story = two.led(looking, object_id)
        ballot = Ballot(
            object_id=object_id,
            person=looking.who,
            round=1,
            outcome=given.outcome,
            answers=tuple(Answer(claim=one, verdict="does_not_hold") for one in given.falls),
            reasons=tuple(given.reasons),
        )
        hearing.seal(looking.desk.fair, story, ballot)
    return appeal(object_id, looking)


@router.post("/objects/{object_id}/appeal/count", operation_id="count_appeal", status_code=201)
def count_appeal(object_id: Which, looking: Staff) -> views.AppealShown:
    """Close the round of a hearing and count it: the panel of appeal talks, or its outcome replaces the first."""
    looking.must_be(HEARS)
    with looking.desk.fair.lock:
        heard = hearing.count(looking.desk.fair, two.led(looking, object_id), who=looking.who)
    shown = appeal(object_id, looking)
    shown.talk, shown.rule = list(heard.talk), list(heard.rule)
    return shown


@router.post("/objects/{object_id}/appeal/decision", operation_id="decide_appeal", status_code=201)
def decide_appeal(object_id: Which, given: models.AppealDecided, looking: Staff) -> views.AppealShown:
    """Put the appeals panel's outcome in the first one's place: with its reasons, and who heard it."""
    looking.must_be(HEARS)
    with looking.desk.fair.lock:
        story = two.led(looking, object_id)
        appealing.decide(
            looking.desk.fair,
            story,
            outcome=given.outcome,
            reasons=given.reasons,
            members=given.members,
            who=looking.who,
        )
    return appeal(object_id, looking)
