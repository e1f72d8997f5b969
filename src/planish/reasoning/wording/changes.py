"""Difference by word between two texts."""

import re
from difflib import SequenceMatcher

from planish.records import WordChange

_WORD = re.compile(r"\s*[\w'’/-]+|\s*[^\w\s]")


def changes(old: str, new: str) -> tuple[WordChange, ...]:
    """Runs of words that stay, go and come, in reading order. Joining same+removed gives `old`, same+added `new`.

    A word keeps the white space before it, and a mark of punctuation is a word of its own, so nothing is lost.
    """
    before, after = _words(old), _words(new)
    runs: list[WordChange] = []
    matcher = SequenceMatcher(None, [w.strip() for w in before], [w.strip() for w in after], autojunk=False)
    for tag, i1, i2, j1, j2 in matcher.get_opcodes():
        if tag == "equal" and before[i1:i2] == after[j1:j2]:
            runs.append(WordChange("same", "".join(before[i1:i2])))
            continue
        if i2 > i1:
            runs.append(WordChange("removed", "".join(before[i1:i2])))
        if j2 > j1:
            runs.append(WordChange("added", "".join(after[j1:j2])))
    return tuple(runs)


def _words(text: str) -> list[str]:
    words: list[str] = _WORD.findall(text)
    rest = text[sum(map(len, words)) :]
    return [*words, rest] if rest else words
