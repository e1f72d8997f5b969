"""Who looks, and what that person may see or write of which object: every route asks here, and here asks `access`."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, TypeVar

from fastapi import Depends, Request
from fastapi.concurrency import run_in_threadpool

from planish.doors.web.failing import Denied, NotSignedIn, NotThere
from planish.errands.opening.serving import Desk
from planish.errands.people import access
from planish.errands.people.access import Data, Looked, Viewer
from planish.errands.people.accounts import Session
from planish.ledger.replay import FairState, Person
from planish.ledger.story import Story

T = TypeVar("T")
COOKIE, SAFE_COOKIE = "planish", "__Host-planish"
CHAIR = frozenset({"chair", "deputy"})
OFFICE = CHAIR | {"office"}
LEAD = CHAIR | {"leader"}
PANEL = LEAD | {"member"}
FLOOR = PANEL | {"scribe", "steward", "laboratory", "office"}
STAFF = FLOOR | {"appeals"}


@dataclass(frozen=True, slots=True)
class Looking:
    """One request's reader."""

    desk: Desk
    session: Session
    viewer: Viewer
    token: str
    client: str

    @property
    def who(self) -> str:
        """The id under which this reader writes: a person's, or `stand:7` for an exhibitor."""
        return self.viewer.person

    @property
    def state(self) -> FairState:
        """Where everything stands."""
        return self.desk.fair.state

    @property
    def person(self) -> Person | None:
        """The person, None for an exhibitor's card."""
        return self.state.people.get(self.viewer.person) if self.session.kind == "person" else None

    def has(self, roles: frozenset[str]) -> bool:
        """True when the reader has one of `roles`."""
        return bool(self.viewer.roles & roles)

    def must_be(self, roles: frozenset[str]) -> None:
        """Denied unless the reader has one of `roles`."""
        if not self.has(roles):
            raise Denied

    def at(self, story: Story, *, own: bool = False) -> Looked:
        """What bears on one object for this reader."""
        state, who = story.state, self.viewer.person
        known = self.person
        recused = any(cast.who == who for cast in story.recused)
        conflicted = recused or (
            known is not None
            and (story.listed.stand in known.conflicts or story.listed.id in known.object_conflicts)
        )
        return Looked(
            stand=story.listed.stand,
            locked=any(cast.who == who for cast in story.ballots) and not recused,
            deciding=deciding(story),
            task=self._task(story),
            conflicted=conflicted,
            own=own,
            sealed=state.label == "sealed",
            off_floor=state.outcome == "remove" or any(hold.off_floor for hold in story.holds),
            ballots=len(story.standing_ballots(max(story.revealed))) if story.revealed else 0,
            floor=self.desk.fair.rules.voting.split_floor,
        )

    def _task(self, story: Story) -> bool:
        roles = self.viewer.roles
        if "laboratory" in roles and (
            story.state.whereabouts == "laboratory" or _sent_to(story, "laboratory")
        ):
            return True
        return "appeals" in roles and any(event.kind == "appeal.lodged" for event in story.events)

    def sees(self, data: Data, story: Story | None = None) -> bool:
        """`access.visible` for this reader."""
        return access.visible(self.viewer, data, self.at(story) if story is not None else Looked())

    def writes(self, data: Data, story: Story | None = None) -> bool:
        """`access.may_write` for this reader."""
        return access.may_write(self.viewer, data, self.at(story) if story is not None else Looked())

    def sees_split(self, story: Story) -> bool:
        """True when the unnamed split of the newest shown round may be read now.

        Never before the round is closed (its figures would move with each ballot), never once somebody stepped back
        after that (the difference would give a ballot away), never below the rule book's floor.
        """
        if not story.revealed or _disturbed(story):
            return False
        if self.viewer.roles & access.PANEL and not self.viewer.roles & CHAIR:
            mine = {cast.round for cast in story.ballots if cast.who == self.viewer.person and not cast.late}
            if max(story.revealed) not in mine:
                return access.visible(self._without_panel(), "split", self.at(story))
        return self.sees("split", story)

    def _without_panel(self) -> Viewer:
        return Viewer(
            person=self.viewer.person, roles=self.viewer.roles - access.PANEL, stand=self.viewer.stand
        )

    def story(self, object_id: str) -> Story:
        """The object, when this reader may see its label; otherwise there is nothing here."""
        story = self.state.objects.get(object_id)
        if story is None or not self.sees("labels", story):
            raise NotThere("object")
        return story

    def shown(self, data: Data = "labels") -> "Shown":
        """A quick `sees(data, …)` for many objects: asked once a stand, except where it hangs on the object."""
        alone = self.viewer.roles <= {"laboratory", "appeals"} or not access.visible(self.viewer, data)
        away = self.desk.fair.index.away.get(self.viewer.person, ())
        known = self.person
        single = frozenset((*away, *(known.object_conflicts if known is not None else ())))
        return Shown(lambda story: self.sees(data, story), None if alone else single)


class Shown:
    """Which objects a reader may see. `single` are those that must be asked one by one, None for all of them."""

    def __init__(self, sees: Callable[[Story], bool], single: frozenset[str] | None) -> None:
        self._sees, self.single = sees, single
        self._stands: dict[str, bool] = {}

    def __call__(self, story: Story) -> bool:
        """True when the reader may see this of the object."""
        listed = story.listed
        if self.single is None or listed.id in self.single:
            return self._sees(story)
        if listed.stand not in self._stands:
            self._stands[listed.stand] = self._sees(story)
        return self._stands[listed.stand]


class Both:
    """Which objects a reader may see in two respects."""

    def __init__(self, first: Shown, second: Shown) -> None:
        self._first, self._second = first, second
        both = first.single is not None and second.single is not None
        self.single = (first.single or frozenset()) | (second.single or frozenset()) if both else None

    def __call__(self, story: Story) -> bool:
        """True when the reader may see both."""
        return self._first(story) and self._second(story)


def deciding(story: Story) -> bool:
    """True when the chair is asked: a shown round came to no outcome, or the object was referred."""
    return bool(story.revealed) and (
        story.state.examination in ("opinions_in", "referred")
        or (story.state.examination == "proposed" and story.state.outcome == "refer")
    )


def _disturbed(story: Story) -> bool:
    shown = max((event.n for event in story.events if event.kind == "round.revealed"), default=0)
    return any(cast.n > shown for cast in story.recused)


def _sent_to(story: Story, role: str) -> bool:
    return any(
        event.kind in ("object.referred", "question.asked") and event.body.get("to") == role
        for event in story.events
    )


def desk_of(request: Request) -> Desk:
    """The desk that this process keeps."""
    desk: Desk = request.app.state.desk
    return desk


def client_of(request: Request) -> str:
    """Which device asks, for waiting after wrong tries."""
    return request.client.host if request.client is not None else "nobody"


def token_of(request: Request) -> str:
    """The session's token out of the cookie."""
    name = SAFE_COOKIE if request.app.state.https else COOKIE
    return request.cookies.get(name, "")


def looking_or_none(request: Request) -> Looking | None:
    """Who looks, None when nobody is signed in."""
    desk, token = desk_of(request), token_of(request)
    if not desk.begun or not token:
        return None
    session = desk.accounts.session(token)
    if session is None:
        return None
    viewer = _viewer(desk, session)
    if viewer is None:
        desk.accounts.end(token)
        return None
    return Looking(desk, session, viewer, token, client_of(request))


def _viewer(desk: Desk, session: Session) -> Viewer | None:
    state = desk.fair.state
    if session.kind == "card":
        if session.who not in state.stands:
            return None
        lab = bool(desk.fair.rules.switches.get("laboratory_for_exhibitor", False))
        return Viewer(
            person=f"stand:{session.who}",
            roles=frozenset({"exhibitor"}),
            stand=session.who,
            lab_for_exhibitor=lab,
        )
    known = state.people.get(session.who)
    if known is None or not known.roles - {"exhibitor"}:
        return None
    return Viewer(person=known.id, roles=known.roles - {"exhibitor"})


def as_person(desk: Desk, person: str) -> Looking | None:
    """How a person would look now without being at this request; None when they have no role left."""
    session = Session(who=person, kind="person", made_ms=0)
    viewer = _viewer(desk, session)
    return None if viewer is None else Looking(desk, session, viewer, "", "")


async def quickly(request: Request, ask: Callable[[Request], T]) -> T:
    """What `ask` answers: at once when it has nothing to wait for, else in a thread so that others are served."""
    desk: Desk = request.app.state.desk
    if desk.begun and desk.fair.at_hand():
        return ask(request)
    return await run_in_threadpool(ask, request)


def looking_now(request: Request) -> Looking:
    """Who looks; NotSignedIn when nobody does."""
    found = looking_or_none(request)
    if found is None:
        raise NotSignedIn
    return found


def staff_now(request: Request) -> Looking:
    """Somebody of the fair, not an exhibitor."""
    found = looking_now(request)
    found.must_be(STAFF)
    return found


async def looking(request: Request) -> Looking:
    """Who looks; NotSignedIn when nobody does."""
    return await quickly(request, looking_now)


async def staff(request: Request) -> Looking:
    """Somebody of the fair, not an exhibitor."""
    return await quickly(request, staff_now)


async def exhibitor(request: Request) -> Looking:
    """An exhibitor at the counter."""
    found = await looking(request)
    if found.session.kind != "card":
        raise Denied
    return found


async def the_desk(request: Request) -> Desk:
    """The desk that this process keeps."""
    return desk_of(request)


Anyone = Annotated[Looking, Depends(looking)]
Staff = Annotated[Looking, Depends(staff)]
Exhibitor = Annotated[Looking, Depends(exhibitor)]
OpenDesk = Annotated[Desk, Depends(the_desk)]
