"""Words that name a thing, a part or a state elsewhere and are a verb or a turn of speech here: it stands well, a head erased."""

from collections.abc import Callable, Mapping

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.tokens import Tokens

_Turn = Callable[[int, int, list[str]], bool]
"""Whether the word from token `first` up to `last` names nothing here."""


def without_turns(hits: list[Hit], tokens: Tokens, covered: bytearray) -> list[Hit]:
    """All hits but those of words that are a verb or a turn of speech where they stand."""
    low = tokens.low
    if tokens.words.isdisjoint(_TURNS):
        return hits
    return [
        hit
        for hit in hits
        if (turn := _TURNS.get(low[hit.first])) is None
        or not turn(hit.first, hit.last, low)
        or (turn is _dates and not any(covered[hit.last : hit.last + 1]))
    ]


def _after(words: frozenset[str]) -> _Turn:
    return lambda first, last, low: last - first == 1 and low[last : last + 1] != [] and low[last] in words


def _stands_firm(first: int, last: int, low: list[str]) -> bool:
    """ "It stands well", "which stand firmly"."""
    told = first > 0 and (low[first] == "stands" or low[first - 1] in ("it", "they", "which", "that", "and"))
    return last - first == 1 and told and low[last : last + 1] in _FIRM


_FIRM = (
    ["for"],
    ["well"],
    ["firm"],
    ["firmly"],
    ["straight"],
    ["true"],
    ["level"],
    ["flat"],
    ["proud"],
    ["even"],
)


def _dates(first: int, last: int, _low: list[str]) -> bool:
    """ "Later 19th century", "earlier 18th": right before a century they are of the date."""
    return last - first == 1


def _of_heraldry(first: int, _last: int, low: list[str]) -> bool:
    """ "A buck's head erased": how a head is drawn, and nothing that was taken off."""
    return first > 0 and low[first - 1] in ("head", "heads", "paw", "paws", "gamb")


def _between_families(first: int, last: int, low: list[str]) -> bool:
    """ "A marriage between two families", "on his marriage": a wedding, no marriage of parts."""
    before = low[first - 1] if first else ""
    return low[last : last + 1] in (["between"], ["to"], ["in"]) or before in ("their", "his", "her", "the")


def _is_lower_case(first: int, _last: int, low: list[str]) -> bool:
    """ "Lower case", "as is the case", "in this case"."""
    said = low[max(0, first - 2) : first] in (["is", "the"], ["in", "any"], ["in", "this"], ["in", "that"])
    return said or (first > 0 and low[first - 1] in ("lower", "upper"))


def _is_a_little(first: int, last: int, low: list[str]) -> bool:
    """ "A touch rubbed": a little, and no maker's touch."""
    return first > 0 and low[first - 1] == "a" and low[last : last + 1] in _TOUCHED


_TOUCHED = tuple(
    [word]
    for word in (
        "rubbed",
        "worn",
        "thin",
        "tired",
        "bent",
        "loose",
        "later",
        "soft",
        "light",
        "heavy",
        "dirty",
        "marked",
        "faded",
        "bruised",
        "of",
    )
)[:-1]


def _of_the_tortoise(first: int, _last: int, low: list[str]) -> bool:
    """ "Tortoiseshell box ... loss to the shell": the substance again, and no ornament."""
    real = first > 0 and low[first - 1] in ("real", "natural", "genuine", "actual")
    return real or ("tortoiseshell" in low[:first] and low[first - 1] in ("the", ",", ".", ";"))


def _of_a_building(first: int, _last: int, low: list[str]) -> bool:
    """ "On the laying of the foundation stone"."""
    return first > 0 and low[first - 1] in ("foundation", "corner", "memorial", "first")


def _how_well(first: int, last: int, low: list[str]) -> bool:
    """ "A well defined barb", "well struck marks"."""
    after = low[last] if last < len(low) else ""
    return last - first == 1 and (after == "-" or after in _WELL or (after.endswith("ed") and len(after) > 4))


_WELL = frozenset({"made", "struck", "cast", "worn", "kept", "cut", "drawn", "known", "done", "set"})


def _this_one(first: int, last: int, low: list[str]) -> bool:
    """ "The present silver beaker" is the one here, and nothing is said to be still there."""
    return last - first == 1 and low[first - 1 : first] in (["the"], ["our"]) and low[last : last + 1] != []


def _of_post(first: int, _last: int, low: list[str]) -> bool:
    return first > 0 and low[first - 1] in ("postage", "revenue", "trading", "letter")


def _is_done(first: int, last: int, low: list[str]) -> bool:
    """ "To insert a stick", "to support the candle", "to keep the water hot": a verb."""
    opens = low[last : last + 1] in (["a"], ["an"], ["the"], ["its"], ["it"])
    return last - first == 1 and first > 0 and low[first - 1] == "to" and opens


def _runs_across(_first: int, last: int, low: list[str]) -> bool:
    """The cross of "cross bands" and "cross straps"."""
    return low[last : last + 1] in (["band"], ["bands"], ["strap"], ["straps"], ["section"], ["member"])


def _is_a_warning(_first: int, last: int, low: list[str]) -> bool:
    """ "Handle with care": what to do, and no handle."""
    return low[last : last + 1] == ["with"] and low[last + 1 : last + 2] in (
        ["care"],
        ["gloves"],
        ["caution"],
    )


def _is_how_it_was_made(first: int, last: int, low: list[str]) -> bool:
    """ "Lead-soldered seam": how the jug was made, and no repair."""
    return last - first > 1 and low[last : last + 1] in (["seam"], ["seams"], ["joint"], ["joints"])


def _without_papers(_first: int, last: int, low: list[str]) -> bool:
    """ "Sold with no provenance": nothing comes with it."""
    return low[last : last + 1] in (["no"], ["none"], ["nothing"])


_TURNS: Mapping[str, _Turn] = {
    "sold": _without_papers,
    "accompanied": _without_papers,
    "lead": _is_how_it_was_made,
    "soft": _is_how_it_was_made,
    "handle": _is_a_warning,
    "stand": _stands_firm,
    "stands": _stands_firm,
    "later": _dates,
    "earlier": _dates,
    "erased": _of_heraldry,
    "marriage": _between_families,
    "case": _is_lower_case,
    "cross": _runs_across,
    "touch": _is_a_little,
    "pastel": _after(
        frozenset({"colours", "colors", "shades", "tones", "green", "blue", "pink", "yellow", "enamel", "enamels"})
    ),
    "rope": _after(frozenset({"border", "borders", "girdle", "band", "bands", "edge", "edges", "rim", "moulding", "mouldings"})),
    "stone": _of_a_building,
    "shell": _of_the_tortoise,
    "sign": _after(frozenset({"of"})),
    "signs": _after(frozenset({"of"})),
    "well": _how_well,
    "present": _this_one,
    "stamp": _of_post,
    "stamps": _of_post,
    "insert": _is_done,
    "support": _is_done,
    "keep": _is_done,
    "rest": _is_done,
    "seal": _is_done,
    "cover": _is_done,
    "mirror": _after(frozenset({"-", "polished", "polish", "finish"})),
    **dict.fromkeys(
        ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"),
        _after(frozenset({"o'clock", "o’clock", "oclock", "o", "lobed", "petalled", "panelled", "pointed"})),
    ),
    "compendium": _after(frozenset({"of"})),
    "leaning": _after(frozenset({"over", "on", "upon", "against", "towards", "across", "out"})),
    "leans": _after(frozenset({"over", "on", "upon", "against", "towards", "across", "out"})),
    "pendant": _after(
        frozenset(
            {
                "fruit", "fruits", "flowers", "flower", "swags", "swag", "husks", "husk", "foliage", "leaves", "grapes", "tassels",
                "bellflowers", "drop", "drops", "ring", "rings", "loop", "loops", "finial", "finials", "skirt", "frieze", "floral",
                "bells", "chain", "chains", "discs", "pearls", "masks", "shell", "shells",
            }
        )
    ),
}  # fmt: skip
