"""Text cut into words, numbers and marks by one compiled scan."""

import re
from bisect import bisect_right
from itertools import accumulate

from planish.reasoning.reading.tokens import Tokens

_PIECE = re.compile(r"([0-9]+|[^\W0-9_]+|[^\w\s]|_)")
_ASCII = re.compile(r"([0-9]+|[a-zA-Z]+|[^\w\s]|_)")
"""The same on ASCII, where a plain range of letters is found sooner than "a letter of any script"."""


Cut = tuple[list[str], list[int], list[int]]
"""Pieces of a text, with the first and the past-last character of each."""


def cut_up(text: str) -> Cut:
    """Words, runs of ASCII digits and single marks of `text`.

    Splitting gives blank, piece, blank, piece, ...: places follow from lengths, and no match object is made.
    """
    cut = (_ASCII if text.isascii() else _PIECE).split(text)
    ends = list(accumulate(map(len, cut)))
    return cut[1::2], ends[:-1:2], ends[1::2]


_GLUE = re.compile(r"['-](?<=[A-Za-z].)(?=[A-Za-z])")
"""An apostrophe or hyphen between two letters of ASCII."""


def cut_again(tokens: Tokens) -> Cut | None:
    """What `cut_up` gives, from the tokens of the trade, which spares a second scan: these keep the ends of lines, leave
    "maker's" whole and pass over the hyphen of "re-gilt". None for a text beyond ASCII, whose letters are told otherwise.
    """
    if not tokens.text.isascii():
        return None
    words, starts, ends = tokens.low.copy(), tokens.start.copy(), tokens.end.copy()
    for _ in range(words.count("\n")):
        at = words.index("\n")
        del words[at], starts[at], ends[at]
    for glue in _GLUE.finditer(tokens.text):
        here = glue.start()
        at = bisect_right(starts, here)
        if glue.group() == "'":
            word, begin, end = words[at - 1], starts[at - 1], ends[at - 1]
            words[at - 1 : at] = word[: here - begin], "'", word[here + 1 - begin :]
            starts[at:at] = here, here + 1
            ends[at - 1 : at] = here, here + 1, end
        else:
            words.insert(at, "-")
            starts.insert(at, here)
            ends.insert(at, here + 1)
    return words, starts, ends


def lowered(text: str) -> str:
    """`text` in lower case, character for character, so that positions stay true in every script."""
    low = text.lower()
    if len(low) == len(text):
        return low
    return "".join(char.lower() if len(char.lower()) == 1 else char for char in text)
