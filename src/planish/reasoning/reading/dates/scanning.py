"""Pieces to tokens: classes from the word pack, phrases joined, numbers mended. One pass, linear."""

import re
from dataclasses import dataclass
from itertools import compress
from itertools import count as upward
from typing import Any

from planish.reasoning.reading.dates import kinds as k
from planish.reasoning.reading.dates.lexicon import IN_CAPITALS, OPENS, VALUED, Lexicon
from planish.reasoning.reading.dates.pieces import Cut, cut_up, lowered

_PAD = 8  # END tokens after the last, so that the grammar may look ahead without asking for the length


@dataclass(slots=True)
class Tokens:
    """Tokens as parallel lists, the lightest form in Python. `digits` is how many digits a number was written with."""

    text: str
    kind: list[int]
    value: list[Any]
    start: list[int]
    end: list[int]
    digits: list[int]
    count: int

    def touching(self, i: int) -> bool:
        """True when token `i` follows the one before it without a space."""
        return i > 0 and self.start[i] == self.end[i - 1]


Token = tuple[int, int, Any, int]
"""What pieces make: how many of them, class, value, digits."""


def scan(text: str, lexicon: Lexicon, pieces: Cut | None = None) -> Tokens:
    """Make tokens of `text`, or of its pieces when it is cut up already.

    First one a piece, by look-up alone; then those that need a second look; then the pieces that belong together are
    joined from the last to the first, so that the places before them stay true.
    """
    cut = pieces or cut_up(lowered(text))
    words, starts, ends = cut
    count = len(words)
    kinds = list(map(lexicon.kinds.__getitem__, words))
    values: list[Any] = [None] * count
    digits = [0] * count
    joined = []
    after = 0
    for i in compress(upward(), map(_BELOW_ZERO, kinds)):
        if i < after:
            continue
        word, kind = words[i], kinds[i]
        if kind == OPENS:
            capitals = _in_capitals(text, cut, i) if word in IN_CAPITALS else None
            token = capitals or _phrase(cut, i, lexicon)
        elif kind == VALUED:
            kinds[i], values[i] = lexicon.entries[word][:2]
            continue
        elif word[0] != "m":
            token = _number(cut, i, lexicon)
        elif year := roman_year(text[starts[i] : ends[i]]):
            token = 1, k.NUM, year, 4
        else:
            kinds[i] = k.WORD
            continue
        size, kinds[i], values[i], digits[i] = token
        if size > 1:
            joined.append((i, size))
            after = i + size
    for i, size in reversed(joined):
        ends[i] = ends[i + size - 1]
        for column in (kinds, values, starts, ends, digits):
            del column[i + 1 : i + size]
    beyond = [len(text) + 1] * _PAD
    count = len(kinds)
    return Tokens(
        text,
        kinds + _END_KINDS,
        values + _END_VALUES,
        starts + beyond,
        ends + beyond,
        digits + _END_DIGITS,
        count,
    )


_BELOW_ZERO = (0).__gt__
"""True of a class that asks for a second look."""
_NEVER_HANGS = frozenset(",.;:/()[]?!–—&+")
"""Marks after a number that are never part of it, as the s of 1760s is."""
_ROMAN_YEAR = re.compile(r"M(?:CD|CM|DC{0,4}|C{1,3})(?:X[LC]|L?X{0,4})(?:I[VX]|V?I{0,4})")
_ROMAN_AT_LEAST = 4


def roman_year(word: str) -> int:
    """1754 for MDCCLIV, as bells and medals bear it; 0 for any other word. Four capitals at least: MDC may be initials."""
    if len(word) < _ROMAN_AT_LEAST or not _ROMAN_YEAR.fullmatch(word):
        return 0
    values = [_ROMAN[letter] for letter in word]
    return sum(-now if now < then else now for now, then in zip(values, [*values[1:], 0], strict=True))


def _in_capitals(text: str, cut: Cut, i: int) -> Token | None:
    """ "M DCC XLVIII" or "An VIII" from piece `i` on, when they name a year."""
    if i + 1 == len(cut[0]):
        return None
    return _year_of_the_republic(text, cut, i) if cut[0][i] == "an" else _spaced_year(text, cut, i)


def _spaced_year(text: str, cut: Cut, i: int) -> Token | None:
    """M DCC XLVIII, M.DCC.LIV, M·DCC·LIV: a year of Roman letters cut into thousands, hundreds and the rest, as presses and bells have it."""
    words, starts, ends = cut
    letters, last = "M", i
    for at in range(i + 1, min(len(words), i + _ROMAN_PIECES)):
        written = text[starts[at] : ends[at]]
        if written.isupper() and _ROMAN_LETTERS.issuperset(written):
            letters, last = letters + written, at
        elif written not in _ROMAN_STOPS:
            break
    year = roman_year(letters) if last > i else 0
    return (last + 1 - i, k.NUM, year, 4) if year else None


def _year_of_the_republic(text: str, cut: Cut, i: int) -> Token | None:
    """An VIII, l'an 12: a year of the French Republic."""
    words, starts, ends = cut
    word, behind = words[i + 1], words[i + 2] if i + 2 < len(words) else ""
    told = text[max(0, starts[i] - 2) : starts[i]].lower() in ("l'", "l’")
    figure = int(word) if word.isdecimal() and len(word) < 3 else 0
    year = _REPUBLIC.get(text[starts[i + 1] : ends[i + 1]], figure)
    plain = len(word) > 1 and not figure and behind.isalpha() and behind not in _COUNTED
    if not 0 < year <= _LAST_OF_REPUBLIC or not (told or plain or behind in _STOPS_BEHIND):
        return None
    return 2, k.REPUBLIC, year, 0


_ROMAN_PIECES = 7
_ROMAN_LETTERS = frozenset("MDCLXVI")
_ROMAN_STOPS = frozenset(".·•")
_REPUBLIC = {
    letters: year
    for year, letters in enumerate(
        ["I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII", "XIII", "XIV"], 1
    )
}
_LAST_OF_REPUBLIC = 14
"""The calendar was given up on 1 January 1806, in the year XIV."""
_COUNTED = frozenset({"century", "cent", "th", "siècle", "siecle", "c"})
_STOPS_BEHIND = frozenset({"", ",", ";", ")", "(", ".", "/", "]", "\n"})

_ROMAN = {"M": 1000, "D": 500, "C": 100, "L": 50, "X": 10, "V": 5, "I": 1}

_END_KINDS, _END_VALUES, _END_DIGITS = [k.END] * _PAD, [None] * _PAD, [0] * _PAD


def _phrase(cut: Cut, i: int, lexicon: Lexicon) -> Token:
    """The longest phrase that begins here, else the single word with its full stop."""
    words, starts, ends = cut
    word, after, count = words[i], i + 1, len(words)
    entry = lexicon.entries.get(word)
    if entry is None:
        return _letters(cut, i, lexicon)
    if after < count:
        second, touches = words[after], starts[after] == ends[i]
        if touches and "0" <= second[0] <= "9" and word in lexicon.ones:
            return _letters(cut, i, lexicon)
        for rest, size, kind, value in entry[3].get(second, ()):
            if size == 1 or tuple(words[after : after + size]) == rest:
                return 1 + size, kind, value, 0
        if entry[2]:
            while after < count and words[after] == "." and starts[after] == ends[after - 1]:
                after += 1
    if entry[0] < 0:
        return _letters(cut, i, lexicon) if word in lexicon.ones else (1, k.WORD, entry[1], 0)
    return after - i, entry[0], entry[1], 0


def _letters(cut: Cut, i: int, lexicon: Lexicon) -> Token:
    """A word outside the pack; an ell or I before three digits is a mistyped 1 (l760)."""
    words, starts, ends = cut
    word = words[i]
    if word in lexicon.ones and i + 1 < len(words):
        digits = words[i + 1]
        if starts[i + 1] == ends[i] and digits.isdecimal() and len(digits) == 3:
            return 2, k.NUM, 1000 + int(digits), 4
    entry = lexicon.entries.get(word)
    return 1, entry[0] if entry and entry[0] >= 0 else k.WORD, entry[1] if entry else None, 0


def _number(cut: Cut, i: int, lexicon: Lexicon) -> Token:
    """A number with what hangs on it: 18th, 1760s, 1760's, 18thC, 169o, 17XX."""
    words, starts, ends = cut
    size = len(words[i])
    value = int(words[i]) if size <= 9 else -1
    alone = 1, k.NUM, value, size
    after = i + 1
    if after == len(words) or starts[after] != ends[i] or words[after] in _NEVER_HANGS:
        return alone
    return _hanging(cut, i, value, lexicon) or alone


def _hanging(cut: Cut, i: int, value: int, lexicon: Lexicon) -> Token | None:
    """The number at `i` joined to what hangs on it; None when it stands alone."""
    words, starts, _ = cut
    size, word = len(words[i]), words[i + 1]
    pieces = 2
    if word in ("'", "’", "‘", "`", "-") and i + 2 < len(words) and starts[i + 2] == starts[i + 1] + 1:
        word = words[i + 2]
        pieces = 3
        if word not in lexicon.decade_endings:
            return None
    if word in lexicon.decade_endings and size in (2, 3, 4):
        return pieces, k.DECADE, value, size
    if pieces == 3 or size > 4:
        return None
    return _glued(word, value, size, lexicon)


def _glued(word: str, value: int, size: int, lexicon: Lexicon) -> Token | None:
    """Letters that touch a number: an ordinal ending, a century, a mistyped nought or unknown digits."""
    if size <= 2 and 0 < value <= 31 and word in lexicon.ordinal_endings:
        return 2, k.ORD, value, size
    if size <= 2 and 0 < value <= 21 and word in lexicon.century_endings:
        return 2, k.ORDCENT, value, size
    if word in lexicon.zeros and size + len(word) == 4:
        return 2, k.NUM, value * 10 ** len(word), 4
    if word[-1] == "s" and word[:-1] in lexicon.zeros and size + len(word) == 5:
        return 2, k.DECADE, value * 10 ** (len(word) - 1), 4
    if word in lexicon.masks and size + len(word) == 4 and size >= 2:
        return 2, k.MASK, (value, len(word)), 4
    return None
