"""Objects: lists, one object, its ribbon, looks and moves; the board; open cases; questions; safe-keeping."""

from collections.abc import Iterable
from hashlib import sha256
from typing import Annotated

from fastapi import Body, Header, Path, Query, Response

from planish.doors.web import models, pictures, views
from planish.doors.web.areas import area
from planish.doors.web.failing import Denied, NotThere
from planish.doors.web.guarding import BYTES
from planish.doors.web.looking import FLOOR, OFFICE, Anyone, Both, Looking, Staff
from planish.doors.web.showing import laboratory, line, object_shown, picture_shown, ribbon_drawn
from planish.errands.intake import asking, moving
from planish.errands.intake.listing import stand_order
from planish.errands.intake.searching import Wanted
from planish.errands.opening.refusing import refuse
from planish.errands.opening.serving import Desk
from planish.errands.panel import examining
from planish.errands.panel.evidence import as_hung
from planish.errands.telling import reporting
from planish.ledger.journal import Draft
from planish.ledger.story import Story
from planish.records import Observation, Quantity, freeze

router = area("objects")
Which = Annotated[str, Path(max_length=80)]
BOARD_MS = 5_000
"""A board is drawn anew when the log has news, and else this often, for its minutes left."""
SVG_POLICY = "default-src 'none'; style-src 'unsafe-inline'"


@router.get("/objects", operation_id="objects")
def objects(
    looking: Staff,
    text: Annotated[str, Query(max_length=200)] = "",
    stand: Annotated[str, Query(max_length=80)] = "",
    discipline: Annotated[str, Query(max_length=80)] = "",
    examination: Annotated[str, Query(max_length=40)] = "",
    outcome: Annotated[str, Query(max_length=40)] = "",
    label: Annotated[str, Query(max_length=40)] = "",
    mine: Annotated[bool, Query()] = False,
    offset: Annotated[int, Query(ge=0, le=1_000_000)] = 0,
    size: Annotated[int, Query(ge=1, le=200)] = 50,
) -> views.ObjectPage:
    """Objects in stand and number order. `mine`: those on which one's own view is not locked yet."""
    index, may = looking.desk.fair.index, looking.shown()
    wanted = Wanted(
        text=text,
        stand=stand,
        discipline=discipline,
        examination=examination,
        outcome=outcome,
        label=label,
        without=index.told.get(looking.who, set()).copy() if mine else frozenset(),
    )
    # a filter on what a reader may not see finds nothing for that object
    both = Both(may, looking.shown("reason")) if outcome else may
    found = index.page(looking.state, wanted, may=both, offset=offset, size=size)
    items = [line(looking, looking.state.objects[one]) for one in found.ids]
    more = offset + size
    return views.ObjectPage(
        total=found.total, offset=offset, next=more if more < found.total else None, items=items
    )


@router.get("/objects/{object_id}", operation_id="object_detail")
def object_detail(object_id: Which, looking: Staff) -> views.ObjectShown:
    """One object, as you may see it now."""
    return object_shown(looking, looking.story(object_id))


@router.get(
    "/objects/{object_id}/ribbon.svg",
    operation_id="ribbon",
    response_class=Response,
    responses={200: {"content": {"image/svg+xml": {"schema": {"type": "string"}}}}},
)
def ribbon(object_id: Which, looking: Staff) -> Response:
    """The year ribbon of one object as a picture (SVG)."""
    story = looking.story(object_id)
    if not looking.sees("pictures", story) and not looking.sees("laboratory", story):
        raise Denied
    if any(laboratory(one) for one in story.observations) and not looking.sees("laboratory", story):
        raise Denied
    drawn = ribbon_drawn(looking.desk.evident(story))
    if not drawn:
        raise NotThere("ribbon")
    return Response(
        drawn,
        media_type="image/svg+xml",
        headers={"Content-Security-Policy": SVG_POLICY, "Cache-Control": "no-store"},
    )


@router.get("/board", operation_id="board", responses={304: {"description": "Nothing changed."}})
def board(
    looking: Staff,
    if_none_match: Annotated[str | None, Header()] = None,
) -> views.BoardShown:
    """Stands × disciplines. Ask every few seconds with the ETag given: 304 while nothing changed."""
    if not looking.sees("statistics"):
        raise Denied
    desk = looking.desk
    body, tag = desk.kept_once("board", (looking.state.n, desk.now() // BOARD_MS), lambda: _board(desk))
    headers = {"ETag": tag, "Cache-Control": "private, no-cache"}
    if if_none_match == tag:
        return Response(status_code=304, headers=headers)  # type: ignore[return-value]
    return Response(body, media_type="application/json", headers=headers)  # type: ignore[return-value]


def _board(desk: Desk) -> tuple[bytes, str]:
    """The board as it is sent, the same for everybody who may see it, with its tag."""
    state = desk.fair.state
    cells = desk.fair.board.cells()
    pace = desk.fair.board.pace(desk.now())
    shown = views.BoardShown(
        stands=sorted({*state.stands, *(cell.stand for cell in cells)}, key=stand_order),
        disciplines=sorted({cell.discipline for cell in cells}),
        cells=[views.BoardCell.model_validate(cell) for cell in cells],
        per_hour=pace.per_hour,
        minutes_left=pace.minutes,
        minutes_low=pace.minutes_low,
        minutes_high=pace.minutes_high,
        window_minutes=pace.window_minutes,
        **desk.fair.board.totals(),
    )
    body = shown.model_dump_json().encode()
    tag = f'"{sha256(body).hexdigest()[:32]}"'  # of what is shown: no number of entries to be read from it
    return body, tag


# -- looks --------------------------------------------------------------------------------------------------------------


@router.post("/objects/{object_id}/observations", operation_id="add_observation", status_code=201)
def add_observation(object_id: Which, given: models.NewObservation, looking: Staff) -> views.ObjectShown:
    """Note what was seen or measured. `corrects` names the observation that this one puts right."""
    story = looking.story(object_id)
    data = (
        "laboratory" if given.kind == "composition" and looking.viewer.roles <= {"laboratory"} else "pictures"
    )
    if not looking.writes(data, story):  # type: ignore[arg-type]
        looking.must_be(frozenset({"chair", "deputy"}))
    if given.corrects and given.corrects not in {one.id for one in story.observations}:
        raise refuse(
            "corrects",
            "There is no such observation.",
            "Look at the object again.",
            code="observation.unknown",
        )
    seen = Observation(
        id="",
        object_id=object_id,
        kind=given.kind,
        by=looking.who,
        part=given.part,
        values=freeze({n: Quantity(f.amount, f.unit, f.uncertainty) for n, f in given.values.items()}),
        words=given.words,
        terms=tuple(given.terms),
        instrument=given.instrument,
        spot=given.spot,
        surface=given.surface,
        about=given.about,
        original=given.original,
        corrects=given.corrects,
        more=freeze({n: freeze(v) if isinstance(v, dict) else v for n, v in given.more.items()}),
    )
    examining.observe(looking.desk.fair, [seen])
    return object_shown(looking, looking.story(object_id))


@router.post("/objects/{object_id}/presented", operation_id="present_object", status_code=201)
def present_object(object_id: Which, looking: Staff) -> views.ObjectLine:
    """The object lies before a panel."""
    return _on_floor(looking, object_id, Draft(kind="object.presented", sub=object_id, who=looking.who))


@router.post("/objects/{object_id}/not-found", operation_id="not_found", status_code=201)
def not_found(object_id: Which, given: models.NotFoundSaid, looking: Staff) -> views.ObjectLine:
    """Looked for and not found."""
    body = {"reason": given.reason}
    return _on_floor(
        looking, object_id, Draft(kind="object.not_found", sub=object_id, who=looking.who, body=body)
    )


def _on_floor(looking: Looking, object_id: str, draft: Draft) -> views.ObjectLine:
    looking.must_be(FLOOR - {"laboratory"})
    fair = looking.desk.fair
    with fair.lock:
        story = looking.story(object_id)
        if story.state.examination not in (
            "listed",
            "unlisted",
            "presented",
            "not_found",
            "not_seen",
            "reopened",
        ):
            raise refuse(
                f"object {object_id}",
                "It is past that.",
                "Look at the object again.",
                code="object.past",
                kind="rule",
            )
        fair.record([draft])
    return line(looking, looking.story(object_id))


@router.post("/objects/{object_id}/pictures", operation_id="add_picture", status_code=201)
def add_picture(
    object_id: Which,
    looking: Staff,
    content: Annotated[bytes, Body(media_type=BYTES)],
    view: Annotated[str, Query(max_length=40, pattern=r"^[\w .-]*$")] = "",
    part: Annotated[str, Query(max_length=40, pattern=r"^[\w .-]*$")] = "",
) -> views.PictureShown:
    """Add a picture (JPEG, PNG or WebP as bytes). Only a re-encoded copy without its metadata is kept and served."""
    story = looking.story(object_id)
    if not looking.writes("pictures", story):
        looking.must_be(frozenset({"chair", "deputy"}))
    return keep_picture(looking, object_id, content, view, part)


def keep_picture(
    looking: Looking, object_id: str, content: bytes, view: str, part: str
) -> views.PictureShown:
    """Re-encode, keep by digest, and note it in the log."""
    digest = pictures.keep(looking.desk.folder, content)
    body = {name: value for name, value in (("view", view), ("part", part)) if value}
    looking.desk.fair.record(
        [Draft(kind="picture.taken", sub=object_id, who=looking.who, body=body, att=(digest,))]
    )
    return picture_shown(looking.state.objects[object_id].pictures[-1])


@router.get(
    "/pictures/{digest}",
    operation_id="picture",
    response_class=Response,
    responses={200: {"content": {"image/jpeg": {"schema": {"type": "string", "format": "binary"}}}}},
)
def picture(digest: Annotated[str, Path(pattern=r"^[0-9a-f]{64}$")], looking: Anyone) -> Response:
    """One picture, when an object that you may see has it."""
    for story in looking.state.objects.values():
        if any(digest in event.att for event in story.pictures) and looking.sees("pictures", story):
            found = pictures.read(looking.desk.folder, digest)
            if found is not None:
                headers = {
                    "Cache-Control": "private, max-age=86400, immutable",
                    "Content-Disposition": "inline",
                }
                return Response(found, media_type="image/jpeg", headers=headers)
    raise NotThere("picture")


def file_paper(looking: Looking, object_id: str, given: models.PaperFiled) -> views.Done:
    """Note a paper in the log."""
    body = {"sort": given.sort, "words": given.words}
    looking.desk.fair.record([Draft(kind="paper.filed", sub=object_id, who=looking.who, body=body)])
    return views.Done(done=1, words="Filed.")


@router.post("/objects/{object_id}/papers", operation_id="file_paper", status_code=201)
def add_paper(object_id: Which, given: models.PaperFiled, looking: Staff) -> views.Done:
    """File a paper that was shown at the desk."""
    looking.story(object_id)
    looking.must_be(OFFICE)
    return file_paper(looking, object_id, given)


# -- moves --------------------------------------------------------------------------------------------------------------


@router.post("/objects/{object_id}/moves", operation_id="move_object", status_code=201)
def move_object(object_id: Which, given: models.MoveMade, looking: Staff) -> views.ObjectShown:
    """Record a move: whoever is signed in takes it over, `given_by` is who hands it over. The two differ."""
    story = looking.story(object_id)
    if not looking.writes("whereabouts", story):
        looking.must_be(OFFICE | {"leader"})
    if given.given_by == looking.who:
        raise refuse(
            "given_by",
            "One person cannot hand over to themselves.",
            "Name who handed it over.",
            code="move.one_hand",
        )
    if given.given_by not in looking.state.people and given.given_by not in looking.state.stands:
        raise refuse(
            "given_by", "Nobody here is called so.", "Give a person's or a stand's id.", code="move.stranger"
        )
    with looking.desk.fair.lock:
        moving.move(
            looking.desk.fair,
            looking.story(object_id),
            to=given.to,
            place=given.place,
            given_by=given.given_by,
            taken_by=looking.who,
            condition=given.condition,
        )
    return object_shown(looking, looking.story(object_id))


@router.get("/safe-keeping", operation_id="safe_keeping")
def safe_keeping(looking: Staff) -> list[views.KeptShown]:
    """What is in safe-keeping, with the number of its receipt."""
    looking.must_be(OFFICE | {"steward", "leader"})
    kept = (s for s in reporting.stories(looking.desk.fair) if s.state.whereabouts == "safe_keeping")
    return [_kept(story) for story in kept if looking.sees("whereabouts", story)]


def _kept(story: Story) -> views.KeptShown:
    move = next(m for m in reversed(story.moves) if m.body["to"] == "safe_keeping")
    return views.KeptShown(
        object=story.listed.id,
        stand=story.listed.stand,
        number=story.listed.number,
        text=as_hung(story).text,
        place=str(move.body.get("place", "")),
        condition=str(move.body.get("condition", "")),
        receipt=f"R-{move.n}",
    )


# -- open cases and questions ---------------------------------------------------------------------------------------------


@router.get("/open-cases", operation_id="open_cases")
def open_cases(looking: Staff, stand: Annotated[str, Query(max_length=80)] = "") -> list[views.OpenCaseShown]:
    """What is not settled, and what would settle it."""
    may = looking.shown()
    made = []
    for story in reporting.stories(looking.desk.fair, stand):
        why = reporting.open_because(story)
        if why is not None and may(story) and looking.sees("reason", story):
            made.append(
                views.OpenCaseShown(
                    object=story.listed.id,
                    stand=story.listed.stand,
                    number=story.listed.number,
                    words=as_hung(story).text[:200],
                    open=why[0],
                    next=why[1],
                )
            )
    return made


@router.get("/questions", operation_id="questions")
def questions(looking: Staff) -> list[views.QuestionShown]:
    """Open questions."""
    return questions_for(looking, looking.state.objects.values(), to=None)


def questions_for(looking: Looking, stories: Iterable[Story], *, to: str | None) -> list[views.QuestionShown]:
    """Open questions on the objects given; `to` keeps those to one role."""
    mine = {story.listed.id: story for story in stories}
    found = []
    for event in looking.state.questions:
        story = mine.get(event.sub)
        if story is None or not looking.sees("labels", story) or (to and event.body.get("to") != to):
            continue
        words = str(event.body.get("words", ""))
        found.append(
            views.QuestionShown(
                number=event.n,
                object=event.sub,
                stand=story.listed.stand,
                to=str(event.body.get("to", "")),
                words=words,
                kind="renumbered"
                if words.startswith("No. ") or "with a new number?" in words or "an old number?" in words
                else "other",
            )
        )
    return found


@router.post("/objects/{object_id}/questions", operation_id="ask_question", status_code=201)
def ask_question(object_id: Which, given: models.QuestionAsked, looking: Staff) -> views.Done:
    """Ask a role, a person, or the exhibitor something about an object."""
    looking.must_be(FLOOR | {"appeals"})
    looking.story(object_id)
    body = {"to": given.to, "words": given.words, **({"paper": True} if given.paper else {})}
    looking.desk.fair.record([Draft(kind="question.asked", sub=object_id, who=looking.who, body=body)])
    return views.Done(done=1, words="Asked.")


@router.post("/questions/{number}/answer", operation_id="answer_question", status_code=201)
def answer_question(
    number: Annotated[int, Path(ge=1, le=2**31)], given: models.AnswerGiven, looking: Anyone
) -> views.Done:
    """Answer an open question. An exhibitor answers those to the exhibitor about own objects."""
    with looking.desk.fair.lock:
        event = next((q for q in looking.state.questions if q.n == number), None)
        story = looking.state.objects.get(event.sub) if event is not None else None
        outside = looking.session.kind == "card"
        if event is None or story is None or not looking.sees("labels", story):
            raise NotThere("question")
        if outside and event.body.get("to") != "exhibitor":
            raise NotThere("question")
        if not outside and looking.who != event.body.get("to"):
            looking.must_be(OFFICE | {str(event.body.get("to"))})
        return views.Done(done=1, words=asking.answer(looking.desk.fair, number, given.said, who=looking.who))
