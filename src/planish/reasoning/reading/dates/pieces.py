"""Text cut into words, numbers and marks by one compiled scan."""

import re
from itertools import accumulate

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


def lowered(text: str) -> str:
    """`text` in lower case, character for character, so that positions stay true in every script."""
    low = text.lower()
    if len(low) == len(text):
        return low
    return "".join(char.lower() if len(char.lower()) == 1 else char for char in text)
