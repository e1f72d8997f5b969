"""Years and decades in words: sixteen hundred, seventeen sixty-five, eighteen-oh-four, the eighteen-twenties, the thirties."""

from planish.reasoning.reading.dates import kinds as k
from planish.reasoning.reading.dates.dated import Dated, year_code
from planish.reasoning.reading.dates.scanning import Tokens
from planish.reasoning.reading.dates.sheet import Sheet

_FIRST, _LAST = 10, 20
"""The hundreds that are said in words: ten hundred to twenty hundred."""
_ASKS_FOR_A_YEAR = frozenset(
    {k.CIRCA, k.LETTER_C, k.EVENT, k.BEFORE, k.BY, k.AFTER, k.NOTBEFORE, k.NOTAFTER, k.FROM, k.BETWEEN, k.AD}
)
"""What must stand before a year in words in running text, where "sixteen twenty-inch plates" is a count."""


def spelled_year(s: Sheet, i: int, ref: Dated | None, loose: bool) -> Dated | None:
    """The year or decade whose first word is at `i`."""
    t = s.t
    hundreds: int = t.value[i]
    if not _FIRST <= hundreds <= _LAST:
        return None
    at = i + 1 + (t.kind[i + 1] == k.DASH)
    if t.kind[at] == k.WORDDECADE:
        return _decade(100 * hundreds + t.value[at], i, at + 1)
    if not (s.liberal or loose or ref is not None or (i and t.kind[i - 1] in _ASKS_FOR_A_YEAR)):
        return None
    if t.kind[at] == k.HUNDRED:
        return _hundred(s, i, at)
    rest, after = _below_a_hundred(t, at)
    return _year(s, i, 100 * hundreds + rest, after) if rest else None


def _hundred(s: Sheet, i: int, at: int) -> Dated | None:
    """Sixteen hundred, eighteen hundred and four; the "hundreds" of a century are left to the reader of 1800s."""
    t = s.t
    if t.text[t.end[at] - 1] in "sS":
        return None
    value = 100 * t.value[i]
    rest, after = _below_a_hundred(t, at + 1 + (t.kind[at + 1] == k.AND))
    return _year(s, i, value + rest, after if rest else at + 1)


def _below_a_hundred(t: Tokens, i: int) -> tuple[int, int]:
    """The years after the hundred, and the index after them: sixty-five, twelve, oh four; 0 for anything else."""
    if t.kind[i] == k.WORD and t.text[t.start[i] : t.end[i]].lower() in _NOUGHT:
        i += 1 + (t.kind[i + 1] == k.DASH)
        return (t.value[i], i + 1) if t.kind[i] == k.CARDINAL and t.value[i] < 10 else (0, i)
    if t.kind[i] != k.CARDINAL:
        return 0, i
    value: int = t.value[i]
    if value < 20 or value % 10:
        return value, i + 1
    at = i + 1 + (t.kind[i + 1] == k.DASH)
    if t.kind[at] == k.CARDINAL and t.value[at] < 10:
        return value + t.value[at], at + 1
    return value, i + 1


_NOUGHT = frozenset({"oh", "o", "nought"})


def _year(s: Sheet, i: int, value: int, after: int) -> Dated | None:
    """None where the words count something: about sixteen hundred pieces."""
    if s.t.kind[after] in (k.UNIT, k.CURRENCY):
        return None
    return Dated("year", value, value, year_code(value), i, after)


def _decade(first: int, i: int, after: int) -> Dated:
    return Dated("decade", first, first + 9, f"{first // 10}X", i, after)


def decade_in_a_word(s: Sheet, i: int, ref: Dated | None, loose: bool) -> Dated | None:
    """The thirties: of the century of the first end where there is one, else (in a date field) 1930s before 1830s."""
    del loose
    value: int = s.t.value[i]
    if ref is not None and ref.grain in ("decade", "year"):
        first = ref.lo - ref.lo % 100 + value
        return _decade(first + (100 if first < ref.lo else 0), i, i + 1)
    if not s.liberal or ref is not None:
        return None
    found = _decade(1900 + value, i, i + 1)
    found.query = True
    found.other = ((1800 + value, 1809 + value),)
    found.told = "which century the decade belongs to"
    found.settings = ("decades without a century are 1900s",)
    return found
