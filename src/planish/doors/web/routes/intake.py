"""List intake: a file as bytes in, a preview out, columns put right, taken, taken back."""

from typing import Annotated

from fastapi import Body, Path, Query, Request

from planish.doors.papers.lists.columns import known_fields
from planish.doors.web import models, views
from planish.doors.web.areas import area
from planish.doors.web.failing import NotThere
from planish.doors.web.guarding import BYTES
from planish.doors.web.intakes import Intake, Intakes
from planish.doors.web.looking import OFFICE, Anyone, Looking
from planish.doors.web.pieces import odd
from planish.errands.opening.refusing import refuse
from planish.records import ListedObject

router = area("lists")
SHOWN_ROWS, SHOWN_CHANGES = 30, 200
Which = Annotated[str, Path(max_length=80)]


def _mine(looking: Looking, stand: str) -> None:
    """The office for any stand, an exhibitor for the own one."""
    if looking.session.kind == "card":
        if looking.viewer.stand != stand:
            raise NotThere("stand")
    else:
        looking.must_be(OFFICE)


def _intakes(request: Request) -> Intakes:
    found: Intakes = request.app.state.intakes
    return found


def _one(request: Request, looking: Looking, intake: str) -> Intake:
    found = _intakes(request).get(intake)
    if found is None:
        looking.must_be(OFFICE | {"exhibitor"})
        raise NotThere("list")
    _mine(looking, found.stand)
    return found


@router.post("/stands/{stand}/lists", operation_id="send_list", status_code=202)
def send_list(
    stand: Which,
    looking: Anyone,
    request: Request,
    content: Annotated[bytes, Body(media_type=BYTES)],
    name: Annotated[str, Query(max_length=300)] = "list",
) -> views.IntakeShown:
    """Send a list as it is (XLSX, XLS, ODS, CSV, TSV, JSON or text) as bytes; `name` is the file's name."""
    _mine(looking, stand)
    if not content:
        raise refuse("list", "The file is empty.", "Send the list again.", code="list.empty")
    return shown(request, _intakes(request).begin(stand, name, content, who=looking.who))


@router.get("/intakes/{intake}", operation_id="intake")
def intake(intake: Which, looking: Anyone, request: Request) -> views.IntakeShown:
    """How far a list is, and what taking it in would do."""
    return shown(request, _one(request, looking, intake))


@router.put("/intakes/{intake}/columns", operation_id="choose_columns")
def choose_columns(
    intake: Which, given: models.ColumnsChosen, looking: Anyone, request: Request
) -> views.IntakeShown:
    """Say which heading is which field; the list is read again."""
    one = _one(request, looking, intake)
    strange = sorted(set(given.columns.values()) - {*known_fields(), "ignore"})
    if strange:
        raise refuse(
            "columns",
            f"There is no field {strange[0]!r}.",
            f"Fields: {', '.join(known_fields())}, ignore.",
            code="columns.unknown",
        )
    _intakes(request).choose(one, given.columns)
    return shown(request, one)


@router.post("/intakes/{intake}/take", operation_id="take_list")
def take_list(intake: Which, looking: Anyone, request: Request) -> views.IntakeShown:
    """Take the list in, as shown."""
    one = _one(request, looking, intake)
    if looking.session.kind == "card":
        before_the_day(looking, one.stand)
    _intakes(request).take(one, who=looking.who)
    return shown(request, one)


def before_the_day(looking: Looking, stand: str) -> None:
    """Refuses an exhibitor's list once anybody looked at an object of the stand."""
    begun = any(
        s.listed.stand == stand and s.state.examination not in ("listed", "withdrawn")
        for s in looking.state.objects.values()
    )
    if begun:
        raise refuse(
            f"stand {stand}",
            "The day has begun at this stand.",
            "Bring the change to the office.",
            code="counter.too_late",
            kind="rule",
        )


@router.post("/intakes/{intake}/undo", operation_id="undo_list")
def undo_list(intake: Which, looking: Anyone, request: Request) -> views.IntakeShown:
    """Take the last list of a stand back, while nobody looked at what it brought."""
    one = _one(request, looking, intake)
    _intakes(request).undo(one, who=looking.who)
    return shown(request, one)


def shown(request: Request, one: Intake) -> views.IntakeShown:
    """An intake as it stands."""
    taken, change = one.taken, one.change
    made = views.IntakeShown(
        id=one.id,
        stand=one.stand,
        file=one.file,
        state=one.state,
        done=one.done,
        total=len(taken.rows) if taken else 0,
        fields=[*known_fields(), "ignore"],
        problems=[odd(problem) for problem in one.problems[:500]],
        may_undo=_intakes(request).may_undo(one),
    )
    if taken is not None:
        made.columns = [
            views.ColumnShown(
                sheet=c.sheet,
                letter=c.letter,
                heading=c.heading,
                field=c.field,
                confidence=c.confidence,
                why=c.why,
            )
            for c in taken.columns
        ]
        made.objects = len(taken.objects)
        made.first_rows = [_row(item) for item in taken.objects[:SHOWN_ROWS]]
    if change is not None:
        made.same, made.added = change.same, len(change.added)
        made.removed = [_row(item) for item in change.removed[:SHOWN_CHANGES]]
        made.questions = [question.sentence for question in change.questions]
        made.changed = [
            views.ChangeShown(
                object=update.old.id, number=update.old.number, field=c.field, before=c.before, after=c.after
            )
            for update in change.updated[:SHOWN_CHANGES]
            for c in update.changes
        ]
    return made


def _row(item: ListedObject) -> views.RowShown:
    return views.RowShown(number=item.number, text=item.text, fields=dict(item.fields))
