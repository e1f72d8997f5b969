"""When a number in running text is no year: measures, prices, stock and inventory numbers, people's lives."""

from planish.reasoning.reading.dates import kinds as k
from planish.reasoning.reading.dates.scanning import Tokens

FIRST_YEAR, LAST_YEAR = 1000, 2099
"""Bare four-figure numbers outside these are not read as years in running text (house choice)."""

_BEFORE = frozenset({k.NUMBERSIGN, k.CURRENCY})
_LIFE_AT_MOST = 110
_LIFE_AT_LEAST = 15


def is_no_year(t: Tokens, i: int) -> bool:
    """True when the four-figure number at `i` counts, weighs, prices or numbers something."""
    before = t.kind[i - 1] if i else k.END
    if before in _BEFORE:
        return True
    if before in (k.DOT, k.COLON) and i > 1 and t.kind[i - 2] == k.NUMBERSIGN:
        return True
    if i and t.start[i] == t.end[i - 1] and (before == k.WORD or _joined(t, i - 2, i - 1)):
        return True
    after = t.kind[i + 1]
    if after == k.UNIT or (after == k.CURRENCY):
        return True
    touches = t.start[i + 1] == t.end[i]
    return touches and (after == k.WORD or _joined(t, i + 2, i + 1))


def _joined(t: Tokens, number: int, mark: int) -> bool:
    """True for 12.1743, 1,743 and 1743.5: a number tied on by a point or a comma without a space."""
    if number < 0 or t.kind[number] != k.NUM or t.kind[mark] not in (k.DOT, k.COMMA):
        return False
    return t.start[max(number, mark)] == t.end[min(number, mark)] and t.digits[number] != 4


def is_a_life(t: Tokens, first: int, after: int, lo: int, hi: int, known: frozenset[str]) -> bool:
    """True for "(1720-1785)" after a name and for "born 1720", "active 1760-85": a person's years, not the object's."""
    i = first - 1
    while i >= 0 and t.kind[i] in (k.FILL, k.CIRCA, k.LETTER_C, k.FROM, k.BETWEEN, k.COLON):
        i -= 1
    if i >= 0 and t.kind[i] == k.LIFE:
        return True
    if i >= 1 and t.kind[i] == k.COMMA and t.kind[i - 1] == k.LIFE:
        return True
    if i < 1 or t.kind[i] != k.LPAR or t.kind[after] != k.RPAR:
        return False
    return _LIFE_AT_LEAST <= hi - lo <= _LIFE_AT_MOST and _is_name(t, i - 1, known)


def _is_name(t: Tokens, i: int, known: frozenset[str]) -> bool:
    """True when the words before are two capitalised ones that no word pack knows."""
    capitals = 0
    while i >= 0 and t.kind[i] in (k.WORD, k.DOT) and capitals < 2:
        word = t.text[t.start[i] : t.end[i]]
        if t.kind[i] == k.WORD:
            if not word[0].isupper() or word.lower() in known:
                return False
            capitals += 1
        i -= 1
    return capitals >= 1
