"""Devices of marks: a crown over initials, the touch of a key, an anchor stamp. They are no things and no ornament."""

from itertools import pairwise

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Entry
from planish.reasoning.reading.terms.letters import STRIKES
from planish.reasoning.reading.tokens import LOWER, Tokens
from planish.records import TermValue


def struck_devices(hits: list[Hit], tokens: Tokens) -> None:
    """ "stamped with a crown", "T.B under a crown", "orb & sceptre stamp": a device that is struck is a mark, no ornament."""
    if not _MARKS.isdisjoint(tokens.words):
        _devices_of_marks(hits, tokens.low)
    if _STRUCK_BY.isdisjoint(tokens.words) and "mark" not in [hit.side for hit in hits]:
        return
    after: Hit | None = None
    for hit in reversed(hits):
        if hit.side == "decoration" and (hit.entry.value.kind == "motif" or hit.entry.value.term in _STRUCK):
            between = tokens.low[hit.last : after.first] if after is not None else ["."]
            joined = after is not None and (
                (not between and after.side == "mark")
                or (between in (["&"], ["and"]) and after.letters == "struck")
            )
            if joined or _is_struck(hit.first, tokens) or _behind_a_mark(hits, hits.index(hit), tokens):
                hit.choose(Entry("mark", TermValue(term=hit.entry.value.term, kind="device")))
                hit.letters = "struck"
        after = hit
    for one, other in pairwise(hits):
        between = tokens.low[one.last : other.first] if one.letters == "struck" else []
        motif = other.side == "decoration" and other.entry.value.kind == "motif"
        if motif and between in (["and"], ["&"], ["and", "a"]):
            other.choose(Entry("mark", TermValue(term=other.entry.value.term, kind="device")))
    for hit in hits:
        hit.letters = "" if hit.letters == "struck" else hit.letters


_STRUCK = frozenset(
    {
        "fleur-de-lys",
        "royal cypher",
        "cypher",
        "royal crown",
        "crest",
        "thistle",
        "star",
        "shell",
        "tudor rose",
    }
)
"""Ornaments that are devices of marks as well."""


def _devices_of_marks(hits: list[Hit], low: list[str]) -> None:
    """ "foundry mark of a bell", "maker's mark WA anchor between": its device, no thing and no ornament."""
    named = False
    for hit in hits:
        shows = hit.side == "object" or (hit.side == "decoration" and hit.entry.value.kind == "motif")
        follows = low[hit.last] if hit.last < len(low) else "."
        if hit.side in ("decoration", "form") and follows in _FRAMES and _behind_initials(low, hit.first):
            hit.side = "coat"  # "touch IB in beaded oval": the frame's look
        elif shows and hit.first > 1 and ((named and follows in _NOUNS_OF_MARKS) or _is_device(hit, low)):
            hit.choose(Entry("mark", TermValue(term=hit.entry.value.term, kind="device")))
            hit.letters = "struck"
        named = named or hit.side == "object"


def _is_device(hit: Hit, low: list[str]) -> bool:
    """What a mark is of, what stands beside its letters, what is set behind it, or the frame that they stand in."""
    i = hit.first
    follows = low[hit.last] if hit.last < len(low) else "."
    if follows in _PLACED and _behind_initials(low, i):
        return True
    if low[i - 1] == "of":  # "touch of angel with initials"
        return low[i - 2] in _MARKS and (follows == "with" or not follows[0].isalnum())
    if low[i - 1] not in ("a", "an"):
        return False
    before, first = low[i - 2], low[i - 3] if i > 2 else ""
    if before in ("in", "within") and first in ("signed", "signature"):
        return True  # "signed in a seal"
    if before == "of":
        return first in _MARKS and (follows in _GOES_ON or not follows[0].isalnum())
    if before in ("in", "within"):
        return low[i] in _FRAMES and _behind_initials(low, i - 2)
    return before in _MARKS or (before in (",", ":") and first in _MARKS)


_GOES_ON = frozenset({"in", "within", "with", "and", "over", "under", "above", "below", "beneath"})
_PLACED = frozenset({"between", "above", "below"})
_FRAMES = frozenset({"shield", "heart", "lozenge", "oval", "rectangle", "cartouche", "circle", "trefoil"})
"""What the letters of a mark stand in."""


def _behind_initials(low: list[str], i: int) -> bool:
    """True where a word of marking stands before `i` with nothing but initials and small words between."""
    j = i - 1
    while j >= 0 and i - j < 9 and (len(low[j]) < 4 or low[j] in ("only", "within")):
        if low[j] in ",;":
            return False
        j -= 1
    return j >= 0 and low[j] in _MARKS


_MARKS = frozenset(
    {"sign", "mark", "marks", "touch", "touchmark", "stamp", "stamps", "touches", "touchmarks", "punch"}
)
_NOUNS_OF_MARKS = _MARKS - {"touch", "punch", "sign"}
""" "medal stamps", "anchor mark": what the marks show."""


def _behind_a_mark(hits: list[Hit], k: int, tokens: Tokens) -> bool:
    """ "maker's mark a mullet over a heart": in the clause that a mark opens, what follows "a" or "over a" is its device."""
    low, first = tokens.low, hits[k].first
    for hit in reversed(hits[max(0, k - 2) : k]):
        if hit.side != "mark":
            continue
        between = low[hit.last : first]
        plain = all(word.isalpha() for word in between) and len(between) < 7
        return (
            plain
            and between[:1] in (["a"], ["an"], ["of"])
            and between[-1:] in (["a"], ["an"], ["the"], ["and"])
        )
    return False


def _is_struck(first: int, tokens: Tokens) -> bool:
    """True behind a verb of marking, over small words and initials; "stamped with stars" is an ornament."""
    low = tokens.low
    j = first - 1
    if low[first].endswith("s") and low[j : j + 1] == ["with"]:
        return False
    if low[first].endswith("s") and low[j : j + 1] == ["stamped"]:
        return False  # "stamped leaves"
    if any(low[i] == "stamped" and low[i - 1] in ("-", "die") for i in range(max(1, first - 4), first)):
        return False  # "die-stamped with a view"
    letters = False
    while j > 0 and first - j < 9 and (low[j] in _TO_DEVICE or (len(low[j]) < 4 and tokens.cap[j] != LOWER)):
        letters = letters or tokens.cap[j] != LOWER
        j -= 1
    return j >= 0 and (low[j] in STRIKES or (letters and low[j] in _MAKER))


_MAKER = frozenset({"maker", "maker's", "makers", "mark", "touch", "touchmark", "punch"})
""" "maker PL with crowned lily": behind these and initials the device is the mark's."""
_STRUCK_BY = STRIKES | _MAKER
_TO_DEVICE = frozenset(
    {
        "a",
        "an",
        "the",
        "with",
        "under",
        "over",
        "below",
        "above",
        "beneath",
        "within",
        ".",
        "running",
        "rampant",
        "passant",
        "crowned",
        "standing",
        "small",
        "twin",
        "double",
        "spread",
        "displayed",
        "demi",
    }
)
