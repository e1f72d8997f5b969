"""From a weighing to the spec of its ribbon: rows, years at the edges, and the clashes worth a hatch."""

from collections.abc import Iterable
from typing import Literal

from planish.doors.papers.ribbon import Bar, Bracket, Gap, Opinion, RibbonPart, RibbonSpec
from planish.reasoning.contradicting.masks import (
    FIRST_YEAR,
    LAST_YEAR,
    highest,
    lowest,
    mask_of,
    spans_of,
    years_allowed,
)
from planish.reasoning.contradicting.order import event_of, place_of
from planish.reasoning.contradicting.saying import event_words
from planish.reasoning.weighing import Case, DatedClaim, EventYears, Weighing
from planish.reasoning.weighing.likelihood import shape
from planish.reasoning.weighing.ranges import words_for
from planish.records import Contradiction, EvidenceItem, Years

_CLASHES_DRAWN = 2
_PERIOD_LINE_FROM = 0.05  # chance of a later copy from which the period curve is drawn beside the whole


def spec_from(
    weighing: Weighing,
    case: Case,
    *,
    opinions: Iterable[Opinion] = (),
    size: Literal["full", "small"] = "full",
    face: Literal["paper", "screen"] = "paper",
) -> RibbonSpec:
    """The ribbon of a weighed case, one band a part, all on the same years. A blocked weighing has no curve."""
    names = ["", *(p.name for p in case.parts)]
    parts = []
    number = 0
    for name in names:
        items = [i for i in case.items if place_of(i)[0] == name]
        claims = [c for c in case.claims if ("" if c.part == "body" else c.part) == name]
        if not (items or claims) and name:
            continue
        own = tuple(opinions) if name == "" else ()
        parts.append(_part(weighing, case, name, items, claims, own, number))
        number += len(parts[-1].bars)
    first, last = _edges(parts)
    main = weighing.main
    return RibbonSpec(
        title=case.title or case.id,
        first=first,
        last=last,
        parts=tuple(parts),
        sentence=main.sentence if main else "",
        size=size,
        face=face,
    )


def _part(
    weighing: Weighing,
    case: Case,
    name: str,
    items: list[EvidenceItem],
    claims: list[DatedClaim],
    opinions: tuple[Opinion, ...],
    number: int,
) -> RibbonPart:
    doubts = {w.item: w.doubt for w in weighing.items}
    bars = tuple(_bar(item, number + n + 1, doubts.get(item.id, 0.0), case) for n, item in enumerate(items))
    years = next((e for e in weighing.events if (e.part, e.event) == (name, "made")), None)
    gaps = _gaps(weighing, items, claims, bars)
    chance = weighing.copy.probability if weighing.copy else 0.0
    return RibbonPart(
        name=name if name or len(case.parts) == 0 else "the whole",
        claims=tuple(Bracket(words=_claim_words(c), years=c.years) for c in claims),
        bars=bars,
        opinions=opinions,
        curve_first=years.first if years else 1400,
        curve=years.chances if years else (),
        period_curve=years.period_chances if years and name == "" and chance >= _PERIOD_LINE_FROM else (),
        ranges=years.ranges if years else (),
        range_words=_range_words(years) if years else "",
        clashes=gaps[:_CLASHES_DRAWN],
        more_clashes=max(0, len(gaps) - _CLASHES_DRAWN),
    )


def _claim_words(claim: DatedClaim) -> str:
    event = event_of(claim.event)
    return claim.words if event == "made" else f"{claim.words} ({event_words(event)})"


def _bar(item: EvidenceItem, number: int, doubt: float, case: Case) -> Bar:
    event = place_of(item)[1]
    about = "" if event == "made" else f" [{event_words(event)}]"
    notes = [case.sources[k] for k in (item.id, *item.facts) if k in case.sources]
    return Bar(
        id=item.id,
        number=number,
        label=item.sentence.strip().rstrip(".") + about,
        spans=item.windows or _mostly(item),
        sharp=bool(item.windows),
        note="; ".join(dict.fromkeys(notes)),
        binding=item.binding,
        doubted=doubt >= 0.5,
    )


def _range_words(years: EventYears) -> str:
    tenths = years.share * 10.0
    chance = f"{tenths:.0f} chances in ten" if abs(tenths - round(tenths)) < 1e-9 else f"{years.share:.0%}"
    return f"{words_for(years.ranges)} ({chance})"


def _mostly(item: EvidenceItem) -> tuple[Years, ...]:
    """Years in which a curve stands at half its height or more."""
    row = shape(item, FIRST_YEAR, LAST_YEAR)
    half = float(row.max()) / 2.0
    return spans_of(sum(1 << i for i, height in enumerate(row.tolist()) if height >= half > 0.0))


def _gaps(
    weighing: Weighing, items: list[EvidenceItem], claims: list[DatedClaim], bars: tuple[Bar, ...]
) -> tuple[Gap, ...]:
    """Clashes of this part, those with the label first; each with the years between its two edges where there are such."""
    allowed = {i.id: years_allowed(i) for i in items} | {c.id: mask_of((c.years,)) for c in claims}
    numbers = {b.id: b.number for b in bars}
    mine = [c for c in weighing.clashes if all(m in allowed for m in (*c.claims, *c.items))]
    return tuple(_gap(c, allowed, numbers) for c in sorted(mine, key=lambda c: not c.claims))


def _gap(clash: Contradiction, allowed: dict[str, int], numbers: dict[str, int]) -> Gap:
    members = sorted((*clash.claims, *clash.items), key=lambda m: (highest(allowed[m]), m))
    said = " and ".join("the label" if m in clash.claims else str(numbers.get(m, m)) for m in members)
    rows = tuple(0 if m in clash.claims else numbers.get(m, 0) for m in members)
    if len(members) != 2:
        return Gap(name=f"Clash: {said} cannot all be true", rows=rows)
    end, begin = highest(allowed[members[0]]), lowest(allowed[members[1]])
    if end >= begin:
        return Gap(name=f"Clash: {said} share no year", rows=rows)
    between = Years(FIRST_YEAR + end + 1, max(FIRST_YEAR + end + 1, FIRST_YEAR + begin - 1))
    a, b = said.split(" and ")
    name = f"Clash: {a} ends {FIRST_YEAR + end}, {b} begins {FIRST_YEAR + begin}"
    return Gap(name=name, years=between, rows=rows)


def _edges(parts: list[RibbonPart]) -> tuple[int, int]:
    """Years at the edges: every known edge with air around it, rounded to ten, at least 120 years."""
    spans = [
        s
        for p in parts
        for s in (*(c.years for c in p.claims), *(x for b in p.bars for x in b.spans), *p.ranges)
    ]
    spans += [o.years for p in parts for o in p.opinions]
    known = [y for s in spans for y in (s.earliest, s.latest) if y is not None and 1400 <= y <= 2030]
    low, high = (min(known), max(known)) if known else (1700, 1900)
    air = max(20, (high - low) // 8)
    low, high = low - air, high + air
    if high - low < 120:
        middle = (low + high) // 2
        low, high = middle - 60, middle + 60
    return max(1400, low // 10 * 10), min(2030, -(-high // 10) * 10)
