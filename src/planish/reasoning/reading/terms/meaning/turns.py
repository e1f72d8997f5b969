"""Words that name a thing, a part or a state elsewhere and are a verb or a turn of speech here: it stands well, a head erased."""

from collections.abc import Callable, Mapping

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.tokens import Tokens

_Turn = Callable[[int, int, list[str]], bool]
"""Whether the word from token `first` up to `last` names nothing here."""


def without_turns(hits: list[Hit], tokens: Tokens, covered: bytearray) -> list[Hit]:
    """All hits but those of words that are a verb or a turn of speech where they stand."""
    low = tokens.low
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


_FIRM = (["well"], ["firm"], ["firmly"], ["straight"], ["true"], ["level"], ["flat"], ["proud"], ["even"])


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
    return first > 0 and low[first - 1] in ("lower", "upper")


def _runs_across(_first: int, last: int, low: list[str]) -> bool:
    """The cross of "cross bands" and "cross straps"."""
    return low[last : last + 1] in (["band"], ["bands"], ["strap"], ["straps"], ["section"], ["member"])


_TURNS: Mapping[str, _Turn] = {
    "stand": _stands_firm,
    "stands": _stands_firm,
    "later": _dates,
    "earlier": _dates,
    "erased": _of_heraldry,
    "marriage": _between_families,
    "case": _is_lower_case,
    "cross": _runs_across,
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
