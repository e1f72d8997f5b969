"""What stands before a unit: circa and other hedges, bounds, and the part of a century or decade that is meant."""

from planish.reasoning.reading.dates import kinds as k
from planish.reasoning.reading.dates.fractions import Part
from planish.reasoning.reading.dates.scanning import Tokens
from planish.reasoning.reading.dates.sheet import Sheet

LOOKAHEAD = 10
"""Hedges and parts read before one unit, at most; it keeps the reading linear on any text."""

_HEDGES = {k.LIKELY: 1, k.POSSIBLE: 2}
_OPENINGS = {
    k.BEFORE: "before",
    k.BY: "before",
    k.NOTAFTER: "before",
    k.AFTER: "after",
    k.NOTBEFORE: "after",
    k.FROM: "from",
    k.BETWEEN: "between",
}
_INCLUSIVE = frozenset({k.BY, k.NOTAFTER, k.NOTBEFORE})
_PASSED = frozenset(
    {k.FILL, k.DOT, k.COMMA, k.COLON, k.LPAR, k.LBR, k.REIGNOF, k.STYLEOF, k.AD, k.DASH, k.QUOTE}
)


class Before:
    """What stands before a unit."""

    __slots__ = (
        "circa",
        "era",
        "hedge",
        "inclusive",
        "leaning",
        "opening",
        "parts",
        "query",
        "style",
        "whole",
    )

    def __init__(self) -> None:
        self.circa = False
        self.query = False
        self.hedge = 0
        self.opening = ""
        self.inclusive = False
        self.whole = False
        self.parts: tuple[Part, ...] = ()
        self.era = False
        self.style = False
        self.leaning = False


def read_before(s: Sheet, i: int, before: Before) -> int:
    """Read hedges; the index of the unit, or -1 when none can follow."""
    t = s.t
    stop = i + LOOKAHEAD
    while i < stop:
        kind = t.kind[i]
        if kind in UNIT_STARTS:
            if (kind == k.ORD or (kind == k.NUM and t.digits[i] == 1)) and division_at(t, i):
                i = parts_at(t, i, before)
                continue
            if kind == k.NUM and (of := _fraction(t, i)):
                before.parts, before.whole = ((t.value[i], of),), True
                i = _further(t, i + 3)
                continue
            return i
        if kind == k.LETTER_C:
            if t.digits[i + 1] in (1, 2) and t.touching(i + 1) and t.value[i + 1] <= 21:
                return i
            before.circa = True
        elif kind == k.PART:
            if t.kind[i + 1] == k.COMMA and t.kind[i + 2] != k.PART:
                return -1  # "brass strap end, 18th century": no comma parts a century from its part
            i = parts_at(t, i, before)
            continue
        elif kind == k.TO and _alone(s, i):
            before.opening, before.inclusive = "before", True
        elif not _hedge(kind, before):
            return -1
        i += 1
        if before.opening and t.kind[i] == k.COMMA and kind in _OPENINGS:
            return -1  # "boundary post, 18th century": a bound leans on its date, with no comma between
    return -1


def _alone(s: Sheet, i: int) -> bool:
    """ "To 1871" as a whole date; "produced until 1914": with no year before it the word bounds what it stands by."""
    if i == 0:
        return s.liberal
    verb = s.t.value[i - 1] if s.t.kind[i - 1] == k.EVENT else None
    return verb is not None and verb.event == "body_made" and not verb.qualifies


UNIT_STARTS = frozenset(
    {
        k.NUM,
        k.DECADE,
        k.MASK,
        k.ORD,
        k.ORDCENT,
        k.CENT,
        k.MONTH,
        k.SEASON,
        k.TURN,
        k.PERIOD,
        k.CARDINAL,
        k.DECADEOF,
        k.HIJRI,
        k.REPUBLIC,
        k.WORDDECADE,
    }
)


_MAY_CUT = frozenset({k.ORD, k.NUM})
"""What may count the parts of a century: "second half", "2. Hälfte"."""


def _hedge(kind: int, before: Before) -> bool:
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
        before.inclusive = before.inclusive or kind in _INCLUSIVE
    else:
        return False
    return True


def division_at(t: Tokens, i: int) -> tuple[int, tuple[Part, ...]] | None:
    """The part that an ordinal begins: the index after it and the part; None when the ordinal is no part.

    "Second quarter", "last third", "opening years", "1st 1/4", "2. Hälfte", "last two decades"; in "first to third
    quarter" the first ordinal borrows the word of the next.
    """
    which = t.value[i]
    at = i + 1
    if t.kind[i] == k.NUM:
        if t.digits[i] != 1 or t.kind[at] != k.DOT or not t.touching(at) or t.kind[at + 1] != k.DIVISION:
            return None
        at += 1
    while t.kind[at] in (k.FILL, k.DASH) and at < i + 3:
        at += 1
    return _division_word(t, at, which) or _counted(t, at, which) or _borrowed(t, at, which)


def _division_word(t: Tokens, at: int, which: int) -> tuple[int, tuple[Part, ...]] | None:
    kind = t.kind[at]
    if kind == k.DIVISION:
        many = t.value[at] == _DECADES and t.text[t.end[at] - 1] in "sS"
        if many and which in (1, -1):
            return at + 1, ("late" if which < 0 else "early",)
        return at + 1, ((which, t.value[at]),)
    if kind == k.ORD and t.value[at] == 3 and t.digits[at] == 0 and t.text[t.start[at]] in "tT":
        return at + 1, ((which, 3),)
    if kind == k.PART and t.value[at] == "mid" and which in (1, 2):
        return at + 1, ((which, 2),)  # Italian has one word for the middle and the half
    if kind == k.PARTWORD and which in (1, -1):
        return at + 1, ("late" if which < 0 else "early",)
    if kind == k.NUM and t.value[at] == 1 and (of := _fraction(t, at)):
        return at + 3, ((which, of),)
    return None


_DECADES = 10
"""Into how many the word "decade" cuts a century."""


def _counted(t: Tokens, at: int, which: int) -> tuple[int, tuple[Part, ...]] | None:
    """ "First two decades", "last three quarters": as many parts from the beginning or the end."""
    count: int = t.value[at] if t.kind[at] == k.CARDINAL or (t.kind[at] == k.NUM and t.digits[at] == 1) else 0
    if which not in (1, -1) or t.kind[at + 1] != k.DIVISION or not 0 < count <= t.value[at + 1]:
        return None
    of = t.value[at + 1]
    return at + 2, ((1, of), (count, of)) if which > 0 else ((-count, of), (-1, of))


def _borrowed(t: Tokens, at: int, which: int) -> tuple[int, tuple[Part, ...]] | None:
    """ "Second or third quarter": the ordinal before the joint takes the word behind it; the index of the joint."""
    if at and t.kind[at - 1] == k.DASH:
        at -= 1
    if t.kind[at] not in (k.TO, k.OR, k.AND, k.SLASH, k.DASH) or t.kind[at + 1] != k.ORD:
        return None
    if t.kind[at + 2] == k.DIVISION and which <= t.value[at + 2]:
        return at, ((which, t.value[at + 2]),)
    return None


def _fraction(t: Tokens, i: int) -> int:
    """For 1/4, 2/3 and the like, written close: into how many the whole is cut; 0 for any other number."""
    if t.digits[i] != 1 or t.kind[i + 1] != k.SLASH or t.digits[i + 2] != 1 or not t.touching(i + 2):
        return 0
    if t.kind[i + 3] == k.SLASH:
        return 0
    of: int = t.value[i + 2]
    return of if 2 <= of <= 4 and 1 <= t.value[i] <= of else 0


def parts_at(t: Tokens, i: int, before: Before) -> int:
    """Read "mid to late", "third quarter of the", "early part of the" and return the index after."""
    stop = i + LOOKAHEAD
    while i < stop:
        kind = t.kind[i]
        if kind == k.PART:
            before.parts = (*before.parts, t.value[i])
            i += 1
        elif kind in _MAY_CUT and (division := division_at(t, i)):
            i, parts = division
            before.parts = (*before.parts, *parts)
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
        if t.kind[after] == k.PART or (t.kind[after] in _MAY_CUT and division_at(t, after)):
            return after
        return i
    return j
