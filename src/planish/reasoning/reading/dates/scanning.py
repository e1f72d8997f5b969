"""Pieces to tokens: classes from the word pack, phrases joined, numbers mended. One pass, linear."""

import re
from dataclasses import dataclass, field
from typing import Any

from planish.reasoning.reading.dates import kinds as k
from planish.reasoning.reading.dates.lexicon import Entry, Lexicon
from planish.reasoning.reading.dates.pieces import lowered, pieces

_PAD = 8  # END tokens after the last, so that the grammar may look ahead without asking for the length


@dataclass(slots=True)
class Tokens:
    """Tokens as parallel lists, the lightest form in Python. `digits` is how many digits a number was written with."""

    text: str
    kind: list[int] = field(default_factory=list)
    value: list[Any] = field(default_factory=list)
    start: list[int] = field(default_factory=list)
    end: list[int] = field(default_factory=list)
    digits: list[int] = field(default_factory=list)
    count: int = 0

    def add(self, kind: int, value: object, start: int, end: int, digits: int = 0) -> None:
        """Append one token."""
        self.kind.append(kind)
        self.value.append(value)
        self.start.append(start)
        self.end.append(end)
        self.digits.append(digits)

    def touching(self, i: int) -> bool:
        """True when token `i` follows the one before it without a space."""
        return i > 0 and self.start[i] == self.end[i - 1]


Piece = tuple[str, int, int]


def scan(text: str, lexicon: Lexicon) -> Tokens:
    """Cut `text` into tokens."""
    tokens = Tokens(text)
    cut = pieces(lowered(text))
    kinds, values, starts, ends, digits = tokens.kind, tokens.value, tokens.start, tokens.end, tokens.digits
    look_up = lexicon.entries.get
    ones = lexicon.ones
    i = 0
    count = len(cut)
    while i < count:
        word, start, end = cut[i]
        entry = look_up(word)
        if entry is None:
            if "0" <= word[0] <= "9":
                if i + 1 < count and cut[i + 1][1] == end and cut[i + 1][0] not in _NEVER_HANGS:
                    i = _number(tokens, cut, i, lexicon)
                    continue
                size = end - start
                kinds.append(k.NUM)
                values.append(int(word) if size <= 9 else -1)
                starts.append(start)
                ends.append(end)
                digits.append(size)
                i += 1
                continue
            if word in ones:
                i = _letters(tokens, cut, i, lexicon)
                continue
            if word[0] == "m" and (year := roman_year(text[start:end])):
                tokens.add(k.NUM, year, start, end, 4)
                i += 1
                continue
            kinds.append(k.WORD)
            values.append(None)
        elif entry[3] or entry[2] or word in ones:
            i = _phrase(tokens, cut, i, entry, lexicon)
            continue
        else:
            kinds.append(entry[0])
            values.append(entry[1])
        starts.append(start)
        ends.append(end)
        digits.append(0)
        i += 1
    tokens.count = len(kinds)
    size = len(text)
    kinds.extend(_END_KINDS)
    values.extend(_END_VALUES)
    starts.extend([size + 1] * _PAD)
    ends.extend([size + 1] * _PAD)
    digits.extend(_END_DIGITS)
    return tokens


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


_ROMAN = {"M": 1000, "D": 500, "C": 100, "L": 50, "X": 10, "V": 5, "I": 1}

_END_KINDS, _END_VALUES, _END_DIGITS = (k.END,) * _PAD, (None,) * _PAD, (0,) * _PAD


def _phrase(tokens: Tokens, cut: list[Piece], i: int, entry: Entry, lexicon: Lexicon) -> int:
    """The longest phrase that begins here, else the single word with its full stop."""
    word, start, end = cut[i]
    if i + 1 < len(cut):
        second, begins, stop = cut[i + 1]
        if begins == end and "0" <= second[0] <= "9" and word in lexicon.ones:
            return _letters(tokens, cut, i, lexicon)
        for rest, size, kind, value in entry[3].get(second, ()):
            if size == 1 or _stands(cut, i + 1, rest):
                tokens.add(kind, value, start, cut[i + size][2])
                return i + 1 + size
        if entry[2]:
            while second == "." and begins == end:
                i, end = i + 1, stop
                if i + 1 == len(cut):
                    break
                second, begins, stop = cut[i + 1]
    if entry[0] < 0:
        return _letters(tokens, cut, i, lexicon)
    tokens.add(entry[0], entry[1], start, end)
    return i + 1


def _stands(cut: list[Piece], i: int, words: tuple[str, ...]) -> bool:
    """True when the pieces from `i` on are `words`."""
    return len(cut) >= i + len(words) and all(cut[i + j][0] == word for j, word in enumerate(words))


def _letters(tokens: Tokens, cut: list[Piece], i: int, lexicon: Lexicon) -> int:
    """A word outside the pack; an ell or I before three digits is a mistyped 1 (l760)."""
    word, start, end = cut[i]
    if word in lexicon.ones and i + 1 < len(cut):
        digits, begins, ends = cut[i + 1]
        if begins == end and digits.isdecimal() and len(digits) == 3:
            tokens.add(k.NUM, 1000 + int(digits), start, ends, 4)
            return i + 2
    entry = lexicon.entries.get(word)
    tokens.add(entry[0] if entry and entry[0] >= 0 else k.WORD, entry[1] if entry else None, start, end)
    return i + 1


def _number(tokens: Tokens, cut: list[Piece], i: int, lexicon: Lexicon) -> int:
    """A number with what hangs on it: 18th, 1760s, 1760's, 18thC, 169o, 17XX."""
    word, start, end = cut[i]
    size = len(word)
    value = int(word) if size <= 9 else -1
    if i + 1 < len(cut) and cut[i + 1][1] == end:
        taken = _hanging(tokens, cut, i, value, lexicon)
        if taken:
            return i + taken
    tokens.add(k.NUM, value, start, end, size)
    return i + 1


def _hanging(tokens: Tokens, cut: list[Piece], i: int, value: int, lexicon: Lexicon) -> int:
    """How many pieces were joined to the number at `i`; none when it stands alone."""
    digits, start, _ = cut[i]
    size = len(digits)
    word, begins, end = cut[i + 1]
    ending = 2
    if word in ("'", "’", "‘", "`", "-") and i + 2 < len(cut) and cut[i + 2][1] == begins + 1:
        word, begins, end = cut[i + 2]
        ending = 3
        if word not in lexicon.decade_endings:
            return 0
    if word in lexicon.decade_endings and size in (2, 3, 4):
        tokens.add(k.DECADE, value, start, end, size)
        return ending
    if ending == 3 or size > 4:
        return 0
    return _glued(tokens, word, (value, start, end, size), lexicon)


def _glued(tokens: Tokens, word: str, number: tuple[int, int, int, int], lexicon: Lexicon) -> int:
    """Letters that touch a number: an ordinal ending, a century, a mistyped nought or unknown digits."""
    value, start, end, size = number
    if size <= 2 and 0 < value <= 31 and word in lexicon.ordinal_endings:
        tokens.add(k.ORD, value, start, end, size)
    elif size <= 2 and 0 < value <= 21 and word in lexicon.century_endings:
        tokens.add(k.ORDCENT, value, start, end, size)
    elif word in lexicon.zeros and size + len(word) == 4:
        tokens.add(k.NUM, value * 10 ** len(word), start, end, 4)
    elif word[-1] == "s" and word[:-1] in lexicon.zeros and size + len(word) == 5:
        tokens.add(k.DECADE, value * 10 ** (len(word) - 1), start, end, 4)
    elif word in lexicon.masks and size + len(word) == 4 and size >= 2:
        tokens.add(k.MASK, (value, len(word)), start, end, 4)
    else:
        return 0
    return 2
