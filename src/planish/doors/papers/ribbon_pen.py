"""The ribbon's pen: years to places, and the few shapes a ribbon is made of. Plain SVG text; knows nothing of evidence."""

import re
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass, field
from xml.sax.saxutils import escape, quoteattr

from planish.records import Years

PAPER, INK, LEAD = "#fbf7ee", "#241f1a", "#6a6d70"
VERDIGRIS, BRASS, OXIDE = "#3e7d71", "#a5802f", "#8d3a28"

_NOT_TEXT = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_HALO = f'stroke="{PAPER}" stroke-width="3" stroke-linejoin="round" paint-order="stroke"'
_TONES = {
    "plain": f'font-size="10.5" fill="{INK}"',
    "quiet": f'font-size="9.5" fill="{LEAD}" font-style="italic"',
    "number": f'font-size="10.5" font-weight="bold" fill="{INK}"',
    "claim": f'font-size="12" font-weight="bold" fill="{INK}"',
    "clash": f'font-size="10.5" font-weight="bold" fill="{OXIDE}"',
    "small": f'font-size="9" fill="{INK}"',
    "range": f'font-size="11" fill="{INK}"',
}


def clean(text: str) -> str:
    """Text fit for XML: marked-up characters escaped, control characters dropped."""
    return escape(_NOT_TEXT.sub("", text))


def shorten(text: str, most: int) -> str:
    """At most `most` characters, cut at a word with an ellipsis; the whole text stays in the tooltip and in the words."""
    return textwrap.shorten(text, most, placeholder=" …") or text[:most]


def wrap(text: str, width: int, lines: int) -> list[str]:
    """Up to `lines` lines of about `width` characters, the last one cut with an ellipsis."""
    return textwrap.wrap(text, width, max_lines=lines, placeholder=" …") or [""]


@dataclass(slots=True)
class Pen:
    """Draws on one sheet `width` units wide, the band of years between `left` and `width - right`."""

    width: float
    left: float
    right: float
    first: int
    last: int
    face: str
    key: str
    shapes: list[str] = field(default_factory=list)

    # --- places ---------------------------------------------------------------------------------------------------

    def x(self, year: float) -> float:
        """Place of a point in time; year y fills [y, y + 1)."""
        share = (year - self.first) / (self.last + 1 - self.first)
        return self.left + min(max(share, 0.0), 1.0) * (self.width - self.left - self.right)

    def ends(self, years: Years) -> tuple[float, float]:
        """Left and right place of a span, cut to the band."""
        low = self.first if years.earliest is None else years.earliest
        high = self.last if years.latest is None else years.latest
        return self.x(low), max(self.x(high + 1), self.x(low) + 1.5)

    def open_left(self, years: Years) -> bool:
        """True when the span runs off the left edge of the band."""
        return years.earliest is None or years.earliest < self.first

    def open_right(self, years: Years) -> bool:
        """True when the span runs off the right edge of the band."""
        return years.latest is None or years.latest > self.last

    def mark(self) -> int:
        """A place in the drawing under which something may be laid later."""
        return len(self.shapes)

    # --- strokes --------------------------------------------------------------------------------------------------

    def put(self, shape: str, at: int | None = None) -> None:
        """Add one shape on top, or underneath everything drawn since `at`."""
        self.shapes.insert(len(self.shapes) if at is None else at, shape)

    def line(self, a: tuple[float, float], b: tuple[float, float], more: str, at: int | None = None) -> None:
        """A straight line."""
        self.put(f'<line x1="{a[0]:.1f}" y1="{a[1]:.1f}" x2="{b[0]:.1f}" y2="{b[1]:.1f}" {more}/>', at)

    def text(self, x: float, y: float, words: str, *, anchor: str = "start", tone: str = "plain") -> None:
        """Words at a place; selectable text, never outlines."""
        side = "" if anchor == "start" else f' text-anchor="{anchor}"'
        self.put(f'<text x="{x:.1f}" y="{y:.1f}"{side} {_TONES[tone]} {_HALO}>{clean(words)}</text>')

    def centred(self, x: float, y: float, words: str, tone: str = "range") -> None:
        """Words centred on a place, pushed inwards where they would leave the sheet."""
        half = len(words) * {"range": 2.75, "claim": 3.2, "clash": 2.9}.get(tone, 2.6)
        low, high = self.left + half, self.width - self.right - half
        self.text(min(max(x, low), max(low, high)), y, words, anchor="middle", tone=tone)

    def open_group(self, id: str, title: str) -> None:
        """Begin an item that a screen can let people touch."""
        self.put(
            f'<g class="item" data-item={quoteattr(_NOT_TEXT.sub("", id))}><title>{clean(title)}</title>'
        )

    def close_group(self) -> None:
        """End the item."""
        self.put("</g>")

    # --- parts of a ribbon ------------------------------------------------------------------------------------------

    def heading(self, words: str, y: float) -> float:
        """Title of the whole ribbon."""
        self.put(
            f'<text x="8" y="{y + 12:.1f}" font-size="14" font-weight="bold" fill="{INK}">{clean(words)}</text>'
        )
        return y + 22.0

    def part_name(self, words: str, y: float) -> float:
        """Name of a part over a thin rule."""
        self.line((8, y), (self.width - 8, y), f'stroke="{LEAD}" stroke-width="0.6"')
        self.put(
            f'<text x="8" y="{y + 15:.1f}" font-size="12" font-style="italic" font-weight="bold" fill="{INK}">{clean(words)}</text>'
        )
        return y + 20.0

    def grid(self, under: int, top: float, bottom: float) -> None:
        """Fine upright lines every fifty years (ten when the band is short), under everything."""
        for year in self.ticks():
            self.line(
                (self.x(year), top), (self.x(year), bottom), 'stroke="#d9d2c3" stroke-width="0.6"', under
            )

    def shade(self, under: int, years: Years, top: float, bottom: float) -> None:
        """The years of the claim carried down through the rows: pale, with dotted edges that survive printing."""
        a, b = self.ends(years)
        for x, opened in ((a, self.open_left(years)), (b, self.open_right(years))):
            if not opened:
                self.line(
                    (x, top),
                    (x, bottom),
                    f'stroke="{INK}" stroke-width="0.5" stroke-dasharray="1 2.5"',
                    under,
                )
        self.put(
            f'<rect x="{a:.1f}" y="{top:.1f}" width="{b - a:.1f}" height="{bottom - top:.1f}" fill="#efe3c2" fill-opacity="0.6"/>',
            under,
        )

    def bracket(self, years: Years, words: str, y: float) -> None:
        """A claim: its words over a bracket; an open end has an arrow instead of a hook."""
        a, b = self.ends(years)
        left = (
            f"M{a:.1f} {y + 11:.1f}V{y + 4:.1f}" if not self.open_left(years) else self._arrow(a, y + 4, -1)
        )
        right = f"V{y + 11:.1f}" if not self.open_right(years) else ""
        self.put(f'<path d="{left}H{b:.1f}{right}" fill="none" stroke="{INK}" stroke-width="1.8"/>')
        if self.open_right(years):
            self.put(f'<path d="{self._arrow(b, y + 4, 1)}" fill="none" stroke="{INK}" stroke-width="1.8"/>')
        self.centred((a + b) / 2, y, words, "claim")

    def _arrow(self, x: float, y: float, way: int) -> str:
        tail = x - 5 * way
        return f"M{tail:.1f} {y - 3.5:.1f}L{x:.1f} {y:.1f}L{tail:.1f} {y + 3.5:.1f}M{x:.1f} {y:.1f}"

    def opinion(self, years: Years, best: int | None, y: float) -> None:
        """One opinion: a fine line with end ticks, and a lozenge at the best year."""
        a, b = self.ends(years)
        self.put(
            f'<path d="M{a:.1f} {y - 2.5:.1f}v5M{a:.1f} {y:.1f}H{b:.1f}M{b:.1f} {y - 2.5:.1f}v5" fill="none" stroke="{LEAD}" stroke-width="1"/>'
        )
        if best is not None:
            m = self.x(best + 0.5)
            self.put(f'<path d="M{m:.1f} {y - 3:.1f}l3 3l-3 3l-3 -3z" fill="{INK}"/>')

    def bar(self, years: Years, y: float, *, binding: bool, doubted: bool, sharp: bool = True) -> None:
        """An item: solid when binding, hollow when imitable, broken outline when doubted; open ends become arrows."""
        a, b = self.ends(years)
        tip = 7.0
        low, high = a + (tip if self.open_left(years) else 0), b - (tip if self.open_right(years) else 0)
        low, high = min(low, high), max(low, high)
        path = f"M{low:.1f} {y - 3.5:.1f}H{high:.1f}"
        path += f"L{b:.1f} {y:.1f}L{high:.1f} {y + 3.5:.1f}" if self.open_right(years) else "v7"
        path += f"H{low:.1f}" + (f"L{a:.1f} {y:.1f}z" if self.open_left(years) else "z")
        fill = VERDIGRIS if binding and not doubted else PAPER
        dash = ' stroke-dasharray="3 2"' if doubted else ""
        self.put(f'<path d="{path}" fill="{fill}" stroke="{INK}" stroke-width="1"{dash}/>')
        if binding and doubted:
            self.put(f'<path d="{path}" fill="{VERDIGRIS}" fill-opacity="0.35"/>')
        for x, opened in ((a, self.open_left(years)), (b, self.open_right(years))):
            if sharp and not opened:  # the known edge is what bites
                self.line((x, y - 6.5), (x, y + 6.5), f'stroke="{INK}" stroke-width="1.6"')

    def years_beside(self, years: Years, y: float, words: str) -> None:
        """The years of a bar where there is room: after it, before it, or on it over a paper ground."""
        a, b = self.ends(years)
        need = len(words) * 4.6 + 8
        if self.width - self.right - b >= need:
            self.text(b + 6, y, words, tone="small")
        elif a - self.left >= need:
            self.text(a - 6, y, words, anchor="end", tone="small")
        else:
            middle = (a + b) / 2
            self.put(
                f'<rect x="{middle - need / 2:.1f}" y="{y - 8:.1f}" width="{need:.1f}" height="10.5" rx="2" fill="{PAPER}"/>'
            )
            self.text(middle, y, words, anchor="middle", tone="small")

    def gap(self, years: Years, y: float, leaders: Sequence[tuple[int, float]], under: int) -> None:
        """The hatched years between two edges that do not meet, with fine leaders down from the edges that bite.

        `leaders` are (0 for the left edge or 1 for the right, place to start from), laid under everything since `under`.
        """
        a, b = self.ends(years)
        for side, top in leaders:
            x = (a, b)[side]
            self.line(
                (x, top), (x, y + 11), f'stroke="{OXIDE}" stroke-width="0.9" stroke-dasharray="2 1.5"', under
            )
        self.put(
            f'<rect x="{a:.1f}" y="{y:.1f}" width="{b - a:.1f}" height="11" fill="url(#{self.key}h)" stroke="{OXIDE}" stroke-width="1.1"/>'
        )

    def gap_name(self, words: str, years: Years | None, y: float, most: int) -> float:
        """The name of a clash under its hatching, on one or two lines; returns the foot of the last."""
        a, b = self.ends(years) if years is not None else (self.left, self.width - self.right)
        for line in wrap(words, most, 2):
            half = len(line) * 2.75
            low, high = 8.0 + half, self.width - self.right - half
            self.text(min(max((a + b) / 2, low), max(low, high)), y, line, anchor="middle", tone="clash")
            y += 12.0
        return y - 12.0

    def curve(
        self,
        start: int,
        chances: Sequence[float],
        period: Sequence[float],
        base: float,
        height: float,
        most: float,
    ) -> None:
        """Chance of each year as a filled hill; the dashed line is the same if the thing is a period piece.

        `most` is the chance drawn at full height: a higher peak is cut there, so that lower humps can be seen.
        """
        top = min(max(*chances, *period, 0.0), most)
        top = top if top > 1e-9 else 1.0  # next to nothing everywhere: drawn flat
        body = self._hill(start, chances, base, height / top, top)
        self.put(
            f'<path d="{body}" fill="{VERDIGRIS}" fill-opacity="0.38" stroke="{INK}" stroke-width="0.9" stroke-linejoin="round"/>'
        )
        if period:
            line = self._hill(start, period, base, height / top, top)
            self.put(
                f'<path d="{line}" fill="none" stroke="{BRASS}" stroke-width="1.3" stroke-dasharray="4 2.5"/>'
            )
        self.line((self.left, base), (self.width - self.right, base), f'stroke="{INK}" stroke-width="0.9"')

    def _hill(self, start: int, chances: Sequence[float], base: float, scale: float, top: float) -> str:
        points: list[tuple[float, float]] = []
        for i, chance in enumerate(chances):
            if self.first <= start + i <= self.last:
                height = base - min(chance, top) * scale
                points.extend(((self.x(start + i), height), (self.x(start + i + 1), height)))
        if not points:
            return f"M{self.left:.1f} {base:.1f}z"
        kept = [p for n, p in enumerate(points) if n in (0, len(points) - 1) or not _level(points, n)]
        path = "L".join(f"{x:.1f} {y:.1f}" for x, y in kept)
        return f"M{points[0][0]:.1f} {base:.1f}L{path}L{points[-1][0]:.1f} {base:.1f}z"

    def range_line(self, years: Years, y: float) -> None:
        """The shortest range, as a heavy line with end ticks."""
        a, b = self.ends(years)
        self.put(
            f'<path d="M{a:.1f} {y - 3:.1f}v6M{a:.1f} {y:.1f}H{b:.1f}M{b:.1f} {y - 3:.1f}v6" fill="none" stroke="{INK}" stroke-width="2"/>'
        )

    def ticks(self) -> range:
        """Years of the grid lines."""
        span = self.last - self.first
        step = 10 if span <= 120 else 50 if span <= 450 else 100
        return range(-(-self.first // step) * step, self.last + 1, step)

    def axis(self, y: float) -> float:
        """The years along the foot, with a fine tick every ten."""
        self.line((self.left, y + 2), (self.width - self.right, y + 2), f'stroke="{INK}" stroke-width="1"')
        for year in range(-(-self.first // 10) * 10, self.last + 1, 10):
            self.line((self.x(year), y + 2), (self.x(year), y + 5), f'stroke="{INK}" stroke-width="0.5"')
        for year in self.ticks():
            self.line((self.x(year), y + 2), (self.x(year), y + 8), f'stroke="{INK}" stroke-width="1"')
            self.text(self.x(year), y + 19, str(year), anchor="middle")
        return y + 22.0

    def legend(self, y: float, signs: Sequence[str]) -> float:
        """What the shapes mean, on one line; only the shapes in use."""
        words = {
            "solid": "cannot be imitated backwards",
            "hollow": "can be imitated",
            "doubted": "doubted",
            "clash": "clash",
            "period": "if a period piece",
        }
        x = 8.0
        for sign in signs:
            self._sample(sign, x, y + 6)
            self.text(x + 26, y + 9, words[sign], tone="small")
            x += 44 + 4.5 * len(words[sign])
        return y + (14.0 if signs else 0.0)

    def _sample(self, sign: str, x: float, y: float) -> None:
        if sign == "period":
            self.line((x, y), (x + 20, y), f'stroke="{BRASS}" stroke-width="1.3" stroke-dasharray="4 2.5"')
            return
        fill = {"solid": VERDIGRIS, "clash": f"url(#{self.key}h)"}.get(sign, PAPER)
        dash = ' stroke-dasharray="3 2"' if sign == "doubted" else ""
        self.put(
            f'<rect x="{x:.1f}" y="{y - 3.5:.1f}" width="20" height="7" fill="{fill}" stroke="{INK}"{dash}/>'
        )

    def document(self, title: str, words: str, height: float) -> str:
        """The finished SVG document."""
        hatch = (
            f'<defs><pattern id="{self.key}h" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
            f'<line x1="0" y1="0" x2="0" y2="5" stroke="{OXIDE}" stroke-width="1.7"/></pattern></defs>'
        )
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {self.width:.0f} {height:.0f}" width="{self.width:.0f}" '
            f'height="{height:.0f}" role="img" aria-labelledby="{self.key}t {self.key}d" font-family="{self.face}">'
        )
        names = f'<title id="{self.key}t">{clean(title)}</title><desc id="{self.key}d">{clean(words)}</desc>'
        ground = f'<rect width="{self.width:.0f}" height="{height:.0f}" fill="{PAPER}"/>'
        return "\n".join((head, names, hatch, ground, *self.shapes, "</svg>\n"))


def _level(points: list[tuple[float, float]], n: int) -> bool:
    """True for a point between two others of its own height: it adds nothing to the outline."""
    return abs(points[n - 1][1] - points[n][1]) < 0.05 and abs(points[n + 1][1] - points[n][1]) < 0.05
