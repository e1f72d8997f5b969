"""Words that only lend a look, a taste or a kind: Nuremberg type, bronze effect, faux ivory."""

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Grammar
from planish.reasoning.reading.terms.phrasing.phrase import is_motif
from planish.reasoning.reading.tokens import Tokens

_LOOK = frozenset({"material", "place", "surface", "puff"})
_CALLED = frozenset({"object", "part", "mark"})
_TOLD_OF = frozenset({"colour", "color", "tone"})
_KINDS = frozenset({"pattern", "like", "form", "shape", "type", "style", "effect", "inspired", "look"})
_DRAWN = frozenset(
    {
        "motif",
        "motifs",
        "knotwork",
        "interlace",
        "ornament",
        "design",
        "designs",
        "script",
        "scrolls",
        "scrollwork",
    }
)
"""What is drawn in the taste of a place: Celtic motifs."""


_COATS = frozenset({"enamel", "glass", "paper and paint", "textile", "ceramic"})
"""A ground can be of these; a tortoiseshell ground is painted."""


def settle_styles(hits: list[Hit], tokens: Tokens, styles: set[int]) -> None:
    """ "Dutch 17th century style": the place belongs to the taste. `styles` are the characters at which such a taste begins."""
    if not styles:
        return
    for hit in hits:
        if hit.side == "place" and hit.last < len(tokens) and tokens.start[hit.last] in styles:
            hit.side, hit.likeness = "style", True


def _is_no_look(hit: Hit, after: str, word: str, glued: str) -> bool:
    """ "Rivets look new" has a verb; "great colour" is a state."""
    verb = after == "look" and glued == " " and word.endswith("s")
    return verb or (hit.side == "puff" and after in _TOLD_OF)


def settle_looks(hits: list[Hit], tokens: Tokens, grammar: Grammar) -> None:
    """ "Nuremberg type", "bronze-effect", "faux ivory": the word names a look, not a place of making or a substance."""
    low = tokens.low
    if grammar.looks.isdisjoint(tokens.words) and "ground" not in tokens.words:
        return
    compounds = {hit.first for hit in hits if hit.last - hit.first > 1}
    for hit in hits:
        after = low[hit.last] if hit.last < len(low) and hit.last not in compounds else ""
        called = hit.side in _CALLED or is_motif(hit) or (hit.side == "decoration" and hit.entry.noun)
        if hit.side not in _LOOK and not (called and after in _KINDS):
            continue
        if hit.side == "place" and after in _DRAWN:
            hit.side, hit.likeness = "style", True
            continue
        glued = tokens.text[tokens.end[hit.last - 1] : tokens.start[hit.last]] if after else ""
        if _is_no_look(hit, after, low[hit.last - 1], glued):
            continue
        grounded = after == "ground" and hit.side == "material" and hit.entry.value.kind not in _COATS
        if (
            (grounded or after in grammar.look_after)
            and glued in ("-", " ")
            and (after != "like" or glued == "-")
        ):
            hit.last += 1
        elif not (hit.first and low[hit.first - 1] in grammar.look_before):
            continue
        hit.side, hit.likeness = "style", True
        for place in hits:
            if place.side == "place" and place.last == hit.first:
                place.side = "coat"  # "Vienna bronze style"
    last = 0
    kept = []
    for hit in hits:
        if hit.first >= last:
            kept.append(hit)
        last = max(last, hit.last)
    hits[:] = kept
