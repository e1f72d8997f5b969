"""When a number in running text is no year: measures, prices, stock and inventory numbers, people's lives."""

from planish.reasoning.reading.dates import kinds as k
from planish.reasoning.reading.dates.lexicon import Lexicon
from planish.reasoning.reading.dates.scanning import Tokens

FIRST_YEAR, LAST_YEAR = 1000, 2099
"""Bare four-figure numbers outside these are not read as years in running text (house choice)."""

_LEADING = "£$"
"""Signs that stand before their sum: in "1711 £450" the year is none."""
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
    if t.value[i] == 1000 and before == k.SLASH and i > 1 and t.kind[i - 2] == k.NUM:
        return True  # a fineness: 925/1000
    after = t.kind[i + 1]
    if after == k.UNIT or (after == k.CURRENCY and t.text[t.start[i + 1]] not in _LEADING):
        return True
    touches = t.start[i + 1] == t.end[i]
    if touches and after == k.QUOTE and before != k.QUOTE and t.text[t.start[i + 1]] in '"”':
        return True  # the end of words read off the object
    return touches and (after == k.WORD or _joined(t, i + 2, i + 1))


def _joined(t: Tokens, number: int, mark: int) -> bool:
    """True for 12.1743, 1,743 and 1743.5: a number tied on by a point or a comma without a space."""
    if number < 0 or t.kind[number] != k.NUM or t.kind[mark] not in (k.DOT, k.COMMA):
        return False
    return t.start[max(number, mark)] == t.end[min(number, mark)] and t.digits[number] != 4


_PROSE_RANGE = 30
"""Years of a range with spaces round its dash in the middle of a sentence, at most (house choice)."""
_ENDS_A_RANGE = frozenset(
    {k.END, k.COMMA, k.SEMI, k.COLON, k.DOT, k.RPAR, k.RBR, k.QUERY, k.LPAR, k.DASH, k.SLASH, k.AND}
)


def is_no_end(t: Tokens, i: int, first: int) -> bool:
    """True when the short number at `i` after a dash is a measure, a fraction or a count: "c. 1555 – 12.5 cm high".

    `first` is the year before the dash.
    """
    after = t.kind[i + 1]
    if after in (k.UNIT, k.CURRENCY, k.NUM):
        return True
    if (
        after in (k.DOT, k.COMMA, k.SLASH)
        and t.kind[i + 2] == k.NUM
        and t.touching(i + 1)
        and t.touching(i + 2)
    ):
        return True
    inches = after == k.QUOTE and t.touching(i + 1)
    if (t.touching(i) and not inches) or after in _ENDS_A_RANGE:
        return False
    return not 0 < t.value[i] - first % 100 <= _PROSE_RANGE


def is_a_life(t: Tokens, first: int, after: int, lo: int, hi: int, lexicon: Lexicon) -> bool:
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
    return _LIFE_AT_LEAST <= hi - lo <= _LIFE_AT_MOST and _is_name(t, _past_place(t, i - 1), lexicon)


def _past_place(t: Tokens, i: int) -> int:
    """Back past the comma and the place of "John Smith, London (1720-1785)"."""
    if i > 1 and t.kind[i] == k.COUNTRY and t.kind[i - 1] == k.COMMA:
        i -= 1
    return i - 1 if i > 0 and t.kind[i] == k.COMMA else i


def _is_name(t: Tokens, i: int, lexicon: Lexicon) -> bool:
    """True when the words that end at `i` name a person.

    A first name or an initial before a capitalised word, or one or two capitalised words that no word pack knows.
    """
    words = _capitals(t, i)
    if not words:
        return False
    if any(word in lexicon.given or len(word) == 1 for word in words[1:]):
        return True
    return not any(word in lexicon.known for word in words[:2])


def _capitals(t: Tokens, i: int) -> list[str]:
    """The run of at most three capitalised words that ends at `i`, last word first, lower case."""
    words: list[str] = []
    while i >= 0 and len(words) < 3 and t.kind[i] in _NAME_KINDS:
        if t.kind[i] != k.DOT:
            word = t.text[t.start[i] : t.end[i]]
            if not word[0].isupper() or " " in word:
                break
            words.append(word.lower())
        i -= 1
    return words


_NAME_KINDS = frozenset({k.WORD, k.DOT, k.PERIOD, k.LETTER_C, k.UNIT, k.LIFE, k.MONTH, k.MARK, k.STYLENOUN})
"""First names and initials can belong to other classes too: George, C., B., May."""
