"""One pass over the text: words, figures and signs with their characters, capitals and sentence."""

import re
from dataclasses import dataclass, field
from itertools import accumulate, compress, count

_GLUED = r"(?!(?<=[^\W\d_])[-‐‑–](?=[^\W\d_]))"
"""Passes over a hyphen glued between two letters."""
_WORD = re.compile(rf"([^\W\d_]+(?:['’][^\W\d_]+)*|\d+|\n|{_GLUED}[^\s])")
_ASCII = re.compile(r"([A-Za-z]+(?:'[A-Za-z]+)*|[0-9]+|\n|(?!(?<=[A-Za-z])-(?=[A-Za-z]))\S)")
"""The same on ASCII, where a plain range of letters is found in half the time of "a letter of any script"."""
_WITH_MARKS = re.compile(
    rf"((?:[^\W\d_][\u0300-\u036f]*)+(?:['’](?:[^\W\d_][\u0300-\u036f]*)+)*|\d+|\n|{_GLUED}[^\s])"
)
_COMBINING = re.compile(r"[\u0300-\u036f]")
_BREAKS = frozenset(".!?\n•▪●◦")
_BULLETS = frozenset("\n•▪●◦")

LOWER, CAPITAL, CAPITALS = 0, 1, 2


@dataclass(slots=True)
class Tokens:
    """Parallel lists, one entry a token. A hyphen glued between two letters is passed over, so that
    "re-gilt" reads as "re gilt". `sentence` counts sentences and lines. `words` are the tokens of `low`, each once: rules
    that only one label in ten needs ask it first."""

    text: str
    low: list[str] = field(default_factory=list)
    start: list[int] = field(default_factory=list)
    end: list[int] = field(default_factory=list)
    cap: list[int] = field(default_factory=list)
    sentence: list[int] = field(default_factory=list)
    words: frozenset[str] = frozenset()

    def __len__(self) -> int:
        return len(self.low)

    def is_word(self, index: int) -> bool:
        """True when the token is made of letters or digits."""
        return self.low[index][0].isalnum()


def fold(word: str) -> str:
    """The form under which a word is looked up: lower case, straight apostrophe."""
    low = word.lower()
    return low if low.isascii() else low.replace("’", "'")


class _Folded(dict[str, str]):
    """Each word as it is looked up, kept for the next label."""

    def __missing__(self, word: str) -> str:
        low = fold(word)
        if len(self) < _MOST_WORDS and len(word) < _LONG:
            self[word] = low
        return low


class _Capitals(dict[str, int]):
    """How each word is written, kept for the next label."""

    def __missing__(self, word: str) -> int:
        all_of_it = len(word) > 1 and word.isupper()
        cap = (CAPITALS if all_of_it else CAPITAL) if word[0].isupper() else LOWER
        if len(self) < _MOST_WORDS and len(word) < _LONG:
            self[word] = cap
        return cap


_MOST_WORDS, _LONG = 1 << 15, 40
_low_of, _cap_of = _Folded().__getitem__, _Capitals().__getitem__


def tokenise(text: str) -> Tokens:
    """Cut `text` into tokens, in linear time. Never raises.

    Splitting gives gap, word, gap, word, ...: what each begins and ends at is the sum of the lengths before it.
    """
    pattern = _ASCII if text.isascii() else _WITH_MARKS if _COMBINING.search(text) else _WORD
    pieces = pattern.split(text)
    ends = list(accumulate(map(len, pieces)))
    words = pieces[1::2]
    low, cap = list(map(_low_of, words)), list(map(_cap_of, words))
    start, end = ends[:-1:2], ends[1::2]
    return Tokens(text, low, start, end, cap, _sentences(low, cap, start, end), frozenset(low))


def _sentences(low: list[str], cap: list[int], start: list[int], end: list[int]) -> list[int]:
    """The number of each token's sentence: a new one after a line's end or a bullet, and after a stop before a capital."""
    sentence = [0] * len(low)
    number, since, last = 0, 0, len(low) - 1
    for i in compress(count(), map(_BREAKS.__contains__, low)):
        follows = i < last and cap[i + 1] != LOWER and start[i + 1] > end[i]
        if low[i] in _BULLETS or (follows and _ends_sentence(low, i)):
            sentence[since : i + 1] = [number] * (i + 1 - since)
            number, since = number + 1, i + 1
    sentence[since:] = [number] * (last + 1 - since)
    return sentence


def _ends_sentence(low: list[str], i: int) -> bool:
    """The stop at `i` ends a sentence unless it shortens a word ("Rd. No.", "J. Smith", "c. London")."""
    if low[i] != "." or i < 1:
        return True
    before = low[i - 1]
    if before in _CENTURY_ENDINGS or (before == "c" and low[i - 2 : i - 1] and low[i - 2] in _ORDINAL):
        return True
    return (
        (len(before) > 3 and before not in _SHORTENED) or not before[0].isalpha() or before in _SHORT_ENDINGS
    )


_ORDINAL = frozenset({"th", "st", "nd", "rd"})
_CENTURY_ENDINGS = frozenset({"thc", "stc", "ndc", "rdc"})
"""17thC., 19th C.: a century shortened, and the sentence may well be over."""
_SHORTENED = frozenset(
    ["messrs", "nathl", "nich", "nichs", "josh", "thos", "chas", "robt", "saml", "benj", "edwd", "archd", "fredk", "richd", "danl", "alexr", "capt", "prof", "revd"]
)  # fmt: skip
"""Titles and clipped given names of four letters and more: the stop after them ends nothing."""

_SHORT_ENDINGS = frozenset(
    [
        "foot",
        "rim",
        "lid",
        "pan",
        "box",
        "jug",
        "urn",
        "tin",
        "age",
        "top",
        "leg",
        "cup",
        "pot",
        "oak",
        "ash",
        "elm",
        "old",
        "use",
        "end",
        "set",
        "arm",
        "bow",
        "tap",
        "ear",
        "cap",
        "key",
        "new",
        "war",
        "it",
        "one",
        "two",
        "six",
        "ten",
    ]
)
