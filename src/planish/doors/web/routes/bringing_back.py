"""A fair brought back from a backup at set-up, with the code on the terminal and one recovery sheet."""

from pathlib import Path as Folder

from fastapi import Response

from planish.doors.web import models_record as models
from planish.doors.web import views
from planish.doors.web.areas import area
from planish.doors.web.looking import OpenDesk
from planish.doors.web.routes.record import copies_shown
from planish.doors.web.routes.session import right_code, wrong_code
from planish.doors.web.safekeeper import restored
from planish.errands.opening.refusing import refuse
from planish.errands.opening.serving import Desk
from planish.errands.record import backing, keeping, media, restoring
from planish.errands.seals import keys

router = area("session")
DENIED = {403: {"model": views.Failure}}


def _needed(desk: Desk) -> None:
    if not desk.setup_code or desk.begun:
        raise refuse(
            "set-up",
            "There is a fair in this folder; nothing of it is overwritten.",
            "Start planish with a new folder: planish serve --fair NEW-FOLDER.",
            code="setup.done",
            kind="rule",
        )


def _folder(name: str) -> Folder:
    found = Folder(name)
    if not found.is_absolute() or not found.is_dir():
        raise refuse(
            "the medium",
            "There is no such folder.",
            "Put the medium in and take the whole path, such as /media/stick or D:\\.",
            code="backup.place",
        )
    return found


@router.post(
    "/setup/copies",
    operation_id="copies_at_set_up",
    responses=DENIED,  # type: ignore[arg-type]
    response_model=list[views.FairOnMedium],
)
def copies(given: models.CopiesAsked, desk: OpenDesk) -> list[views.FairOnMedium] | Response:
    """Which fairs' backups lie on what is plugged in, or in the folder named."""
    _needed(desk)
    if not right_code(desk, given.code):
        return wrong_code()
    places = [_folder(given.place)] if given.place else media.mounted()
    return [
        views.FairOnMedium(name=home.name, folder=str(home), copies=copies_shown((*backing.found(home),)))
        for place in places
        for home in restoring.homes(place)
    ]


@router.post(
    "/setup/back",
    operation_id="bring_back",
    status_code=201,
    responses=DENIED,  # type: ignore[arg-type]
    response_model=views.BroughtBack,
)
def bring_back(given: models.BringBack, desk: OpenDesk) -> views.BroughtBack | Response:
    """Open a copy into this desk's empty folder; people then sign in as before."""
    _needed(desk)
    if not right_code(desk, given.code):
        return wrong_code()
    done = desk.bring_back(
        _folder(given.place),
        keys.from_words(given.words),
        made_ms=given.made,
        remembered=[*keeping.heads(given.head)],
    )
    return views.BroughtBack(says=restored(done), n=done.n)
