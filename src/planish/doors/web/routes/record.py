"""The safe keeping of the record: backups, trials, archives, and a copy opened again. Never a ballot, never a text."""

from pathlib import Path as Folder

from fastapi import Request

from planish.doors.web import models_record as models
from planish.doors.web import views
from planish.doors.web.areas import area
from planish.doors.web.looking import CHAIR, OFFICE, Looking, Staff
from planish.doors.web.pieces import at_words, odd
from planish.doors.web.safekeeper import Safekeeper, Work
from planish.errands.opening.refusing import Refused, refuse
from planish.errands.record import backing, media
from planish.errands.record.backing import Found
from planish.errands.seals import keys

router = area("record")
AT_THE_LAPTOP = frozenset({"127.0.0.1", "::1", "::ffff:127.0.0.1"})
MOST_COPIES = 60


def _keeper(request: Request) -> Safekeeper:
    found: Safekeeper = request.app.state.safekeeper
    return found


def _places(looking: Looking) -> list[Folder]:
    """The place that is in use, and what is plugged in."""
    said = backing.said_of(looking.desk.folder).get("place")
    return [*([Folder(said)] if said else []), *media.mounted()]


def place_named(looking: Looking, name: str) -> Folder:
    """A place as it was offered. Any other folder may be named only in a browser on the laptop itself."""
    found = Folder(name)
    if found in _places(looking):
        return found
    if looking.client not in AT_THE_LAPTOP:
        raise refuse(
            "the medium",
            "From another computer only a medium that is plugged in can be chosen.",
            "Choose one from the list, or go to the laptop that planish runs on.",
            code="record.place",
            kind="rule",
        )
    if not found.is_absolute():
        raise refuse(
            "the medium",
            "It is not the whole path of a folder.",
            "Begin at the top, such as /media/stick or D:\\.",
            code="record.place",
        )
    return found


def shown(request: Request, looking: Looking) -> views.RecordShown:
    """How safe the record is now."""
    fair, folder = looking.desk.fair, looking.desk.folder
    standing, said, places = backing.standing(fair), backing.said_of(folder), _places(looking)
    last = said.get("last")
    sheets = keys.standing(folder) if keys.has_key(folder) else None
    found = media.on_offer(fair, places)
    return views.RecordShown(
        keys="none" if sheets is None else "ready" if all(sheets.tried) else "untried",
        key=sheets.id if sheets is not None else "",
        unlocked=looking.desk.keyring.unlocked,
        last=views.CopyShown(made=last["at_ms"], at=at_words(last["at_ms"]), n=last["n"]) if last else None,
        place=standing.place,
        there=any(str(one.place) == standing.place for one in found),
        counts=bool(last and last["counts"]),
        behind=not last or last["n"] < standing.head_n,
        late=standing.late,
        fault=standing.fault,
        tried_out=at_words(standing.drilled_ms) if standing.drilled_ms else "",
        media=[
            views.MediumShown(
                place=str(one.place),
                free_mb=one.free // 1_000_000,
                other_disk=one.other_disk,
                copies=copies_shown(one.copies),
            )
            for one in found
        ],
        archives=[
            views.ArchiveShown(folder=str(one.folder), n=one.n, signed=one.signed)
            for one in media.archives(fair, places)
        ],
        work=_work(_keeper(request).work),
        may_name=looking.client in AT_THE_LAPTOP,
    )


def copies_shown(copies: tuple[Found, ...]) -> list[views.CopyShown]:
    """Backups as the API shows them, the newest ones."""
    return [views.CopyShown(made=one.at_ms, at=at_words(one.at_ms), n=one.n) for one in copies[:MOST_COPIES]]


def _work(work: Work | None) -> views.WorkShown | None:
    if work is None:
        return None
    return views.WorkShown(
        what=work.what,
        state=work.state,
        step=work.step,
        share=work.share,
        says=work.says,
        where=work.where,
        problems=[odd(one) for one in work.problems],
    )


@router.get("/record", operation_id="record")
def record(looking: Staff, request: Request) -> views.RecordShown:
    """How safe the record is, where its copies lie, and what is being done."""
    looking.must_be(OFFICE)
    return shown(request, looking)


@router.post("/record/backup", operation_id="make_backup", status_code=202)
def make_backup(given: models.BackUpAsked, looking: Staff, request: Request) -> views.RecordShown:
    """Begin a backup; the desk repeats it there every five minutes from then on."""
    looking.must_be(OFFICE)
    _keeper(request).back_up(place_named(looking, given.place))
    return shown(request, looking)


@router.post("/record/trial", operation_id="try_backup", status_code=202)
def try_backup(given: models.TrialAsked, looking: Staff, request: Request) -> views.RecordShown:
    """Begin opening the newest copy with a recovery sheet; changes nothing."""
    looking.must_be(OFFICE)
    _keeper(request).try_out(place_named(looking, given.place), _sheet(looking, given.words))
    return shown(request, looking)


@router.post("/record/archive", operation_id="write_archive", status_code=202)
def write_archive(given: models.ArchiveAsked, looking: Staff, request: Request) -> views.RecordShown:
    """Begin writing an archive, which is then checked; signed while the fair's keys are unlocked."""
    looking.must_be(OFFICE)
    _keeper(request).archive(place_named(looking, given.place) if given.place else None)
    return shown(request, looking)


@router.post("/record/archive/check", operation_id="check_archive", status_code=202)
def check_archive(given: models.ArchiveChecked, looking: Staff, request: Request) -> views.RecordShown:
    """Begin reading an archive back."""
    looking.must_be(OFFICE)
    known = {str(one.folder): one.folder for one in media.archives(looking.desk.fair, _places(looking))}
    if given.folder not in known:
        raise refuse(
            "the archive", "It is not on the list.", "Put its medium in.", code="record.archive", kind="rule"
        )
    _keeper(request).check_archive(known[given.folder])
    return shown(request, looking)


@router.post("/record/restore", operation_id="open_copy", status_code=202)
def open_copy(given: models.RestoreAsked, looking: Staff, request: Request) -> views.RecordShown:
    """Begin opening a copy into a new folder beside the fair's own. The open fair is not touched."""
    looking.must_be(CHAIR)
    _keeper(request).restore(place_named(looking, given.place), given.made, _sheet(looking, given.words))
    return shown(request, looking)


def _sheet(looking: Looking, words: str) -> bytes:
    """The 32 bytes of one of this fair's sheets; wrong words count as a wrong try of this device."""
    looking.desk.accounts.must_wait(looking.client)
    try:
        keys.sheet_of(looking.desk.folder, words)
    except Refused:
        looking.desk.accounts.guess(looking.client, False)
        raise
    return keys.from_words(words)
