"""One pass over the text: words, figures and signs with their characters, capitals and sentence."""

import re
from dataclasses import dataclass, field
from functools import lru_cache

_WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*|\d+|\n|[^\s]")
_WITH_MARKS = re.compile(r"(?:[^\W\d_][\u0300-\u036f]*)+(?:['’](?:[^\W\d_][\u0300-\u036f]*)+)*|\d+|\n|[^\s]")
_COMBINING = re.compile(r"[\u0300-\u036f]")
_HYPHENS = frozenset("-‐‑–")
_STOPS = frozenset(".!?")

LOWER, CAPITAL, CAPITALS = 0, 1, 2


@dataclass(slots=True)
class Tokens:
    """Parallel lists, one entry a token. A hyphen glued between two letters is passed over, so that
    "re-gilt" reads as "re gilt". `sentence` counts sentences and lines."""

    text: str
    low: list[str] = field(default_factory=list)
    start: list[int] = field(default_factory=list)
    end: list[int] = field(default_factory=list)
    cap: list[int] = field(default_factory=list)
    sentence: list[int] = field(default_factory=list)

    def __len__(self) -> int:
        return len(self.low)

    def is_word(self, index: int) -> bool:
        """True when the token is made of letters or digits."""
        return self.low[index][0].isalnum()


def fold(word: str) -> str:
    """The form under which a word is looked up: lower case, straight apostrophe."""
    low = word.lower()
    return low if low.isascii() else low.replace("’", "'")


@lru_cache(maxsize=1 << 14)
def _shape(word: str) -> tuple[str, int]:
    return fold(word), (CAPITALS if len(word) > 1 and word.isupper() else CAPITAL) if word[
        0
    ].isupper() else LOWER


def tokenise(text: str) -> Tokens:
    """Cut `text` into tokens, in linear time. Never raises."""
    tokens = Tokens(text)
    low, start, end, cap, sentence = tokens.low, tokens.start, tokens.end, tokens.cap, tokens.sentence
    pattern = _WITH_MARKS if not text.isascii() and _COMBINING.search(text) else _WORD
    number = 0
    last_end = -1
    length = len(text)
    for match in pattern.finditer(text):
        word = match.group()
        s, e = match.span()
        if word in _HYPHENS and s == last_end and e < length and text[e].isalpha() and text[s - 1].isalpha():
            last_end = e
            continue
        if low and low[-1] in _STOPS and word[0].isupper() and s > last_end and _ends_sentence(low):
            number += 1
        folded, capital = _shape(word)
        low.append(folded)
        start.append(s)
        end.append(e)
        cap.append(capital)
        sentence.append(number)
        if word == "\n":
            number += 1
        last_end = e
    return tokens


def _ends_sentence(low: list[str]) -> bool:
    """A stop ends a sentence unless it shortens a word ("Rd. No.", "J. Smith", "c. London")."""
    if low[-1] != "." or len(low) < 2:
        return True
    before = low[-2]
    return len(before) > 3 or not before[0].isalpha() or before in _SHORT_ENDINGS


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
