"""Other things than the one in hand: what is only cited for comparison, shown in a book, or named in a title."""

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.tokens import Tokens

_CITES = frozenset({"literature", "illustrated", "recorded in", "see", "catalogue raisonné"})
_PICTURES = frozenset(
    {
        "photo",
        "photos",
        "photograph",
        "photographs",
        "image",
        "images",
        "picture",
        "pictures",
        "below",
        "above",
    }
)
_TOLD = frozenset(
    {
        "object",
        "count",
        "material",
        "place",
        "part",
        "form",
        "decoration",
        "technique",
        "surface",
        "puff",
        "style",
        "mark",
        "state",
    }
)


def settle_citations(hits: list[Hit], tokens: Tokens) -> None:
    """ "For a similar pair see Old Brass Candlesticks, fig. 12": behind the word that cites, to the end of its sentence,
    nothing is said of the thing itself. "See photos for condition" cites nothing.
    """
    named = False
    cited = -1
    for hit in hits:
        if hit.side == "object" and cited < 0:
            named = True
        elif hit.side == "evidence" and named and hit.strength != "denied" and _cites(hit, tokens):
            cited = tokens.sentence[hit.first]
        elif cited >= 0 and tokens.sentence[hit.first] != cited:
            cited = -1
        elif cited >= 0 and hit.side in _TOLD:
            hit.side = "coat"


def _cites(hit: Hit, tokens: Tokens) -> bool:
    after = tokens.low[hit.last : hit.last + 3]
    return hit.entry.value.term in _CITES and _PICTURES.isdisjoint(after)
