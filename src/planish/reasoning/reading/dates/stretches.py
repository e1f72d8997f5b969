"""A stretch of years: hedges before, units joined by dashes and the like, hedges after. Recursive descent by hand."""

from planish.reasoning.reading.dates import kinds as k
from planish.reasoning.reading.dates.dated import Dated, span_code
from planish.reasoning.reading.dates.eras import OPEN_END, period, same_name_again
from planish.reasoning.reading.dates.fractions import Part, cut
from planish.reasoning.reading.dates.hedges import LOOKAHEAD, Before, division_at, parts_at, read_before
from planish.reasoning.reading.dates.hijri import SETTING as HIJRA
from planish.reasoning.reading.dates.hijri import hijra_behind
from planish.reasoning.reading.dates.scanning import Tokens
from planish.reasoning.reading.dates.sheet import Sheet
from planish.reasoning.reading.dates.units import unit, unnumbered_century


def stretch(s: Sheet, i: int) -> Dated | None:
    """The whole stretch that begins at token `i`: "c. 1760-5", "between 1760 and 1775", "late 18th or early 19th century"."""
    first = point(s, i, None)
    if first is None:
        return None
    kind = s.t.kind
    while kind[first.next] in _JOINTS and (second := _other_end(s, first)) is not None:
        first = second
    if first.opening in _AMBIGUOUS:
        _from_one(first)
    if kind[first.next] != k.END:
        _closing(s, first)
        if first.grain != "style":
            _styled(s, first)
    return first


_AMBIGUOUS = frozenset({"from", "between"})


def _from_one(found: Dated) -> None:
    """ "From 1860" opens at a year; "from circa 1860", "from the 1860s" say in the trade that a thing was made then."""
    single = found.opening == "from" and len(found.codes) == 1
    found.opening = ""
    if not single:
        return
    if found.circa or found.grain != "year":
        found.other = ((found.lo, OPEN_END),)
        found.told = "whether it was made then, or at any time from then on"
    else:
        found.opening = "after"


def _styled(s: Sheet, found: Dated) -> None:
    """18th-century style, in the 1840s manner: years of a taste, which date nothing."""
    t = s.t
    i = found.next
    if t.kind[i] in (k.DASH, k.QUOTE) and t.kind[i + 1] == k.STYLE:
        i += 1
    in_design = (
        t.kind[i] == k.FILL and i + 1 < len(t.kind) and _word(t, i) == "in" and _word(t, i + 1) in _STYLES
    )
    if t.kind[i] == k.STYLE or in_design or (found.grain == "century" and _word(t, i) in _LENT):
        found.grain, found.next = "style", i + 1 + in_design


_STYLES = frozenset({"design", "style", "form", "manner", "taste", "type"})
_LENT = frozenset({"form", "design", "shape"})
""" "A 17th-century form still made in 1800", "circa 1650 in design": the model's years."""


def _word(t: Tokens, i: int) -> str:
    return t.text[t.start[i] : t.end[i]].lower() if i < len(t.start) else ""


def point(s: Sheet, i: int, ref: Dated | None) -> Dated | None:
    """One unit with its hedges and its part of a century or decade."""
    t = s.t
    kind = t.kind[i]
    if (kind == k.NUM and (t.digits[i] > 1 or t.kind[i + 1] not in _MAY_COUNT)) or kind == k.DECADE:
        found = unit(s, i, ref, False)
        if found is not None and t.kind[found.next] in _SOMETHING_AFTER:
            _after(s, found)
        return found
    before = Before()
    at = read_before(s, i, before)
    if at < 0:
        return None
    found = _unit_or_period(s, at, ref, before)
    if found is None:
        return None
    found.start = i
    if at == i and found.grain == "century":
        _letter_before(s, found, before)
    _apply(s, found, before)
    if t.kind[found.next] in _SOMETHING_AFTER:
        _after(s, found)
    return found


_MAY_COUNT = frozenset({k.SLASH, k.DOT})
"""Behind a single figure these may make it a part: 1/4 C18, 2. Hälfte 18. Jh."""


def _letter_before(s: Sheet, found: Dated, before: Before) -> None:
    """E18thC, M19th century, l. 17th c.: the part as one letter that touches the century."""
    t = s.t
    at = found.start - 1
    if at >= 1 and t.kind[at] == k.DOT and t.touching(at):
        at -= 1
    elif at < 0 or not t.touching(found.start):
        return
    part = s.lexicon.part_letters.get(t.text[t.start[at] : t.end[at]].lower())
    if part and not t.touching(at):
        before.parts = (part,)
        found.start = at


def _unit_or_period(s: Sheet, at: int, ref: Dated | None, before: Before) -> Dated | None:
    if s.t.kind[at] == k.CENT:
        return unnumbered_century(s, at) if before.parts else None
    if s.t.kind[at] == k.PERIOD:
        return period(s, at, leaning=before.leaning or bool(before.parts))
    return unit(s, at, ref, before.circa or before.era)


def _apply(s: Sheet, found: Dated, before: Before) -> None:
    if before.style:
        found.grain = "style"
    if before.parts and found.grain != "style":
        _take_part(s, found, before.parts, before.whole)
    found.circa = found.circa or before.circa
    found.query = found.query or before.query
    found.hedge = max(found.hedge, before.hedge)
    found.opening = before.opening or found.opening
    found.inclusive = before.inclusive or found.inclusive


def _take_part(s: Sheet, found: Dated, parts: tuple[Part, ...], unsure: bool = False) -> None:
    """Cut the parts out of the unit. `unsure`: "1/4 C18" may count the quarters or only say how long a time is meant."""
    if found.grain == "year" and found.lo == found.hi:
        return
    hundreds = bool(found.settings) and found.settings[0].startswith("hundreds")
    if hundreds and found.grain == "decade":
        found.lo, found.hi, found.grain = found.other[0][0], found.other[0][1], "century"
    start, end = found.lo, found.hi
    lo, hi, settings = cut(found.lo, found.hi, parts, found.grain, s.conventions)
    found.lo, found.hi = lo, hi
    found.wlo, found.whi = lo, hi
    found.codes = ((f"{lo:04d}/{hi:04d}" if lo >= 0 else f"{lo}/{hi}", False, False),)
    found.settings = (*found.settings, *settings)
    found.other = ()
    if unsure:
        found.other, found.told = ((start, end),), "which part of the century is meant"
    elif hundreds:
        first, last, _ = cut(start, start + 9, parts, "decade", s.conventions)
        found.other = ((first, last),)
    else:
        found.told = ""


def _after(s: Sheet, found: Dated) -> None:
    """Read what stands after a unit: "?", "(?)", AD, BC, a trailing circa."""
    t = s.t
    kind = t.kind
    i = found.next
    stop = i + LOOKAHEAD
    while i < stop:
        now = kind[i]
        if now not in _TRAILING:
            break
        if now == k.QUERY:
            found.query = True
        elif now in _ERAS:
            _by_era(found, now)
        elif now in (k.LPAR, k.LBR):
            if kind[i + 1] not in (k.QUERY, k.CIRCA, k.LIKELY, k.POSSIBLE) or kind[i + 2] not in (
                k.RPAR,
                k.RBR,
            ):
                break
            found.query = found.query or kind[i + 1] != k.CIRCA
            found.circa = found.circa or kind[i + 1] == k.CIRCA
            i += 2
        elif now == k.THEREABOUTS:
            found.circa = True
        elif now == k.CIRCA and _margin(s, found, i):
            i += 1
        elif kind[i + 1] in _CAN_BE_CIRCAED:
            break
        else:
            found.circa = True
        i += 1
    found.next = i
    if found.hi - found.lo == _WHOLE.get(found.grain) and kind[i] in _BEFORE_A_PART:
        _part_behind(s, found)


_TRAILING = frozenset({k.QUERY, k.AD, k.BC, k.HIJRI, k.LPAR, k.LBR, k.THEREABOUTS, k.CIRCA, k.LETTER_C})
_BEFORE_A_PART = frozenset({k.COMMA, k.LPAR, k.SLASH, k.COLON, k.PART, k.ORD})
_SOMETHING_AFTER = _TRAILING | _BEFORE_A_PART
_AFTER_A_PART = frozenset({k.END, k.COMMA, k.SEMI, k.DOT, k.RPAR, k.COLON})


_WHOLE = {"century": 99, "decade": 9}
"""Years from the first to the last of a whole unit, whose part may stand behind it."""
_ERAS = frozenset({k.AD, k.BC, k.HIJRI})


def _by_era(found: Dated, era: int) -> None:
    if era == k.BC:
        _before_christ(found)
    elif era == k.HIJRI:
        hijra_behind(found)


def _part_behind(s: Sheet, found: Dated) -> None:
    """The part written after its century or decade: "18th century, second half", "1920s (early)"."""
    t = s.t
    i = found.next
    bracket = t.kind[i] == k.LPAR
    i += t.kind[i] not in (k.PART, k.ORD)
    if t.kind[i] != k.PART and not (t.kind[i] in (k.ORD, k.NUM) and division_at(t, i)):
        return
    behind = Before()
    end = parts_at(t, i, behind)
    end -= t.kind[end - 1] == k.DASH
    closes = t.kind[end] == k.RPAR if bracket else t.kind[end] in _AFTER_A_PART
    if closes or (t.kind[end] in _JOINTS and t.kind[end + 1] in (k.ORD, k.ORDCENT, k.NUM)):
        _take_part(s, found, behind.parts)
        found.next = end + bracket


def _margin(s: Sheet, found: Dated, i: int) -> bool:
    """1760 ± 10: the writer's own margin in years, taken in place of the fair's."""
    t = s.t
    if t.text[t.start[i]] not in "±+pP" or t.kind[i + 1] != k.NUM or t.digits[i + 1] > 2:
        return False
    found.lo, found.hi = found.lo - t.value[i + 1], found.hi + t.value[i + 1]
    found.codes = ((span_code(found.lo, found.hi), False, False),)
    found.circa = False
    return True


_CAN_BE_CIRCAED = frozenset(
    {k.NUM, k.DECADE, k.ORD, k.PART, k.MASK, k.DOT, k.COMMA, k.QUERY, k.ORDCENT, k.MONTH, k.WORD}
)


def _before_christ(found: Dated) -> None:
    if found.lo > 0:
        found.lo, found.hi = 1 - found.hi, 1 - found.lo
        found.wlo, found.whi = found.lo, found.hi
        found.codes = (
            (
                _code(found.lo) if found.lo == found.hi else f"{_code(found.lo)}/{_code(found.hi)}",
                False,
                False,
            ),
        )


def _code(year: int) -> str:
    return f"{year:04d}" if year >= 0 else f"-{-year:04d}"


def _other_end(s: Sheet, first: Dated) -> Dated | None:
    """Join a second end to `first`: after a dash, "to", a slash, "or", or "and" in "between A and B"."""
    t = s.t
    i = first.next
    kind = t.kind[i]
    j = i + 1
    if kind == k.DASH:
        while t.kind[j] == k.DASH and j < i + 4:
            j += 1
        if t.kind[j] == k.FILL and t.kind[j + 1] not in (k.NUM, k.CENT, k.PART, k.ORD, k.DECADE):
            return None
    elif (kind == k.AND and first.opening != "between") or (
        kind == k.OR and first.opening in ("before", "after")
    ):
        return None
    if t.kind[j] == k.PRESENT and kind in (k.DASH, k.TO):
        first.opening, first.inclusive, first.next = "after", True, j + 1
        return None
    if kind == k.OR and first.grain in ("year", "decade") and _heads_its_own_years(t, j):
        return None
    again = same_name_again(s, first, j) if first.rows and first.grain == "period" else None
    second = again or point(s, j, None if kind == k.OR and not s.liberal else first)
    if second is None or second.grain == "style" or first.grain == "style":
        return None
    if second.opening and kind == k.OR:
        return None
    return join(s, first, second, kind)


def _heads_its_own_years(t: Tokens, j: int) -> bool:
    """ "Georgian, c. 1760 or Victorian, c. 1850": the period behind "or" is the other reading's, with years of its own."""
    if t.kind[j] != k.PERIOD:
        return False
    return any(t.kind[i] in (k.COMMA, k.LPAR) and t.kind[i + 1] in _FIGURES for i in range(j + 1, j + 5))


_FIGURES = frozenset({k.NUM, k.CIRCA, k.LETTER_C})
_JOINTS = frozenset({k.DASH, k.TO, k.SLASH, k.OR, k.AND})


def join(s: Sheet, first: Dated, second: Dated, kind: int) -> Dated:
    """One stretch from two ends. Ends the wrong way round are turned, and the turning is written down."""
    del s
    if second.wlo < 0 < first.wlo:
        _before_christ(first)
    elif HIJRA in second.settings:
        hijra_behind(first)
    elif second.whi < first.wlo and second.whi < 0:
        pass
    if (HIJRA in first.settings) != (HIJRA in second.settings):
        return _one_year_told_twice(first, second)
    settings = [*first.settings, *second.settings]
    if second.hi < first.lo:
        settings.append("written backwards")
        first, second = _turned(first, second)
    whole = Dated(_coarser(first.grain, second.grain), first.lo, second.hi, "", first.start, second.next)
    whole.hi = max(first.hi, second.hi)
    whole.lo = min(first.lo, second.lo)
    whole.wlo, whole.whi = min(first.wlo, second.wlo), max(first.whi, second.whi)
    whole.circa = first.circa or second.circa
    whole.query = first.query or second.query
    whole.hedge = max(first.hedge, second.hedge)
    closed = first.opening == "after" and (second.opening == "before" or kind == k.TO)
    whole.opening = "" if closed else first.opening
    whole.inclusive = first.inclusive
    whole.codes = (*_marked(first), *_marked(second))
    whole.joint = "or" if kind == k.OR else ""
    whole.settings = tuple(dict.fromkeys(settings))
    whole.rows = (*first.rows, *second.rows)
    return whole


def _one_year_told_twice(first: Dated, second: Dated) -> Dated:
    """AH 1250/AD 1834-35: the same time by two calendars; ours says it more closely."""
    ours = second if HIJRA in first.settings else first
    ours.start, ours.next = first.start, second.next
    return ours


def _turned(first: Dated, second: Dated) -> tuple[Dated, Dated]:
    start, after = first.start, second.next
    first, second = second, first
    first.start, second.next = start, after
    return first, second


def _coarser(one: str, other: str) -> str:
    order = ("year", "decade", "century", "period")
    return max(one, other, key=order.index)


def _marked(one: Dated) -> tuple[tuple[str, bool, bool], ...]:
    if len(one.codes) > 1:
        return one.codes
    return ((one.codes[0][0], one.circa, one.query or one.hedge > 0),)


def _closing(s: Sheet, found: Dated) -> None:
    """Read what closes a stretch: "or later", "(and earlier)", the bracket that opened it."""
    t = s.t
    i = found.next
    j = i
    while t.kind[j] in (k.COMMA, k.LPAR, k.DASH) and j < i + 2:
        j += 1
    bound = _CLOSING_BOUNDS.get(t.kind[j])
    if bound and t.kind[j + 1] in _DATES_FOLLOW:
        _bounded(s, found, bound, j + 1)
    elif bound and not _later_thing(s, j):
        found.opening = bound
        found.inclusive = True
        found.next = j + 1
        if t.kind[j + 1] == k.RPAR and t.kind[j - 1] == k.LPAR:
            found.next += 1
    elif (t.kind[i] == k.DASH and _left_open(s, found, i)) or (
        t.kind[i] == k.AND and t.kind[i + 1] == k.END and t.text[t.start[i]] == "+" and t.touching(i)
    ):
        found.opening, found.inclusive, found.next = "after", True, i + 1
    elif t.kind[i] == k.RBR and found.start > 0 and t.kind[found.start - 1] == k.LBR:
        found.query = True
        found.settings = (*found.settings, "[ ] supplied by the writer")
        found.start -= 1
        found.next += 1


def _later_thing(s: Sheet, j: int) -> bool:
    """ "1895 and later stopper": the word is told of the thing behind it, and the year is closed."""
    t = s.t
    if t.kind[j] != k.LATER or t.kind[j + 1] != k.WORD or not t.text.startswith("and later", t.start[j]):
        return False
    word = t.text[t.start[j + 1] : t.end[j + 1]]
    return word.islower() and (word in s.lexicon.things or word in s.lexicon.known)


def _left_open(s: Sheet, found: Dated, i: int) -> bool:
    """ "1871-" with nothing behind the dash: made from then on. In running text a comma or bracket may follow, no word."""
    t = s.t
    ends = t.kind[i + 1] == k.END or (
        t.kind[i + 1] in (k.COMMA, k.SEMI, k.RPAR) and t.start[i + 1] - t.end[i] < 2
    )
    return found.grain == "year" and found.lo == found.hi and t.touching(i) and not found.opening and ends


_CLOSING_BOUNDS = {k.LATER: "after", k.EARLIER: "before", k.NOTAFTER: "before", k.NOTBEFORE: "after"}
_DATES_FOLLOW = frozenset({k.NUM, k.DECADE, k.ORD, k.ORDCENT, k.CIRCA, k.LETTER_C})


def _bounded(s: Sheet, found: Dated, bound: str, at: int) -> None:
    """ "After 1871 and before 1880": the words before the second date bound the first from the other side."""
    if found.opening not in ("before", "after") or found.opening == bound:
        return
    second = point(s, at, None)
    if second is None or second.grain == "style":
        return
    found.lo, found.hi = min(found.lo, second.lo), max(found.hi, second.hi)
    found.wlo, found.whi = min(found.wlo, second.wlo), max(found.whi, second.whi)
    ends = (*_marked(found), *_marked(second))
    found.codes = ends if bound == "before" else ends[::-1]
    found.opening, found.next = "", second.next
