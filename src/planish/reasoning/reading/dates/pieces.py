"""Text cut into words, numbers and marks by one compiled scan."""

import re

_PIECE = re.compile(r"[0-9]+|[^\W0-9_]+|[^\w\s]|_")


def pieces(text: str) -> list[tuple[str, int, int]]:
    """Words, runs of ASCII digits and single marks of `text`, each with its first and past-last character."""
    return [(found.group(), *found.span()) for found in _PIECE.finditer(text)]


def lowered(text: str) -> str:
    """`text` in lower case, character for character, so that positions stay true in every script."""
    low = text.lower()
    if len(low) == len(text):
        return low
    return "".join(char.lower() if len(char.lower()) == 1 else char for char in text)
