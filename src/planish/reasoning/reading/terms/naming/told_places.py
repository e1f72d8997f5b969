"""Places that are told of owners, titles, tongues and shows, where nothing was made."""

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.tokens import CAPITAL, LOWER, Tokens


def settle_story_places(hits: list[Hit], tokens: Tokens) -> None:
    """ "provenance: private collection, Bath": a town told of an owner is no place of making.

    "Dutch" and "made in Bath" behind a provenance still say where the thing is from.
    """
    owned = -1
    for k, hit in enumerate(hits):
        if hit.side == "provenance" and hit.strength != "denied":
            owned = tokens.sentence[hit.first]
        elif (
            hit.side == "place" and (_in_a_title(hit.first, tokens.low) or _opens_a_name(hits, k, tokens))
        ) or (
            hit.side == "place"
            and tokens.sentence[hit.first] == owned
            and (_names_a_town(hit, tokens) or _tells_of_a_person(hit, tokens))
        ):
            hit.side = "coat"


def _in_a_title(first: int, low: list[str]) -> bool:
    """ "King of Rome", "view of Dresden", "a cellar in Bordeaux": who or what is shown, where it was, no place of making."""
    i = first - 1
    if low[i : first + 2] == ["holy", "roman", "empire"]:
        return True
    if i > 0 and low[i] == "the":
        i -= 1
    if i > 0 and low[i] in ("in", "at", "near", "outside"):
        return low[i - 1] in _FOUND_IN or low[i - 1] in _CLOSES or (low[i] == "in" and low[i - 1] in _WRITTEN)
    return i > 0 and low[i] == "of" and low[i - 1] in _TITLES


def _opens_a_name(hits: list[Hit], k: int, tokens: Tokens) -> bool:
    """ "at the Shanghai Races": behind "the", right before a capital that nobody knows."""
    at = hits[k].last
    known = k + 1 < len(hits) and hits[k + 1].first == at
    capital = tokens.cap[at : at + 1] == [CAPITAL] and len(tokens.low[at]) > 2
    return capital and not known and hits[k].first > 0 and tokens.low[hits[k].first - 1] == "the"


_CLOSES = frozenset({'"', "”", "’", "'", "»"})
"""Behind a quoted name: the shop "The Moor" in Delft."""
_FOUND_IN = frozenset(
    {
        "cellar", "attic", "loft", "barn", "farm", "farmhouse", "market", "fair", "shop", "sale", "garden", "house", "church", "clearance",
        "auction", "castle", "chapel", "school", "pub", "yard", "shed", "kitchen", "estate", "collection", "flat", "cottage", "hotel", "tomb",
        "grave", "field", "river", "home", "inn", "tavern", "mill", "monastery", "convent", "museum", "palace", "villa", "college", "family",
    }
)  # fmt: skip
""" "in a cellar in Bordeaux": where it was before it came here."""
_WRITTEN = frozenset(
    {"name", "names", "inscription", "inscriptions", "inscribed", "text", "lettering", "script", "legend", "motto", "written", "verse", "words", "letters", "characters", "dedication", "numerals", "signature", "prayer", "prayers", "poem"}
)  # fmt: skip
""" "owner's name in Armenian": a tongue, no country."""
_TITLES = frozenset(
    {
        "king", "queen", "prince", "princess", "duke", "duchess", "earl", "marquess", "marquis", "bishop", "archbishop",
        "emperor", "empress", "sultan", "shah", "maid", "mayor", "bank", "church", "parliament", "view", "views", "prospect",
        "panorama", "map", "plan", "scene", "scenes", "arms", "crest", "battle", "siege", "treaty", "tower", "port", "bay",
    }
)  # fmt: skip


def _tells_of_a_person(hit: Hit, tokens: Tokens) -> bool:
    """ "brought from Lhasa by a British officer", "of a German banker"."""
    return tokens.low[hit.first - 1] in ("a", "an") and LOWER in tokens.cap[hit.last : hit.last + 1]


def _names_a_town(hit: Hit, tokens: Tokens) -> bool:
    low = tokens.low
    made = low[hit.first - 2 : hit.first - 1] if hit.first > 1 else []
    return low[hit.first] == hit.entry.value.term.lower() and (not made or made[0] not in _MADE)


_MADE = frozenset({"made", "cast", "struck", "signed", "marked", "engraved"})
