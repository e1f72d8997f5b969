"""Named periods: reigns, eras and styles, told apart by country, and the styles that claim no date."""

from planish.reasoning.reading.dates import kinds as k
from planish.reasoning.reading.dates.dated import Dated, span_code
from planish.reasoning.reading.dates.lexicon import Period
from planish.reasoning.reading.dates.scanning import Tokens
from planish.reasoning.reading.dates.units import Sheet

OPEN_END = 2099
"""Last year of a period that has not ended."""


def period(s: Sheet, i: int, *, leaning: bool) -> Dated | None:
    """The period named at token `i`. `leaning` is True when a word before it ("late", "reign of") asks for a period.

    A name before "style" or "revival" comes back with grain "style": it claims no date.
    """
    t = s.t
    rows, weak_rows = t.value[i]
    after, strong = _past_period_words(t, i + 1)
    if t.kind[after] == k.PLACEWORD and not strong:
        return None
    style = _style_after(t, after)
    weak = not rows
    if weak and not (s.liberal or strong or leaning or style or _before_trade_word(s, after)):
        return None
    found = _of_rows(s, i, style or after, rows or weak_rows)
    if style:
        found.grain = "style"
    return found


def _past_period_words(t: Tokens, j: int) -> tuple[int, bool]:
    if t.kind[j] == k.PERIODWORD:
        return j + 1, True
    if t.kind[j] == k.DASH and t.kind[j + 1] == k.PERIODWORD:
        return j + 2, True
    return j, False


def _style_after(t: Tokens, j: int) -> int:
    """The token after "style" in "George II style", "Georgian-style"; 0 when none follows."""
    if t.kind[j] in (k.DASH, k.QUOTE) and t.kind[j + 1] == k.STYLE:
        j += 1
    return j + 1 if t.kind[j] == k.STYLE else 0


def _before_trade_word(s: Sheet, j: int) -> bool:
    """True when the next word is one of the trade: "Federal andirons", and no surname."""
    t = s.t
    return t.kind[j] == k.WORD and t.text[t.start[j] : t.end[j]].lower() in s.lexicon.known


def _of_rows(s: Sheet, i: int, after: int, rows: tuple[Period, ...]) -> Dated:
    chosen, others, told = _choose(s, rows)
    lo = min(row.earliest for row in chosen)
    hi = max(row.latest or OPEN_END for row in chosen)
    found = Dated("period", lo, hi, span_code(lo, hi), i, after)
    found.rows = chosen
    found.other = tuple((row.earliest, row.latest or OPEN_END) for row in others)
    found.told = told if others else ""
    found.settings = (f"periods={s.conventions.periods}",)
    return found


def _choose(s: Sheet, rows: tuple[Period, ...]) -> tuple[tuple[Period, ...], tuple[Period, ...], str]:
    """Rows meant, rows that may be meant, and what would tell. A name without its number stands for all who bore it."""
    country = s.country or s.conventions.default_country
    here = tuple(row for row in rows if row.country == country)
    if not here:
        here = tuple(row for row in rows if row.country == rows[0].country)
    elsewhere = tuple(row for row in rows if row not in here)
    if len(here) > 1 and len({row.kind for row in here}) == 1:
        return here, here, "the number of the ruler"
    style_first = sorted(here, key=lambda row: row.kind != "style")
    rest = tuple(style_first[1:]) + (() if s.country else elsewhere)
    told = (
        "the country of making" if elsewhere and not s.country else "whether the reign or the style is meant"
    )
    return (style_first[0],), rest, told
