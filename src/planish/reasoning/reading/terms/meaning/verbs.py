"""Words that name a thing, a part or a shape elsewhere and are verbs where they stand: measures 9 in, supports a bowl."""

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Entry
from planish.reasoning.reading.terms.meaning.shapes import COLOURS
from planish.reasoning.reading.tokens import LOWER, Tokens
from planish.records import TermValue

_MEASURES = frozenset({"measures", "measure"})
_HOLDS = frozenset(
    {"supports", "support", "rings", "tops", "caps", "crowns", "frames", "edges", "borders", "features", "faces", "backs", "covers", "centres"}
)  # fmt: skip
_TURNS = frozenset({"swivels", "slides", "folds", "screws"})
_ARTICLES = (["a"], ["an"], ["the"], ["its"], ["each"], ["both"], ["all"], ["this"], ["two"])
_HEDGES = frozenset(
    {
        "about",
        "approx",
        "approximately",
        "roughly",
        "just",
        "only",
        "some",
        "overall",
        "circa",
        "around",
        "over",
        "in",
        "at",
        ".",
        ":",
        "c",
    }
)
_CLOTHES = (["with"], ["in"], ["by"], ["all"])
_NAMES = frozenset({"object", "part", "decoration"})
_SPEAKS = frozenset({"it", "they", "which", "that", "this", "each", "both"})
_APART = Entry("joins", TermValue(term="apart"))
_WITH = Entry("joins", TermValue(term="with"))
_GLUED = frozenset(
    {
        "deep",
        "dome",
        "coral",
        "ruby",
        "emerald",
        "ivory",
        "amber",
        "jade",
        "turquoise",
        "screw",
        "silver",
        "gold",
        "copper",
        "bronze",
        "amethyst",
        "ring",
        "ball",
    }
)
_DOES = frozenset({"charming", "chasing", "casting", "burnt"})
_MAY_NAME_NOTHING = _DOES | {"foot", "tin"}
_WORDS = (
    _MEASURES
    | _HOLDS
    | _TURNS
    | _DOES
    | {"covered", "filled", "times", "foot", "tin", "size", "sized", "brace"}
)


def settle_verbs(hits: list[Hit], tokens: Tokens, covered: bytearray) -> None:
    """Give verbs the sense of joining what stands on their two sides; a covering, a filling and "three times" name nothing."""
    low = tokens.low
    if _WORDS.isdisjoint(tokens.words) and "-" not in tokens.text:
        return
    gone: set[int] = set()
    for k, hit in enumerate(hits):
        word, before = low[hit.first], hits[k - 1] if k else None
        if hit.last - hit.first > 1:
            continue
        if word in ("covered", "filled"):
            if low[hit.last : hit.last + 1] in _CLOTHES and not _of_a_hole(before, word):
                gone.add(k)
        elif (
            (word in _MAY_NAME_NOTHING or hit.side in ("count", "object")) and _names_nothing(hit, word, low)
        ) or (word in _GLUED and _before_a_hyphen(hit, tokens)):
            gone.add(k)
        elif hit.side == "count" and word == "brace" and low[hit.last : hit.last + 1] != ["of"]:
            hit.entries = tuple(entry for entry in hit.entries if entry.side == "object") or hit.entries
            hit.choose(hit.entries[0])
        elif word in _WORDS and _follows_a_noun(hit, before, tokens):
            joins = _joins(word, hit.last, low, covered)
            if joins is not None:
                hit.choose(joins)
                hit.entries = (joins,)
    if gone:
        hits[:] = [hit for k, hit in enumerate(hits) if k not in gone]


def _names_nothing(hit: Hit, word: str, low: list[str]) -> bool:
    """ "Cast three times", "pot size", "Orpheus charming the beasts", "burnt with initials"."""
    after = low[hit.last : hit.last + 1]
    if word == "foot":
        return hit.first > 1 and low[hit.first - 2].isdigit() and low[hit.first - 1] in _ORDINALS
    if word == "tin":
        ends = after in ([], [","], [";"], ["."])
        return hit.side == "material" and ends and hit.first > 0 and low[hit.first - 1] == "a"
    if word in _DOES:
        return after == ["with"] if word == "burnt" else after in _ARTICLES
    return (hit.side == "count" and after == ["times"]) or (hit.side == "object" and after in _SIZES)


def _before_a_hyphen(hit: Hit, tokens: Tokens) -> bool:
    """ "Deep-cut", "dome-headed", "screw-on", "silver-gray": tied to what follows, the word tells how, or a colour."""
    at = hit.last
    if at >= len(tokens) or tokens.text[tokens.end[at - 1] : tokens.start[at]] != "-":
        return False
    word = tokens.low[at]
    if hit.side == "material":
        return word in COLOURS
    return word in ("on", "off", "in", "cut") or (hit.side == "part" and word.endswith("ed"))


_ORDINALS = ("st", "nd", "rd", "th")
"""The endings of a regiment's number: "gilt shako plate of the 44th Foot"."""
_SIZES = (["size"], ["sized"])


def _of_a_hole(before: Hit | None, word: str) -> bool:
    """ "Hole filled with solder" is a repair; "cushion filled with horsehair" is none."""
    return word == "filled" and before is not None and before.side == "state"


def _follows_a_noun(hit: Hit, before: Hit | None, tokens: Tokens) -> bool:
    """A verb follows the name of a thing, a noun that no list has, or a word that speaks of one."""
    i = hit.first - 1
    if i < 0 or tokens.sentence[i] != tokens.sentence[hit.first] or not tokens.low[i].isalpha():
        return False
    if before is not None and before.last == hit.first:
        return before.side in _NAMES and tokens.low[i] not in ("the", "a")
    noun = tokens.cap[i] == LOWER and len(tokens.low[i]) > 4 and not tokens.low[i].endswith(("ing", "ed"))
    return noun or tokens.low[i] in _SPEAKS


def _joins(word: str, after: int, low: list[str], covered: bytearray) -> Entry | None:
    if word in _MEASURES:
        while after < len(low) and low[after] in _HEDGES and not covered[after]:
            after += 1
        return _APART if after < len(low) and covered[after] else None
    if word in _HOLDS and low[after : after + 1] in _ARTICLES:
        return _WITH
    ends = low[after : after + 1] in (
        [],
        [","],
        [";"],
        ["."],
        ["to"],
        ["and"],
        ["open"],
        ["up"],
        ["into"],
        ["onto"],
        ["off"],
        ["for"],
        ["when"],
    )
    return _APART if word in _TURNS and ends else None
