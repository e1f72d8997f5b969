"""A stretch of years: hedges before, units joined by dashes and the like, hedges after. Recursive descent by hand."""

from planish.reasoning.reading.dates import kinds as k
from planish.reasoning.reading.dates.dated import Dated
from planish.reasoning.reading.dates.eras import period, same_name_again
from planish.reasoning.reading.dates.fractions import Part, cut
from planish.reasoning.reading.dates.scanning import Tokens
from planish.reasoning.reading.dates.sheet import Sheet
from planish.reasoning.reading.dates.units import unit, unnumbered_century

_LOOKAHEAD = 10
"""Hedges and parts read before one unit, at most; it keeps the reading linear on any text."""

_HEDGES = {k.LIKELY: 1, k.POSSIBLE: 2}
_OPENINGS = {k.BEFORE: "before", k.BY: "before", k.AFTER: "after", k.FROM: "from", k.BETWEEN: "between"}
_PASSED = frozenset(
    {k.FILL, k.DOT, k.COMMA, k.COLON, k.LPAR, k.LBR, k.REIGNOF, k.STYLEOF, k.AD, k.DASH, k.QUOTE}
)


class _Before:
    """What stands before a unit."""

    __slots__ = ("circa", "era", "hedge", "leaning", "opening", "parts", "query", "style")

    def __init__(self) -> None:
        self.circa = False
        self.query = False
        self.hedge = 0
        self.opening = ""
        self.parts: tuple[Part, ...] = ()
        self.era = False
        self.style = False
        self.leaning = False


def stretch(s: Sheet, i: int) -> Dated | None:
    """The whole stretch that begins at token `i`: "c. 1760-5", "between 1760 and 1775", "late 18th or early 19th century"."""
    first = point(s, i, None)
    if first is None:
        return None
    while True:
        second = _other_end(s, first)
        if second is None:
            break
        first = second
    if first.opening in ("from", "between"):
        first.opening = "after" if first.opening == "from" and len(first.codes) == 1 else ""
    _closing(s, first)
    return first


def point(s: Sheet, i: int, ref: Dated | None) -> Dated | None:
    """One unit with its hedges and its part of a century or decade."""
    t = s.t
    kind = t.kind[i]
    if kind == k.NUM or kind == k.DECADE:
        found = unit(s, i, ref, False)
        if found is not None:
            _after(s, found)
        return found
    before = _Before()
    at = _read_before(s, i, before)
    if at < 0:
        return None
    found = _unit_or_period(s, at, ref, before)
    if found is None:
        return None
    found.start = i
    _apply(s, found, before)
    _after(s, found)
    return found


def _unit_or_period(s: Sheet, at: int, ref: Dated | None, before: _Before) -> Dated | None:
    if s.t.kind[at] == k.CENT:
        return unnumbered_century(s, at) if before.parts else None
    if s.t.kind[at] == k.PERIOD:
        return period(s, at, leaning=before.leaning or bool(before.parts))
    return unit(s, at, ref, before.circa or before.era)


def _read_before(s: Sheet, i: int, before: _Before) -> int:
    """Read hedges; the index of the unit, or -1 when none can follow."""
    t = s.t
    stop = i + _LOOKAHEAD
    while i < stop:
        kind = t.kind[i]
        if kind in _UNIT_STARTS:
            if kind == k.ORD and (after := _division(t, i)):
                i = _parts(t, i, after, before)
                continue
            return i
        if kind == k.LETTER_C:
            if t.digits[i + 1] in (1, 2) and t.touching(i + 1):
                return i
            before.circa = True
        elif kind == k.PART:
            i = _parts(t, i, i, before)
            continue
        elif not _hedge(kind, before):
            return -1
        i += 1
    return -1


_UNIT_STARTS = frozenset(
    {k.NUM, k.DECADE, k.MASK, k.ORD, k.ORDCENT, k.CENT, k.MONTH, k.SEASON, k.TURN, k.PERIOD}
)


def _hedge(kind: int, before: _Before) -> bool:
    """Take in one hedge; False when the token is none."""
    if kind in _PASSED:
        before.era = before.era or kind == k.AD
        before.leaning = before.leaning or kind == k.REIGNOF
        before.style = before.style or kind == k.STYLEOF
    elif kind == k.CIRCA or kind == k.THEREABOUTS:
        before.circa = True
    elif kind == k.QUERY:
        before.query = True
    elif kind in _HEDGES:
        before.hedge = max(before.hedge, _HEDGES[kind])
    elif kind in _OPENINGS:
        before.opening = before.opening or _OPENINGS[kind]
    else:
        return False
    return True


def _division(t: Tokens, i: int) -> int:
    """For "second quarter", "last third": the index of the division; 0 when the ordinal is no part."""
    for j in range(i + 1, i + 3):
        if t.kind[j] == k.DIVISION or (t.kind[j] == k.ORD and t.value[j] == 3 and t.digits[j] == 0):
            return j
        if t.kind[j] == k.PARTWORD and t.value[i] == -1:
            return j
        if t.kind[j] not in (k.FILL, k.DASH):
            return 0
    return 0


def _parts(t: Tokens, i: int, at: int, before: _Before) -> int:
    """Read "mid to late", "third quarter of the", "early part of the" and return the index after."""
    stop = i + _LOOKAHEAD
    while i < stop:
        kind = t.kind[i]
        if kind == k.PART:
            before.parts = (*before.parts, t.value[i])
            i += 1
        elif kind == k.ORD and (at := _division(t, i)):
            of = t.value[at] if t.kind[at] == k.DIVISION else 3
            before.parts = (*before.parts, (t.value[i], of or 3) if t.kind[at] != k.PARTWORD else "late")
            i = at + 1
        else:
            further = _further(t, i)
            if further == i:
                return i
            i = further
    return i


def _further(t: Tokens, i: int) -> int:
    """Past the small words between parts: stops before anything that is not followed by another part or a unit."""
    j = i
    while t.kind[j] in (k.FILL, k.PARTWORD, k.DASH, k.DOT) and j < i + 4:
        j += 1
    if t.kind[j] in (k.TO, k.AND, k.OR, k.SLASH, k.COMMA):
        after = j + 1
        while t.kind[after] in (k.FILL, k.DASH) and after < j + 3:
            after += 1
        if t.kind[after] == k.PART or (t.kind[after] == k.ORD and _division(t, after)):
            return after
        return i
    return j


def _apply(s: Sheet, found: Dated, before: _Before) -> None:
    if before.style and found.grain == "period":
        found.grain = "style"
    if before.parts and found.grain != "style":
        _take_part(s, found, before.parts)
    found.circa = found.circa or before.circa
    found.query = found.query or before.query
    found.hedge = max(found.hedge, before.hedge)
    found.opening = before.opening


def _take_part(s: Sheet, found: Dated, parts: tuple[Part, ...]) -> None:
    if found.grain == "year" and found.lo == found.hi:
        return
    if found.settings and found.settings[0].startswith("hundreds") and found.grain == "decade":
        found.lo, found.hi, found.grain = found.other[0][0], found.other[0][1], "century"
    lo, hi, settings = cut(found.lo, found.hi, parts, found.grain, s.conventions)
    found.lo, found.hi = lo, hi
    found.wlo, found.whi = lo, hi
    found.codes = ((f"{lo:04d}/{hi:04d}" if lo >= 0 else f"{lo}/{hi}", False, False),)
    found.settings = (*found.settings, *settings)
    found.other = ()
    found.told = ""


def _after(s: Sheet, found: Dated) -> None:
    """Read what stands after a unit: "?", "(?)", AD, BC, a trailing circa."""
    t = s.t
    kind = t.kind
    i = found.next
    stop = i + _LOOKAHEAD
    while i < stop:
        now = kind[i]
        if now not in _TRAILING:
            break
        if now == k.QUERY:
            found.query = True
        elif now == k.AD:
            pass
        elif now == k.BC:
            _before_christ(found)
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
        elif kind[i + 1] in _CAN_BE_CIRCAED:
            break
        else:
            found.circa = True
        i += 1
    found.next = i


_TRAILING = frozenset({k.QUERY, k.AD, k.BC, k.LPAR, k.LBR, k.THEREABOUTS, k.CIRCA, k.LETTER_C})
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
    if kind not in _JOINTS:
        return None
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
    again = same_name_again(s, first, j) if first.rows and first.grain == "period" else None
    second = again or point(s, j, None if kind == k.OR and not s.liberal else first)
    if second is None or second.grain == "style" or first.grain == "style":
        return None
    if second.opening and kind == k.OR:
        return None
    return join(s, first, second, kind)


_JOINTS = frozenset({k.DASH, k.TO, k.SLASH, k.OR, k.AND})


def join(s: Sheet, first: Dated, second: Dated, kind: int) -> Dated:
    """One stretch from two ends. Ends the wrong way round are turned, and the turning is written down."""
    del s
    if second.wlo < 0 < first.wlo:
        _before_christ(first)
    elif second.whi < first.wlo and second.whi < 0:
        pass
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
    whole.opening = first.opening
    whole.codes = (*_marked(first), *_marked(second))
    whole.joint = "or" if kind == k.OR else ""
    whole.settings = tuple(dict.fromkeys(settings))
    whole.rows = (*first.rows, *second.rows)
    return whole


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
    if t.kind[j] in (k.LATER, k.EARLIER):
        found.opening = "after" if t.kind[j] == k.LATER else "before"
        found.next = j + 1
        if t.kind[j + 1] == k.RPAR and t.kind[j - 1] == k.LPAR:
            found.next += 1
    elif t.kind[i] == k.RBR and found.start > 0 and t.kind[found.start - 1] == k.LBR:
        found.query = True
        found.settings = (*found.settings, "[ ] supplied by the writer")
        found.start -= 1
        found.next += 1
