"""Words that name a thing only where an article or a substance stands before them: still, bit, well, hand, back, view."""

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.tokens import Tokens

_ARTICLES = frozenset(
    {
        "a",
        "an",
        "the",
        "its",
        "this",
        "that",
        "with",
        "of",
        "and",
        "&",
        "in",
        "to",
        "on",
        "at",
        "one",
        "two",
        ",",
        ";",
        "(",
        ".",
        "\n",
    }
)
_NEVER_AFTER = {
    "bit": frozenset({"a", "little", "wee", ",", ";", ".", "and"}),
    "still": frozenset({",", ";", ".", "and", "&", "in", "on", "at", "to", "is", "are", "("}),
    "lighter": frozenset({"and", "&", ",", "in", "("}),
    "hand": frozenset({"in", "to", "on", "at", ",", ";", "(", "."}),
    "view": frozenset({"in", "on", "to", "at"}),
    "well": frozenset({"on", "at", ".", "("}),
    "back": frozenset({"&", "and"}),
    "order": _ARTICLES,
    "round": frozenset({"all", "of"}),
}
"""Behind which words each of them says when, how or where, and names nothing."""


_DONE = ("ed", "cast", "worn", "made", "cut", "drawn")
_DESCRIBES = frozenset({"form", "material", "surface", "decoration", "technique", "place", "count", "puff"})


def without_adverbs(hits: list[Hit], tokens: Tokens) -> list[Hit]:
    """ "lid fits well", "still in use", "a bit worn", "in our view": all hits but those of words that name nothing here."""
    if _NEVER_AFTER.keys().isdisjoint(tokens.words):
        return hits
    return [
        hit for k, hit in enumerate(hits) if not _names_nothing(hit, hits[k - 1] if k else None, tokens.low)
    ]


def _names_nothing(hit: Hit, before: Hit | None, low: list[str]) -> bool:
    never = _NEVER_AFTER.get(low[hit.first]) if hit.last == hit.first + 1 else None
    if never is None or hit.first == 0:
        return False
    word = low[hit.first - 1]
    if low[hit.first] == "well" and low[hit.last : hit.last + 1] != [] and low[hit.last].endswith(_DONE):
        return True  # "and well carved"
    described = before is not None and before.last == hit.first and before.side in _DESCRIBES
    if described and word not in never:
        return False
    return word in never or (word not in _ARTICLES and low[hit.first] not in ("back", "round"))
