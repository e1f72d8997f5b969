"""Sealing at the desk: the fair's keys made, tried, unlocked; labels read on their objects and sealed; seals withdrawn."""

import secrets
from typing import Annotated

from fastapi import Path, Query

from planish.doors.web import models, two, views
from planish.doors.web.areas import area
from planish.doors.web.looking import CHAIR, OFFICE, Looking, Staff
from planish.doors.web.routes.outcomes import asked_of, by_two
from planish.doors.web.showing import object_shown
from planish.errands.opening.refusing import Refused
from planish.errands.opening.serving import Desk
from planish.errands.seals import keys, sealing
from planish.errands.telling import reporting
from planish.ledger.sealing import check_code
from planish.ledger.story import Story

router = area("seals")
Which = Annotated[str, Path(max_length=80)]
SEALERS = OFFICE | {"steward"}
ABOUT = keys.ABOUT


def keys_shown(desk: Desk) -> views.KeysShown:
    """The fair's keys as they stand."""
    made = keys.has_key(desk.folder)
    said = keys.standing(desk.folder) if made else None
    return views.KeysShown(
        made=made,
        id=said.id if said else "",
        tried=list(said.tried) if said else [],
        unlocked=desk.keyring.unlocked,
        ballots=desk.ballots_lie,
    )


@router.get("/keys", operation_id="keys")
def keys_now(looking: Staff) -> views.KeysShown:
    """Whether the fair's keys were made, tried, unlocked."""
    looking.must_be(SEALERS)
    return keys_shown(looking.desk)


@router.post("/keys", operation_id="make_keys", status_code=201)
def make_keys(given: models.KeysMade, looking: Staff) -> views.SheetsOnce:
    """Make the fair's keys; both recovery sheets are told this once. Nothing can be sealed until both were typed back."""
    looking.must_be(CHAIR)
    made = keys.make(
        looking.desk.folder,
        given.passphrase,
        secret=secrets.token_bytes(32),
        second=secrets.token_bytes(32),
    )
    sheets = [
        views.SheetShown(number=number, about=ABOUT[number - 1], words=list(words))
        for number, words in enumerate((made.words, made.second), 1)
    ]
    return views.SheetsOnce(id=made.id, sheets=sheets)


@router.post("/keys/sheets", operation_id="try_sheet")
def try_sheet(given: models.SheetTried, looking: Staff) -> views.SheetSaid:
    """Type a recovery sheet back from its paper; sheet 1 with a new passphrase is the way back after a lost one."""
    looking.must_be(CHAIR)
    with _guessing(looking):
        sheet, done = keys.finish(looking.desk.folder, given.words, given.passphrase)
    if done:
        with looking.desk.fair.lock:
            looking.desk.cover_ballots()
            looking.desk.fair.forget()
    return views.SheetSaid(sheet=sheet, done=done)


class _guessing:  # noqa: N801 - reads as a word where it is used
    """Counts a wrong passphrase or sheet against this device, as a wrong sign-in."""

    def __init__(self, looking: Looking) -> None:
        self.looking = looking

    def __enter__(self) -> None:
        self.looking.desk.accounts.must_wait(self.looking.client)

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, _: object) -> None:
        if kind is None or (isinstance(error, Refused) and error.kind == "input"):
            self.looking.desk.accounts.guess(self.looking.client, kind is None)


@router.post("/keys/unlock", operation_id="unlock_keys")
def unlock_keys(given: models.KeysUnlocked, looking: Staff) -> views.KeysShown:
    """Unlock the keys in this desk until it is closed or they are locked again."""
    looking.must_be(OFFICE)
    with _guessing(looking):
        looking.desk.unlock(given.passphrase)
    return keys_shown(looking.desk)


@router.post("/keys/lock", operation_id="lock_keys")
def lock_keys(looking: Staff) -> views.KeysShown:
    """Lock the keys."""
    looking.must_be(OFFICE)
    looking.desk.lock_keys()
    return keys_shown(looking.desk)


@router.get("/seals", operation_id="seals")
def seals(looking: Staff, stand: Annotated[str, Query(max_length=80)] = "") -> views.SealingShown:
    """Labels that may be sealed now, and those that are, of the fair or one stand."""
    looking.must_be(SEALERS | {"leader"})
    may, fair = looking.shown(), looking.desk.fair
    ready, sealed = [], []
    for story in reporting.stories(fair, stand):
        if not may(story):
            continue
        words = sealing.to_seal(story)
        if words:
            ready.append(_ready(story, words))
        elif story.state.label == "sealed":
            sealed.append(seal_shown(looking, story))
    return views.SealingShown(keys=keys_shown(looking.desk), ready=ready, sealed=sealed)


def _ready(story: Story, words: str) -> views.ToSeal:
    return views.ToSeal(
        object=story.listed.id,
        stand=story.listed.stand,
        number=story.listed.number,
        words=words,
        version=story.label.version if story.label else 1,
        stage=story.state.label,
    )


def seal_shown(looking: Looking, story: Story) -> views.SealShown:
    """A sealed label with its check code."""
    bytes_ = sealing.seal_of(looking.desk.fair, story)
    return views.SealShown(
        object=story.listed.id,
        stand=story.listed.stand,
        number=story.listed.number,
        words=story.label.text if story.label else story.listed.text,
        check=check_code(bytes_) if bytes_ else "",
        state="sealed",
    )


@router.post("/seals", operation_id="seal_labels", status_code=201)
def seal_labels(given: models.SealAsked, looking: Staff) -> list[views.SealShown]:
    """Seal labels that a steward has read on their objects: `hangs` is what stands there, word for word. All or none."""
    looking.must_be(SEALERS)
    desk = looking.desk
    private = desk.keyring.private()
    with desk.fair.lock:
        read_on = [(two.led(looking, one.object), one.hangs) for one in given.labels]
        made = sealing.seal_labels(desk.fair, read_on, private, who=looking.who)
        sealing.keep_list(desk.fair, private)
    return [seal_shown(looking, looking.state.objects[one.object_id]) for one in made]


@router.post("/objects/{object_id}/seal/revoke", operation_id="revoke_seal", status_code=201)
def revoke_seal(object_id: Which, given: models.SealRevoked, looking: Staff) -> views.ObjectShown:
    """Withdraw an object's seal, by two people. The card comes down; the check page says so from now on."""
    asked = asked_of(looking, "revoke_seal", object_id, reason=given.reason)
    by_two(looking, asked, given.second)
    return object_shown(looking, looking.story(object_id))
