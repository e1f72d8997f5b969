"""Letters on the object: quoted words, words after "Inscribed:", initials in marks, numbers of registrations."""

from dataclasses import dataclass
from functools import lru_cache
from itertools import compress, count

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Lexicon
from planish.reasoning.reading.tokens import CAPITAL, CAPITALS, LOWER, Tokens

_OPEN = {'"': '"', "“": "”", "‘": "’", "'": "'", "«": "»", "„": "“"}
_QUOTES = frozenset(_OPEN)
_FAR = 60
_NEAR = 6


@dataclass(frozen=True, slots=True)
class Inscription:
    """Tokens `first` up to `last` are letters on the object. `word` is what opened them ("engraved")."""

    first: int
    last: int
    word: str


def find_inscriptions(tokens: Tokens, lexicon: Lexicon) -> tuple[list[Inscription], set[int]]:
    """Quoted words near an opening word, and the rest of the line after "Inscribed ...:"; then tokens of other quoted titles."""
    found: list[Inscription] = []
    quoted: set[int] = set()
    low, n = tokens.low, len(tokens)
    there = tokens.words
    if ":" not in there and lexicon.opening.isdisjoint(there) and _QUOTES.isdisjoint(there):
        return found, quoted
    shouts = sum(tokens.cap) > n
    past, opened, label, word = 0, -100, -100, ""
    for i in compress(count(), map(_noted(lexicon.opening).__contains__, low)):
        token = low[i]
        if i < past:
            continue
        if token in lexicon.opening and not _amid_a_word(low, i, lexicon):
            label = label if _goes_on(low, opened, i) else i
            opened, word = i, token
            run = _capitals(tokens, i + 1, lexicon) or _standard(tokens, i + 1, lexicon)
            if run and not shouts and not _in_capitals(tokens, i):
                found.append(Inscription(*run, word))
                past = run[1]
        elif token in _OPEN and i - opened <= _NEAR + 4 and low[i - 1 : i] != ["by"] and _opens(tokens, i):
            end = _closing(tokens, i)
            if end > i + 1:
                found.append(Inscription(i + 1, end, word))
                past, opened = end + 1, end
        elif (
            token in _QUOTE
            and _opens(tokens, i)
            and (end := _closing(tokens, i)) > i + 1
            and (_titled(tokens, i + 1, end) or _told_as_a_title(tokens, i, end))
        ):
            quoted.update(range(i + 1, end))
            past = end + 1
            if low[end - 1].isdigit() and len(low[end - 1]) == 4 and end > i + 2:
                found.append(Inscription(i + 1, end, "letters"))  # 'YPRES 1917'
        elif (
            token == ":"
            and not (low[i + 1 : i + 2] in _TELLS and LOWER in tokens.cap[i + 1 : i + 2])
            and low[i + 1 : i + 2] not in _NO_LETTERS
            and (_labels(tokens, label, opened, i) or _told_where(tokens, i))
        ):
            end = _line_end(tokens, i + 1, lexicon)
            if end > i + 1:
                found.append(Inscription(i + 1, end, word if i - label <= _LABEL else "letters"))
                past, opened, label = end, -100, -100
    return found, quoted


@lru_cache(maxsize=8)
def _noted(opening: frozenset[str]) -> frozenset[str]:
    """Words and signs that can begin letters or tell of them."""
    return opening | _QUOTES | {":"}


def _capitals(tokens: Tokens, i: int, lexicon: Lexicon) -> tuple[int, int] | None:
    """Two or more words in capitals after a word of lettering ("marked CAST IN LONDON"), one of them no name."""
    low, cap, opened = tokens.low, tokens.cap, i - 1
    while i < len(low) and low[i] in ("with", "the", "words", "on", "in", "base", "lid", "rim", "to"):
        i += 1
    end = i
    while end < len(low) and (
        cap[end] == CAPITALS or (end > i and low[end] in _AMID) or _one_capital(tokens, end)
    ):
        end += 1
    while end > i and low[end - 1] in _AMID:
        end -= 1
    words = [j for j in range(i, end) if cap[j] == CAPITALS]
    if any(len(low[j]) > 3 for j in words) and _goes_on_in_figures(low, end, low[opened]):
        return i, end + 1
    plain = any(low[j] in lexicon.function or low[j] in lexicon.root for j in words)
    alone = (
        len(words) == 1
        and end - i == 1
        and len(low[i]) > 2
        and (end >= len(low) or cap[end] == LOWER or low[end] in lexicon.root)
    )
    if (len(words) > 1 and plain) or alone:
        return i, end
    set_off = i < len(low) - 1 and low[i + 1] == "," and cap[i] == CAPITALS and len(low[i]) > 2
    return (i, i + 1) if set_off else None


def _in_capitals(tokens: Tokens, i: int) -> bool:
    """ "ENGRAVED COPPER BOWL": the heading is all in capitals, the opening word as well, and tells of no letters."""
    return (
        tokens.cap[i] == CAPITALS
        and i + 1 < len(tokens)
        and tokens.cap[i + 1] == CAPITALS
        and LOWER in tokens.cap
    )


def _goes_on_in_figures(low: list[str], end: int, opened: str) -> bool:
    """ "engraved S.S. CALLIOPE 1898", "stamped KITCHEN 4": the year or number behind the letters, and no size."""
    number = low[end] if end < len(low) and low[end].isdigit() else ""
    year = len(number) == 4 and opened in _WRITES
    return year or (0 < len(number) < 4 and low[end + 1 : end + 2] in _NO_UNIT)


_NO_UNIT: tuple[list[str], ...] = ([], [","], [";"], [")"], ["and"])
_WRITES = frozenset(
    {"engraved", "inscribed", "engr", "inscr", "pricked", "incised", "etched", "lettered", "embossed", "punched", "scratched"}
)  # fmt: skip
"""Words behind which a year stands among the letters; a hallmark's year is the year of making."""


def _one_capital(tokens: Tokens, j: int) -> bool:
    return len(tokens.low[j]) == 1 and tokens.cap[j] != LOWER


def _amid_a_word(low: list[str], i: int, lexicon: Lexicon) -> bool:
    """The "cast" of cast iron opens no letters."""
    node = lexicon.root.get(low[i])
    follow = node.next.get(low[i + 1]) if node is not None and i + 1 < len(low) else None
    return follow is not None and any(entry.side == "material" for entry in follow.entries)


_TELLS = (["a"], ["an"], ["one"], ["two"], ["none"], ["the"], ["no"], ["not"], ["only"])
"""What opens a description behind "Marks:", and no lettering."""
_NO_LETTERS = (["unmarked"], ["unsigned"], ["none"], ["unhallmarked"], ["apparently"])
"""Behind "Marks:" these say that there are none."""
_AMID = frozenset("&.,'’-/")
_QUOTE = frozenset("\"“„«'‘")


def _titled(tokens: Tokens, first: int, last: int) -> bool:
    """Every word of some length has a capital: a name or title, of which no word claims anything."""
    words = [i for i in range(first, last) if tokens.low[i][0].isalpha() and len(tokens.low[i]) > 2]
    return bool(words) and all(tokens.cap[i] != LOWER or tokens.low[i] in _SMALL for i in words)


def _told_as_a_title(tokens: Tokens, at: int, last: int) -> bool:
    """ ", "Dog on a drum", ": three words and more in quotation marks that open with a capital, between stops."""
    before, after = tokens.low[at - 1 : at], tokens.low[last + 1 : last + 2]
    stopped = before in _STOPPED and after in _STOPPED and before != []
    return stopped and last - at > 3 and tokens.cap[at + 1] != LOWER


_STOPPED: tuple[list[str], ...] = ([], [","], [";"], ["("], [")"], ["-"], ["–"], ["."], ["\n"])
_SMALL = frozenset({"the", "and", "from", "for", "with", "near", "into"})
"""Small words within a title: "A Trifle from Bath"."""


def _opens(tokens: Tokens, i: int) -> bool:
    """An opening quotation mark has no letter or figure right before it and one right after it."""
    text, s = tokens.text, tokens.start[i]
    before, after = text[s - 1 : s], text[s + 1 : s + 2]
    return not (before.isalnum() or (before and before in "¼½¾⅛⅜⅝⅞")) and bool(after.strip())


def _closing(tokens: Tokens, i: int) -> int:
    close = _OPEN[tokens.low[i]]
    for j in range(i + 1, min(len(tokens), i + _FAR)):
        if tokens.low[j] == close or (close == "”" and tokens.low[j] == '"'):
            return j
        if tokens.low[j] == "\n":
            return i
    return i


def _standard(tokens: Tokens, i: int, lexicon: Lexicon) -> tuple[int, int] | None:
    """ "stamped Sterling": a word that names a standard is the stamp's own, and no maker."""
    named = i < len(tokens) and tokens.cap[i] == CAPITAL and tokens.low[i] in lexicon.says
    return (i, i + 1) if named and tokens.low[i - 1] != ":" else None


def _goes_on(low: list[str], opened: int, i: int) -> bool:
    """ "Signed, inscribed, and dated": one word of lettering right after the other."""
    return 0 < i - opened <= 3 and all(word in (",", "and", "&") for word in low[opened + 1 : i])


_LABEL = 24
"""Words between a word of lettering and its colon, at most (house default, no source)."""


def _labels(tokens: Tokens, label: int, opened: int, colon: int) -> bool:
    """True when the opening word starts its line and nothing but place words stand before the colon."""
    if not 0 <= colon - label <= _LABEL:
        return False
    low, sentence = tokens.low, tokens.sentence
    start = label == 0 or low[label - 1] in ("\n", "[", "]", ".", ";")
    if not (start or sentence[label] != sentence[label - 1]) or sentence[colon] != sentence[label]:
        return False
    return colon - opened <= 12 or low[opened + 1] in _AT


_AT = frozenset({",", "on", "at", "in", "around", "along", "below", "beneath", "under", "near", "to"})
"""Words that go on to tell where the letters stand, however long that takes."""


def _line_end(tokens: Tokens, i: int, lexicon: Lexicon) -> int:
    """The line's end, or the semicolon before the next place or kind of lettering: "S.J.A.; on blade: 7"."""
    low, n = tokens.low, len(tokens)
    while i < n and low[i] != "\n":
        if low[i] == ";" and i + 1 < n and (low[i + 1] in lexicon.opening or low[i + 1] in _WHERE):
            ahead = low[i + 1 : i + 14]
            if ":" in ahead or "]" in ahead:
                break
        if low[i] == "." and i + 2 < n and tokens.cap[i + 1] == CAPITAL and _begins_anew(tokens, i + 1):
            break
        i += 1
    return i


def _begins_anew(tokens: Tokens, i: int) -> bool:
    """ "Marks: 925 stamp. Georgian, circa 1800": behind the stop of a word in small letters a sentence begins."""
    small = tokens.cap[i - 2] == LOWER and tokens.low[i - 2].isalpha() and len(tokens.low[i - 2]) > 3
    return small and tokens.cap[i] == CAPITAL and len(tokens.low[i]) > 3


_WHERE = frozenset(
    {
        "on",
        "around",
        "verso",
        "recto",
        "obverse",
        "reverse",
        "back",
        "front",
        "underside",
        "painted",
        "in",
        "[",
    }
)
"""Words that open a place of lettering at the start of a line: "around edge:", "painted on exterior:"."""


def _told_where(tokens: Tokens, colon: int) -> bool:
    """The colon of "around edge: GEORGIVS III": a place from the start of a line or clause on, then capitals or figures.

    "obverse: one cent in a wreath" describes, and "on base: [two stamps]" is the writer's own note.
    """
    low, cap = tokens.low, tokens.cap
    after = colon + 1
    if after >= len(low) or not (cap[after] != LOWER or low[after].isdigit()):
        return False
    i = colon - 1
    while i >= 0 and colon - i < 9 and low[i] not in _APART:
        if low[i] == "." or (cap[i] != LOWER and i and low[i - 1] not in _APART):
            return False
        i -= 1
    return (i < 0 or low[i] in _APART) and i + 1 < colon and low[i + 1] in _WHERE


_APART = frozenset({"\n", ";", "]", "["})


_LEADERS = frozenset(
    {
        ":",
        "'",
        '"',
        "“",
        "‘",
        "(",
        "no",
        "number",
        "numbered",
        "nos",
        ".",
        "with",
        "the",
        "of",
        "rd",
        "#",
        "initials",
        "letters",
    }
)


def read_letters(hits: list[Hit], tokens: Tokens, covered: bytearray) -> None:
    """Give marks their letters or figures: maker's mark IB, touchmark 'IH', Rd No 412211, pattern no. 1234."""
    low = tokens.low
    for hit in hits:
        if not _may_have_letters(hit):
            continue
        j, steps = hit.last, 0
        while j < len(low) and steps < 4 and low[j] in _LEADERS and not covered[j]:
            j, steps = j + 1, steps + 1
        end = _letters_end(tokens, hit, j, covered)
        if end > j and (
            tokens.sentence[j] == tokens.sentence[hit.first] or hit.entry.value.kind == "registration"
        ):
            hit.letters = tokens.text[tokens.start[j] : tokens.end[end - 1]]
            closes = end < len(low) and low[end] in "'\"”’)" and j > hit.last and low[j - 1] in "'\"“‘("
            hit.end = tokens.end[end if closes else end - 1]
            for k in range(hit.last, end + closes):
                covered[k] = 1


def struck_letters(hits: list[Hit], tokens: Tokens, lexicon: Lexicon, covered: bytearray) -> None:
    """ "stamped GR", "punched T.B under a crown": a verb of marking before nothing but initials tells a stamp."""
    if STRIKES.isdisjoint(tokens.words):
        return
    stamp = (
        next((e for e in lexicon.root["stamp"].entries if e.side == "mark"), None)
        if "stamp" in lexicon.root
        else None
    )
    if stamp is None:
        return
    for hit in hits:
        if hit.last - hit.first != 1 or tokens.low[hit.first] not in STRIKES:
            continue
        end = _letters_end(tokens, hit, hit.last, covered)
        if end > hit.last and not (end < len(tokens) and tokens.cap[end] != LOWER):
            hit.choose(stamp)


STRIKES = frozenset({"stamped", "punched", "struck", "impressed", "branded", "marked"})
"""Verbs of marking."""


def _may_have_letters(hit: Hit) -> bool:
    term = hit.entry.value.term
    return (hit.side in ("mark", "inscription") and term != "dated") or (
        hit.side == "decoration" and term == "initials"
    )


def _letters_end(tokens: Tokens, hit: Hit, j: int, covered: bytearray) -> int:
    low, n = tokens.low, len(tokens)
    if j >= n or covered[j]:
        return j
    if hit.entry.value.kind == "registration":
        while (
            j < n
            and (low[j].isdigit() or (low[j] in "/,." and j + 1 < n and low[j + 1].isdigit()))
            and not covered[j]
        ):
            j += 1
        return j
    limit = j + 6
    while j < n and j < limit and not covered[j] and _is_letters(tokens, j):
        j += 1
    while j > hit.last and low[j - 1] in ("&", ".") and not (low[j - 1] == "." and len(low[j - 2]) == 1):
        j -= 1
    return j


def _is_letters(tokens: Tokens, j: int) -> bool:
    word = tokens.low[j]
    if word in (".", "&", "*"):
        return j > 0 and len(tokens.low[j - 1]) <= 2
    capital = tokens.text[tokens.start[j]].isupper()
    return capital and (len(word) == 1 or (tokens.cap[j] == CAPITALS and len(word) <= 4))
