"""Text cut into words, numbers and marks by one compiled scan."""

import re
from itertools import accumulate

_PIECE = re.compile(r"[0-9]+|[^\W0-9_]+|\s+|[^\w\s]|_")
"""Every character belongs to one piece, so that places follow from lengths: no match object is made."""


def pieces(text: str) -> list[tuple[str, int, int]]:
    """Words, runs of ASCII digits and single marks of `text`, each with its first and past-last character."""
    cut = _PIECE.findall(text)
    ends = accumulate(map(len, cut))
    return [
        (piece, end - len(piece), end) for piece, end in zip(cut, ends, strict=True) if not piece.isspace()
    ]


def lowered(text: str) -> str:
    """`text` in lower case, character for character, so that positions stay true in every script."""
    low = text.lower()
    if len(low) == len(text):
        return low
    return "".join(char.lower() if len(char.lower()) == 1 else char for char in text)
