"""Bad input, said before anything is weighed: each a Problem, never a number."""

import math
from collections.abc import Iterable

from planish.reasoning.contradicting import smallest_clashes
from planish.reasoning.contradicting.masks import highest, lowest, mask_of, years_allowed
from planish.reasoning.contradicting.order import MADE, NOT_AN_EVENT, event_of, place_of
from planish.reasoning.contradicting.saying import in_full
from planish.reasoning.weighing.case import Case
from planish.reasoning.weighing.settings import Settings
from planish.records import EvidenceItem, Link, Problem

BLOCKING = 2
"""Problems of this severity or worse stop the weighing."""


def check(case: Case, settings: Settings) -> tuple[Problem, ...]:
    """Everything that is wrong with a case, in a fixed order. Severity 1 and 2 stop the weighing; 4 is a note."""
    found = [*_check_settings(settings), *_check_chain(case.chain), *_check_names(case)]
    known = {"", *(p.name for p in case.parts)}
    events = {MADE, *(event_of(e) for link in case.chain for e in (link.earlier, link.later))}
    for item in sorted(case.items, key=lambda i: i.id):
        found.extend(_check_item(item, known, events, settings))
    for claim in case.claims:
        where = f"claim “{claim.words}”"
        if claim.part not in known | {"body"}:
            found.append(_no_part(where, claim.part))
        if not mask_of((claim.years,), settings.first, settings.last):
            found.append(_off_grid(where, f"{claim.years.earliest}–{claim.years.latest}", settings))
    for part in case.parts:
        if part.marriage_chance is not None and not 0.0 <= part.marriage_chance <= 1.0:
            found.append(
                _bad(f"part {part.name!r}", f"A marriage chance of {part.marriage_chance} is no chance.")
            )
    if not any(p.severity <= BLOCKING for p in found):
        found.extend(_no_year_left(case, settings))
    return tuple(found)


def _bad(
    where: str, what: str, remedy: str = "Give a number from 0 to 1.", code: str = "case.number"
) -> Problem:
    return Problem(where=where, what=what, remedy=remedy, severity=2, code=code)


def _no_part(where: str, part: str) -> Problem:
    return Problem(
        where=where,
        what=f"It speaks of the part {part!r}, which the object does not have.",
        why="Evidence must hang on a part, or it would count for the wrong thing.",
        remedy=f"Add {part!r} to the parts, or correct the name.",
        severity=2,
        code="part.unknown",
        found=part,
    )


def _off_grid(where: str, what: str, settings: Settings) -> Problem:
    return Problem(
        where=where,
        what=f"No year of {what} lies in {settings.first}–{settings.last}.",
        why="There is nothing to weigh there.",
        remedy="Correct the years, or leave this out.",
        severity=2,
        code="years.outside",
        found=what,
    )


def _check_settings(s: Settings) -> Iterable[Problem]:
    if s.first >= s.last:
        yield _bad(
            "settings", f"The years {s.first}–{s.last} end before they begin.", "Put the earlier first."
        )
    shares = {
        "copy_chance": s.copy_chance,
        "imitation": s.imitation,
        "marriage_chance": s.marriage_chance,
        "range_share": s.range_share,
    }
    for name, value in shares.items():
        if not 0.0 <= value <= 1.0:
            yield _bad("settings", f"{name} is {value}.")
    if s.prior and (min(w for _, w in s.prior) < 0.0 or max(w for _, w in s.prior) <= 0.0):
        yield _bad("settings", f"The prior {s.prior_name!r} has no weight anywhere or a weight below 0.")


def _check_chain(chain: tuple[Link, ...]) -> Iterable[Problem]:
    parent: dict[str, str] = {}

    def top(event: str) -> str:
        while parent.get(event, event) != event:
            event = parent[event]
        return event

    for link in chain:
        a, b = event_of(link.earlier), event_of(link.later)
        if not 0.0 <= link.stay <= 1.0:
            yield _bad(f"link {a} – {b}", f"A stay of {link.stay} is no chance.")
        if top(a) == top(b):
            yield _bad(
                f"link {a} – {b}",
                "The order of events runs in a circle or joins two events twice.",
                "Leave out one of the links, so that the events form a tree.",
                "chain.circle",
            )
        parent[top(a)] = top(b)


def _check_names(case: Case) -> Iterable[Problem]:
    for kind, names in (
        ("item", [i.id for i in case.items]),
        ("claim", [c.id for c in case.claims]),
        ("part", [p.name for p in case.parts]),
    ):
        for name in dict.fromkeys(n for n in names if names.count(n) > 1):
            what = f"Two {kind}s are called {name!r}."
            yield _bad(f"{kind} {name!r}", what, "Give each its own name.", "name.twice")


def _check_item(
    item: EvidenceItem, parts: set[str], events: set[str], settings: Settings
) -> Iterable[Problem]:
    where = f"item {item.id!r}"
    part, event = place_of(item)
    if item.event == NOT_AN_EVENT:
        yield Problem(
            where=where,
            what="It bounds what a word can mean, not the object.",
            remedy="Nothing to do: it is shown with the label and not weighed.",
            severity=4,
            code="item.label",
        )
        return
    if part not in parts:
        yield _no_part(where, part)
    if event not in events:
        yield _bad(
            where, f"The order of events does not say where {event!r} stands.", "Add a link.", "chain.event"
        )
    if not 0.0 <= item.doubt < 1.0:
        yield _bad(where, f"A doubt of {item.doubt} is no chance below 1.", "Give a doubt from 0 to 0.99.")
    if not 0.0 <= item.within_group <= 1.0:
        yield _bad(where, f"A correlation of {item.within_group} lies outside 0 to 1.")
    yield from _check_years(item, where, settings)


def _check_years(item: EvidenceItem, where: str, settings: Settings) -> Iterable[Problem]:
    if any(not math.isfinite(h) or h < 0.0 for _, h in item.curve):
        yield _bad(
            where, "Its curve has a height below 0 or not a number.", "Heights start at 0.", "curve.height"
        )
    elif not item.windows and not item.curve:
        yield _bad(where, "It names no years.", "Give a window of years or a curve.", "years.none")
    elif not years_allowed(item, settings.first, settings.last):
        if item.curve and all(h == 0.0 for _, h in item.curve) and not item.windows:
            yield _bad(where, "Its curve is zero everywhere.", "Give it some height.", "curve.zero")
        else:
            ends = ", ".join(f"{w.earliest}–{w.latest}" for w in item.windows) or "its curve"
            yield _off_grid(where, ends, settings)


def _no_year_left(case: Case, settings: Settings) -> Iterable[Problem]:
    """Hard windows that exclude one another, unless a later copy of an earlier thing would explain them."""
    hard = {i.id: i for i in case.items if (i.hard or i.doubt == 0.0) and i.windows}
    for clash in smallest_clashes(
        hard.values(), chain=case.chain, sources=case.sources, first=settings.first, last=settings.last
    ):
        members = [hard[name] for name in clash.items]
        if settings.copy_chance > 0.0 and _looks_copied(members, settings):
            continue
        yield Problem(
            where=" and ".join(f"item {m.id!r}" for m in members),
            what=in_full(clash),
            why="No year is left, so there is nothing to weigh.",
            remedy="Move one to its own part or event, doubt it (hard = false), or leave it out.",
            severity=2,
            code="years.none_left",
        )


def _looks_copied(members: list[EvidenceItem], settings: Settings) -> bool:
    binding = [years_allowed(m, settings.first, settings.last) for m in members if m.binding]
    imitable = [years_allowed(m, settings.first, settings.last) for m in members if not m.binding]
    return bool(binding and imitable) and max(map(lowest, binding)) > min(map(highest, imitable))
