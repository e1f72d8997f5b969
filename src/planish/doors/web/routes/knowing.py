"""Knowing: search over everything, facts with their sources, and the log proved whole."""

from collections.abc import Iterator
from itertools import islice
from typing import Annotated

from fastapi import Path, Query

from planish.doors.web import views
from planish.doors.web.areas import area
from planish.doors.web.failing import Denied, NotThere
from planish.doors.web.looking import CHAIR, OFFICE, Anyone, Looking, Staff
from planish.doors.web.pieces import at_words, fact_shown, odd
from planish.errands.intake.searching import folded
from planish.errands.panel.evidence import as_hung
from planish.errands.record import keeping
from planish.errands.telling import recalling

router = area("knowing")
MOST = 40


@router.get("/search", operation_id="search")
def search(looking: Staff, q: Annotated[str, Query(min_length=1, max_length=200)]) -> views.Hits:
    """Objects, stands, people, clauses and facts that hold every word. Only what you may see."""
    found = list(islice(_hits(looking, q), MOST + 1))
    return views.Hits(hits=found[:MOST], more=len(found) > MOST)


def _hits(looking: Looking, q: str) -> Iterator[views.Hit]:
    wanted = folded(q).split()

    def fits(*texts: str) -> bool:
        said = folded(" ".join(texts))
        return all(word in said for word in wanted)

    state, desk = looking.state, looking.desk
    for stand in state.stands.values() if looking.sees("stand_list") else ():
        if fits(stand.id, stand.number, stand.exhibitor):
            yield views.Hit(kind="stand", id=stand.id, title=f"Stand {stand.number}", words=stand.exhibitor)
    for person in state.people.values() if looking.has(OFFICE) else ():
        if fits(person.id, person.name):
            yield views.Hit(
                kind="person", id=person.id, title=person.name, words=", ".join(sorted(person.roles))
            )
    for story in islice(desk.fair.index.find(state, q, may=looking.shown()), MOST):
        title = f"Stand {story.listed.stand} · No. {story.listed.number}"
        yield views.Hit(kind="object", id=story.listed.id, title=title, words=as_hung(story).text[:200])
    for clause in desk.fair.rules.clauses:
        if fits(clause.number, clause.text):
            yield views.Hit(
                kind="clause", id=clause.number, title=f"Clause {clause.number}", words=clause.text
            )
    for fact in recalling.search(desk.fair.kit.book, q, limit=MOST):
        yield views.Hit(kind="fact", id=fact.id, title=fact.id, words=fact.statement)


@router.get("/facts", operation_id="facts")
def facts(
    looking: Anyone,
    words: Annotated[str, Query(max_length=200)] = "",
    year: Annotated[int | None, Query(ge=-5000, le=2100)] = None,
    size: Annotated[int, Query(ge=1, le=100)] = 30,
) -> list[views.FactShown]:
    """Facts that hold every word; `year` keeps those that speak against that year."""
    found = recalling.search(looking.desk.fair.kit.book, words, year=year, limit=size)
    return [fact_shown(fact) for fact in found]


@router.get("/facts/{fact_id}", operation_id="fact")
def fact(fact_id: Annotated[str, Path(max_length=200)], looking: Anyone) -> views.FactShown:
    """One fact with its source and how it is vouched for."""
    found = looking.desk.fair.kit.book.look(fact_id).fact
    if found is None:
        raise NotThere("fact")
    return fact_shown(found)


def _log(looking: Looking) -> None:
    if not looking.sees("log") and not looking.has(CHAIR | {"office"}):
        raise Denied


@router.get("/log/verified", operation_id="verify_log")
def verify_log(looking: Anyone) -> views.LogVerified:
    """Read the whole log back and check every byte against the chain."""
    _log(looking)
    found = keeping.verify_log(looking.desk.folder)
    return views.LogVerified(
        entries=found.entries,
        head=found.head,
        words=found.words,
        whole=not found.problems,
        problems=[odd(problem) for problem in found.problems],
    )


@router.get("/log", operation_id="log")
def log(
    looking: Anyone,
    after: Annotated[int, Query(ge=0, le=2**53)] = 0,
    size: Annotated[int, Query(ge=1, le=500)] = 100,
) -> list[views.LogLine]:
    """Entries for an auditor, without their openings: what happened to what, never what was written."""
    if not looking.sees("log"):
        raise Denied
    return [
        views.LogLine(
            n=entry.n,
            at=at_words(entry.recv_ms),
            kind=entry.event.name,
            sub=entry.event.sub,
            who=entry.event.who,
            dev=entry.event.dev,
            status=entry.status,
            hash=entry.hash.hex(),
        )
        for entry in islice(looking.desk.fair.journal.entries(after), size)
    ]
