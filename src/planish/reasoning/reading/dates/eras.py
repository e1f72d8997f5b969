"""Named periods: reigns, eras and styles, told apart by country, and the styles that claim no date."""

from planish.reasoning.reading.dates import kinds as k
from planish.reasoning.reading.dates.dated import Dated, span_code
from planish.reasoning.reading.dates.lexicon import Period
from planish.reasoning.reading.dates.pieces import cut_up, lowered
from planish.reasoning.reading.dates.scanning import Tokens
from planish.reasoning.reading.dates.sheet import Sheet

OPEN_END = 2099
"""Last year of a period that has not ended."""


def period(s: Sheet, i: int, *, leaning: bool) -> Dated | None:
    """The period named at token `i`. `leaning` is True when a word before it ("late", "reign of") asks for a period.

    A name before "style" or "revival" comes back with grain "style": it claims no date.
    A ruler who is only shown ("portrait of Louis XV") dates nothing and is left to other readers.
    """
    t = s.t
    rows, weak_rows = t.value[i]
    if i and t.kind[i - 1] == k.DEPICTS:
        return None
    after, strong = _past_period_words(t, i + 1)
    if not strong and (marked := _mark_after(s, rows or weak_rows, after)):
        found = _of_rows(s, i, marked, rows or weak_rows)
        found.grain = "style"
        return found
    if t.kind[after] == k.PLACEWORD and not strong:
        return None
    style = _style_after(t, after) or (after if _style_before(t, i) else 0)
    weak = not rows
    if weak and weak_rows[0].at_home and not (strong or s.liberal) and not _at_home(s, i, weak_rows[0]):
        return None
    if weak and not (s.liberal or strong or leaning or style or _before_trade_word(s, after)):
        return None
    if weak and not (s.liberal or strong) and t.text[t.start[i]].islower():
        return None  # the tang of a blade is no dynasty
    found = _of_rows(s, i, style or after, rows or weak_rows)
    if style:
        found.grain = "style"
    return found


def _at_home(s: Sheet, i: int, row: Period) -> bool:
    """ "Colonial" is a time of America's where the label or the fair is American; a Dutch or an Indian colonial box is not of it."""
    t = s.t
    told = t.value[i - 1] if i and t.kind[i - 1] == k.COUNTRY else s.country
    return (told or s.conventions.default_country) == row.country


def _past_period_words(t: Tokens, j: int) -> tuple[int, bool]:
    if t.kind[j] == k.PERIODWORD:
        return j + 1, True
    if t.kind[j] == k.DASH and t.kind[j + 1] == k.PERIODWORD:
        return j + 2, True
    return j, False


def _style_after(t: Tokens, j: int) -> int:
    """The token after "style" in "George II style", "Georgian-style", "Queen Anne form"; 0 when none follows."""
    if t.kind[j] in (k.DASH, k.QUOTE) and t.kind[j + 1] == k.STYLE:
        j += 1
    return j + 1 if t.kind[j] in (k.STYLE, k.STYLENOUN) else 0


def _style_before(t: Tokens, i: int) -> bool:
    """True for the order of French and of forms: "style Louis XV", "Style: Regency"."""
    at = i - 1 - (i > 1 and t.kind[i - 1] == k.COLON)
    if at < 0 or t.kind[at] != k.STYLE or t.text[t.start[at] : t.end[at]].lower() != "style":
        return False
    return at == 0 or t.kind[at - 1] not in (k.PERIOD, k.DASH, k.CENT, k.ORDCENT)


def _mark_after(s: Sheet, rows: tuple[Period, ...], j: int) -> int:
    """The token after "mark" in "Xuande six-character mark": such a mark honours a reign and dates nothing; 0 when none."""
    t = s.t
    if rows[0].kind != "reign" or rows[0].country not in s.lexicon.reign_marks:
        return 0
    if j and t.text[t.start[j - 1]].islower():
        return 0  # the tang of a knife
    for at in range(j, j + 4):
        if t.kind[at] == k.MARK:
            return at + 1
        if t.kind[at] not in (k.WORD, k.DASH, k.NUM, k.CARDINAL):
            return 0
    return 0


def _before_trade_word(s: Sheet, j: int) -> bool:
    """True when the next word is one of the trade: "Federal andirons", "Adam brass"; a capital stands for a thing only."""
    t = s.t
    if t.kind[j] != k.WORD:
        return False
    word = t.text[t.start[j] : t.end[j]]
    return word.lower() in s.lexicon.things or (word.islower() and word in s.lexicon.known)


def _of_rows(s: Sheet, i: int, after: int, rows: tuple[Period, ...]) -> Dated:
    reign = i > 0 and s.t.kind[i - 1] == k.REIGNOF
    chosen, others, told = _choose(s, rows, reign=reign)
    lo = min(row.earliest for row in chosen)
    hi = max(row.latest or OPEN_END for row in chosen)
    found = Dated("period", lo, hi, span_code(lo, hi), i, after)
    found.rows = chosen
    found.other = tuple((row.earliest, row.latest or OPEN_END) for row in others)
    found.told = told if others else ""
    if not others and len(chosen) == 1 and chosen[0].other:
        found.other, found.told = chosen[0].other, chosen[0].told
    found.settings = (f"periods={s.conventions.periods}",)
    if chosen[0].kind == "end":
        found.opening, found.inclusive = "before", True
    return found


def regnal_year(s: Sheet, i: int) -> Dated | None:
    """ "12 Geo. II" alone in a date field: the twelfth year of the reign, which runs over two of ours.

    Years of a reign are counted from the day of accession (statutes and deeds were dated so); Charles II counted his from 1649.
    """
    t = s.t
    rows, weak = t.value[i + 1]
    reigns = [row for row in (*rows, *weak) if row.kind == "reign" and row.country == "GB"]
    if len(reigns) != 1 or t.kind[i + 2] not in (k.END, k.RPAR, k.COMMA, k.SEMI):
        return None
    row, number = reigns[0], t.value[i]
    first = row.earliest + number - 1 - (_COUNTED_BEFORE if row.name == _RESTORED else 0)
    if row.latest is None or not row.earliest <= first <= row.latest:
        return None
    found = Dated("year", first, first + 1, span_code(first, first + 1), i, i + 2)
    found.settings = ("regnal years from accession",)
    return found


_RESTORED, _COUNTED_BEFORE = "Charles II", 11
"""His twelfth year began in January 1660, at the Restoration, because he counted from his father's death in January 1649."""


def same_name_again(s: Sheet, first: Dated, i: int) -> Dated | None:
    """The second ruler of "George II or III", "George III/IV", "Louis XV-XVI": a number alone borrows the name."""
    t = s.t
    at = first.next - 1
    if t.kind[at] != k.PERIOD or t.kind[i] not in (k.WORD, k.ORD):
        return None
    name = cut_up(lowered(t.text[t.start[at] : t.end[at]]))[0]
    wanted = (*name[1:-1], t.text[t.start[i] : t.end[i]].lower())
    entry = s.lexicon.entries.get(name[0])
    for rest, _, kind, value in entry[3].get(wanted[0], ()) if entry else ():
        if kind == k.PERIOD and rest == wanted and value[0]:
            return _of_rows(s, i, i + 1, value[0])
    return None


def _choose(
    s: Sheet, rows: tuple[Period, ...], *, reign: bool
) -> tuple[tuple[Period, ...], tuple[Period, ...], str]:
    """Rows meant, rows that may be meant, and what would tell. A name without its number stands for all who bore it.

    `reign`: the label says "reign of", so the ruler's own years go before the style that bears the name.
    """
    country = s.country or s.conventions.default_country
    here = tuple(row for row in rows if row.country == country)
    if not here:
        here = tuple(row for row in rows if row.country == rows[0].country)
    elsewhere = tuple(row for row in rows if row not in here)
    if len(here) > 1 and len({row.kind for row in here}) == 1:
        return here, here, "the number of the ruler"
    style_first = sorted(here, key=lambda row: (row.kind == "reign") != reign)
    rest = tuple(style_first[1:]) + (() if s.country else elsewhere)
    told = (
        "the country of making" if elsewhere and not s.country else "whether the reign or the style is meant"
    )
    return (style_first[0],), rest, told
