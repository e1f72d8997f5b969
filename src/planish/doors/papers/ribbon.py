"""The year ribbon: one band of years with the claim, the evidence, the opinions, the clashes and what the years say.

One pure routine, `ribbon(spec)`, draws it as SVG for the report, the papers and the screens; `ribbon_words(spec)` says the same in
words. `ribbon_from.spec_from` builds the spec from a weighing. Every sign has a shape; no tint stands alone.
"""

import zlib
from dataclasses import dataclass
from typing import Literal

from planish.doors.papers.ribbon_pen import Pen, shorten, wrap
from planish.records import Years


@dataclass(frozen=True, slots=True, kw_only=True)
class Bracket:
    """A claim over the band: the label's own words and the years they mean; an open end is None."""

    words: str
    years: Years


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One item of evidence: `label` beside it, `spans` it allows, `note` its source. `number` is what clashes refer to.

    `binding` bars are solid (cannot be imitated backwards), others hollow; `doubted` ones have a broken outline.
    `sharp` is False when the years are only the greater part of a curve without edges.
    """

    id: str
    number: int
    label: str
    spans: tuple[Years, ...]
    note: str = ""
    binding: bool = False
    doubted: bool = False
    sharp: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """A clash: the years between two edges that do not meet, and its name. Without `years` it is named only.

    `rows` are the numbers of the bars concerned, the one that ends first before the other; 0 stands for the claim.
    """

    name: str
    years: Years | None = None
    rows: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Opinion:
    """One specialist's years, unnamed: the interval and, when given, the best year."""

    years: Years
    best: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RibbonPart:
    """The ribbon of one part. `curve[i]` is the chance of year `curve_first + i`; `period_curve` the same if it is a
    period piece (drawn only when given); `ranges` the shortest years that hold the share said in `range_words`."""

    name: str
    claims: tuple[Bracket, ...] = ()
    bars: tuple[Bar, ...] = ()
    opinions: tuple[Opinion, ...] = ()
    curve_first: int = 1400
    curve: tuple[float, ...] = ()
    period_curve: tuple[float, ...] = ()
    ranges: tuple[Years, ...] = ()
    range_words: str = ""
    clashes: tuple[Gap, ...] = ()
    more_clashes: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class RibbonSpec:
    """Everything a ribbon shows. `first` and `last` are the years at its edges. `face` picks the lettering: a bookish
    serif for paper, a plain face for the screen. `size` small drops the column of labels for narrow places."""

    title: str
    first: int
    last: int
    parts: tuple[RibbonPart, ...]
    sentence: str = ""
    size: Literal["full", "small"] = "full"
    face: Literal["paper", "screen"] = "paper"


FACES = {
    "paper": "Libertinus Serif, Palatino, Georgia, serif",
    "screen": "Atkinson Hyperlegible, Verdana, DejaVu Sans, sans-serif",
}
_CURVE_HEIGHT = {"full": 62.0, "small": 44.0}
_ROW = {"full": 25.0, "small": 27.0}


def ribbon(spec: RibbonSpec) -> str:
    """Draw the ribbon as one SVG document: scales with its box, text stays text, nothing is fetched from anywhere."""
    pen = _pen(spec)
    y = 8.0
    if spec.title:
        y = pen.heading(spec.title, y)
    for number, part in enumerate(spec.parts):
        y = _part(pen, spec, part, y + (14.0 if number else 4.0))
    y = pen.axis(y)
    if spec.size == "full":
        y = pen.legend(y + 6.0, _signs(spec))
    return pen.document(spec.title or "Year ribbon", ribbon_words(spec), y + 6.0)


def _pen(spec: RibbonSpec) -> Pen:
    full = spec.size == "full"
    key = f"r{zlib.crc32(repr(spec).encode()):08x}"
    return Pen(
        width=760.0 if full else 380.0,
        left=232.0 if full else 12.0,
        right=22.0 if full else 12.0,
        first=spec.first,
        last=spec.last,
        face=FACES[spec.face],
        key=key,
    )


def _part(pen: Pen, spec: RibbonSpec, part: RibbonPart, top: float) -> float:
    """One part, from the top: name, opinions, claim, evidence, clashes, curve. Grid and claim shade are laid underneath."""
    under = pen.mark()
    y = pen.part_name(part.name, top) if part.name else top
    y = _opinions(pen, spec, part, y)
    claim_y = y
    y = _claims(pen, part, y)
    rows: dict[int, float] = {0: claim_y + 16.0}
    for bar in part.bars:
        rows[bar.number] = y + (_ROW[spec.size] / 2 if spec.size == "full" else 18.0)
        _bar(pen, spec, bar, y, rows[bar.number])
        y += _ROW[spec.size]
    y = _clashes(pen, spec, part, rows, y, under)
    y = _curve(pen, spec, part, y)
    for claim in part.claims[:1]:
        pen.shade(under, claim.years, claim_y + 18.0, y)
    pen.grid(under, top, y)
    return y


def _opinions(pen: Pen, spec: RibbonSpec, part: RibbonPart, y: float) -> float:
    if not part.opinions:
        return y
    if spec.size == "full":
        pen.text(pen.left - 12.0, y + 9.0, "opinions of the panel", anchor="end", tone="quiet")
    for opinion in part.opinions:
        pen.opinion(opinion.years, opinion.best, y + 5.0)
        y += 7.0
    return y + 5.0


def _claims(pen: Pen, part: RibbonPart, y: float) -> float:
    for claim in part.claims:
        pen.bracket(claim.years, f"“{claim.words}”", y + 12.0)
        y += 27.0
    return y


def _bar(pen: Pen, spec: RibbonSpec, bar: Bar, top: float, middle: float) -> None:
    pen.open_group(bar.id, f"{bar.number}. {bar.label}{_noted(bar)}")
    if spec.size == "full":
        lines = wrap(bar.label, 37, 2)
        start = middle + (3.5 if len(lines) == 1 else -2.0)
        pen.text(8.0, start, str(bar.number), tone="number")
        for n, line in enumerate(lines):
            pen.text(26.0, start + 11.0 * n, line)
    else:
        pen.text(12.0, top + 10.0, f"{bar.number}  {shorten(bar.label, 62)}")
    for span in bar.spans:
        pen.bar(span, middle, binding=bar.binding, doubted=bar.doubted, sharp=bar.sharp)
    if spec.size == "full" and len(bar.spans) <= 2:
        for span in bar.spans:
            pen.years_beside(span, middle + 3.2, _bar_years(bar, span))
    pen.close_group()


def _clashes(
    pen: Pen, spec: RibbonSpec, part: RibbonPart, rows: dict[int, float], y: float, under: int
) -> float:
    """One strip a clash: the years between the two edges hatched, leaders up to those edges, the name underneath."""
    for gap in part.clashes:
        if gap.years is not None:
            leaders = [(side, rows[row]) for side, row in enumerate(gap.rows[:2]) if row in rows]
            pen.gap(gap.years, y + 3.0, leaders, under)
            y += 14.0
        y = pen.gap_name(gap.name, gap.years, y + 12.0, 110 if spec.size == "full" else 62) + 3.0
    if part.more_clashes:
        pen.text(pen.width - pen.right, y + 11.0, _more(part.more_clashes), anchor="end", tone="quiet")
        y += 12.0
    return y


def _most(part: RibbonPart) -> float:
    """Chance drawn at full height: at most twelve times the top of the lowest hump, so that no hump is lost from sight."""
    tops = [
        max(
            part.curve[(r.earliest or 0) - part.curve_first : (r.latest or 0) - part.curve_first + 1],
            default=0.0,
        )
        for r in part.ranges
    ]
    lowest = min((t for t in tops if t > 0.0), default=0.0)
    return 12.0 * lowest if lowest else 1.0


def _curve(pen: Pen, spec: RibbonSpec, part: RibbonPart, y: float) -> float:
    if not part.curve:
        return y + 4.0
    height = _CURVE_HEIGHT[spec.size]
    base = y + height + 6.0
    most = _most(part)
    pen.curve(part.curve_first, part.curve, part.period_curve, base, height, most)
    if spec.size == "full":
        pen.text(26.0, base - height / 2 - 4.0, "what the evidence says")
        cut = ", highest peak cut" if max(*part.curve, *part.period_curve, 0.0) > most else ""
        pen.text(26.0, base - height / 2 + 8.0, f"year by year{cut}", tone="quiet")
    for years in part.ranges:
        pen.range_line(years, base + 7.0)
    if part.ranges:
        middle = pen.x((part.ranges[0].earliest or 0) / 2 + (part.ranges[-1].latest or 0) / 2)
        pen.centred(middle, base + 21.0, part.range_words)
    return base + (26.0 if part.ranges else 6.0)


def _signs(spec: RibbonSpec) -> tuple[str, ...]:
    bars = [b for p in spec.parts for b in p.bars]
    signs = []
    if any(b.binding for b in bars):
        signs.append("solid")
    if any(not b.binding for b in bars):
        signs.append("hollow")
    if any(b.doubted for b in bars):
        signs.append("doubted")
    if any(p.clashes for p in spec.parts):
        signs.append("clash")
    if any(p.period_curve for p in spec.parts):
        signs.append("period")
    return tuple(signs)


def ribbon_words(spec: RibbonSpec) -> str:
    """Everything the picture shows, in plain text, one line each: for screen readers and for people who prefer words."""
    lines = [f"{spec.title or 'Year ribbon'}: {spec.first} to {spec.last}."]
    if spec.sentence:
        lines.append(spec.sentence)
    for part in spec.parts:
        if part.name:
            lines.append(f"{part.name}:")
        lines.extend(f"Claim “{c.words}”: {_years(c.years)}." for c in part.claims)
        lines.extend(_opinion_words(o) for o in part.opinions)
        lines.extend(_bar_words(b) for b in part.bars)
        lines.extend(f"{g.name}." for g in part.clashes)
        if part.more_clashes:
            lines.append(f"{_more(part.more_clashes)}.")
        if part.ranges:
            lines.append(f"What the evidence says: {part.range_words}.")
    return "\n".join(lines)


def _opinion_words(opinion: Opinion) -> str:
    best = f", best {opinion.best}" if opinion.best is not None else ""
    return f"An opinion: {_years(opinion.years)}{best}."


def _bar_words(bar: Bar) -> str:
    kind = "cannot be imitated backwards" if bar.binding else "can be imitated"
    doubted = "; doubted" if bar.doubted else ""
    return f"{bar.number}. {bar.label}: {' or '.join(_bar_years(bar, s) for s in bar.spans)} ({kind}{doubted}){_noted(bar)}."


def _bar_years(bar: Bar, span: Years) -> str:
    return _years(span) if bar.sharp else f"mostly {_years(span)}"


def _noted(bar: Bar) -> str:
    return f" — {bar.note}" if bar.note else ""


def _more(count: int) -> str:
    return f"and {count} more clash{'es' if count > 1 else ''} of the same kind"


def _years(years: Years) -> str:
    if years.earliest is None and years.latest is None:
        return "any year"
    if years.latest is None:
        return f"from {years.earliest}"
    if years.earliest is None:
        return f"to {years.latest}"
    return str(years.earliest) if years.earliest == years.latest else f"{years.earliest}–{years.latest}"
