"""Papers as PDF, for the whole fair, one stand or one object; and the report."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Annotated, Any, Literal

from fastapi import Path, Query, Response

from planish.doors.papers import printing
from planish.doors.papers.featured import featured_for
from planish.doors.web import views
from planish.doors.web.areas import area
from planish.doors.web.failing import Denied, NotThere
from planish.doors.web.looking import LEAD, OFFICE, Looking, Staff
from planish.errands.opening import clock
from planish.errands.seals import sealing
from planish.errands.telling import reporting, summing
from planish.errands.words import labelling
from planish.ledger.story import Story

router = area("papers")
PaperName = Literal["sheets", "slips", "wording", "labels", "receipts", "open-cases", "report"]
PDF: dict[int | str, dict[str, Any]] = {
    200: {"content": {"application/pdf": {"schema": {"type": "string", "format": "binary"}}}}
}
_FOR = {
    "sheets": OFFICE | LEAD | {"member", "scribe", "steward"},
    "slips": OFFICE | LEAD | {"scribe"},
    "wording": OFFICE | LEAD | {"scribe", "steward"},
    "labels": OFFICE | LEAD | {"scribe", "steward"},
    "receipts": OFFICE | {"steward", "leader"},
    "open-cases": OFFICE | LEAD,
    "report": OFFICE,
}


@router.get("/papers/{paper}.pdf", operation_id="paper", response_class=Response, responses=PDF)
def paper(
    paper: Annotated[PaperName, Path()],
    looking: Staff,
    stand: Annotated[str, Query(max_length=80)] = "",
    object_id: Annotated[str, Query(max_length=80, alias="object")] = "",
) -> Response:
    """One paper. Without `stand` or `object` it is for the whole fair."""
    looking.must_be(_FOR[paper])
    if object_id:
        stand = looking.story(object_id).listed.stand
    if stand and stand not in looking.state.stands:
        raise NotThere("stand")
    return pdf(made(looking, paper, stand, object_id), paper, object_id or stand)


def pdf(content: bytes, paper: str, which: str) -> Response:
    """A PDF that a browser shows, under a name of its own."""
    clean = "".join(sign if sign.isalnum() and sign.isascii() else "-" for sign in which)[:60]
    name = f"{paper}-{clean}.pdf" if clean else f"{paper}.pdf"
    headers = {"Content-Disposition": f'inline; filename="{name}"', "Cache-Control": "no-store"}
    return Response(content, media_type="application/pdf", headers=headers)


def made(looking: Looking, paper: str, stand: str, object_id: str = "") -> bytes:
    """The bytes of one paper, from what this reader may see."""
    fair, now = looking.desk.fair, clock.now()
    title = fair.state.name
    if paper == "report":
        return printing.report(_report(looking), made=now)
    if paper == "labels":
        return printing.labels(_cards(looking, stand, object_id), made=now, title=f"{title}: labels")
    may = looking.shown()
    makers: dict[str, tuple[Callable[..., Iterable[Any]], Callable[..., bytes]]] = {
        "sheets": (reporting.stand_sheets, printing.stand_sheets),
        "slips": (reporting.slips, printing.slips),
        "wording": (reporting.wording_lines, printing.wording),
        "receipts": (reporting.receipts, printing.receipts),
        "open-cases": (reporting.open_cases, printing.open_cases),
    }
    collect, draw = makers[paper]
    found = collect(fair, stand, only=_only(may, object_id))
    return draw(tuple(found), fair=title, made=now)


def _only(may: Callable[[Story], bool], object_id: str) -> Callable[[Story], bool]:
    if object_id:
        return lambda story: story.listed.id == object_id and may(story)
    return may


def _cards(looking: Looking, stand: str, object_id: str) -> tuple[Any, ...]:
    """Label cards; without the price for a reader who may not see it."""
    may, cards = looking.shown(), []
    for story in reporting.stories(looking.desk.fair, stand):
        if (not object_id or story.listed.id == object_id) and may(story) and reporting.may_hang(story):
            card = reporting.card(story, sealing.printed_code(looking.desk.fair, story))
            cards.append(card if looking.sees("price", story) else replace(card, price=""))
    return tuple(cards)


def _report(looking: Looking) -> Any:
    fair = looking.desk.fair
    cases = tuple(featured_for(case) for case in summing.featured(fair, 6))
    return summing.report(fair, cases, day=clock.now().strftime("%-d %B %Y"))


@router.post("/papers/labels/printed", operation_id="labels_printed", status_code=201)
def labels_printed(looking: Staff, stand: Annotated[str, Query(max_length=80)] = "") -> views.Done:
    """Note that the agreed labels of a stand were printed."""
    looking.must_be(OFFICE | {"leader", "steward", "scribe"})
    with looking.desk.fair.lock:
        found = [story.listed.id for story in reporting.stories(looking.desk.fair, stand)]
        return views.Done(done=labelling.printed(looking.desk.fair, found))


@router.get("/report", operation_id="report")
def report(looking: Staff) -> views.ReportShown:
    """The end-of-fair report in figures; the whole of it is /papers/report.pdf."""
    if not looking.sees("statistics") or not looking.has(OFFICE | LEAD):
        raise Denied
    fair = looking.desk.fair
    item = summing.report(fair, (), day=clock.now().strftime("%-d %B %Y"))
    return views.ReportShown(
        fair=item.fair,
        rulebook=item.rulebook,
        paragraphs=list(item.paragraphs),
        rates=[
            views.RatesShown(what=r.what, of=r.of, count=r.count, total=r.total, low=r.low, high=r.high)
            for r in item.rates
        ],
        coverage=list(item.coverage),
        limits=list(item.limits),
    )
