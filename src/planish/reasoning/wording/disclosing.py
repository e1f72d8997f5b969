"""What a label owns up to, in trade English: the pack's template said of the part that was found."""

import re

SUBJECTS = ("surface", "interior", "exterior", "seam", "engraving", "decoration")
"""First words of templates that name what was worked on; the part follows them: "seam of the foot resoldered"."""
_BRACKET = re.compile(r"\s*\([^)]*\)")
_PARTICIPLE = re.compile(
    r"^(?:later |wholly )?[\w-]+ed(?:$|,| and | in | from | for | with | at | to )", re.IGNORECASE
)
_OPTION = re.compile(r",?\s*whole or part\b", re.IGNORECASE)
_PREAMBLE = re.compile(r"^old piece,\s*", re.IGNORECASE)
_PLACE = re.compile(r"\bto (?:the )?(\w+)$")
_NOT_WORDS = re.compile(r"^(?:do not |not as )", re.IGNORECASE)


def disclosure_words(template: str, part: str = "") -> str:
    """`template` ("finial replaced (name the part)") said of `part` ("cover"): "the cover replaced".

    Notes in brackets, choices ("whole or part") and what the template would claim beyond the finding ("old piece")
    are left out. "" when the template is advice and no words for a label ("do not use this word without a test").
    """
    if _NOT_WORDS.match(template):
        return ""
    named = "(name the part)" in template
    words = _PREAMBLE.sub("", _OPTION.sub("", _BRACKET.sub("", template))).strip(" .")
    if named:
        return f"{_the(part) or 'a part'} {_predicate(words)}"
    if words.startswith("associated ") and part:
        return f"{_the(part)} associated"
    if words.startswith("associated "):
        return "made up of associated parts"
    return _of_part(words, part) if part else words


def _predicate(words: str) -> str:
    """What is said of the pack's sample part: its first word is the part, the rest what was done."""
    return words.partition(" ")[2] or words


def _of_part(words: str, part: str) -> str:
    first = words.partition(" ")[0].casefold()
    if part.casefold() in words.casefold():
        return words
    if place := _PLACE.search(words):
        return f"{words[: place.start()]}to {_the(part)}"
    if _PARTICIPLE.match(words):
        return f"{_the(part)} {words}"
    if first in SUBJECTS:
        return f"{words[: len(first)]} of {_the(part)}{words[len(first) :]}"
    head, colon, rest = words.partition(":")
    return f"{head} on {_the(part)}{colon}{rest}"


def _the(part: str) -> str:
    if not part or part.casefold().startswith(("the ", "one ", "two ", "a ", "an ")):
        return part
    return f"the {part}"
