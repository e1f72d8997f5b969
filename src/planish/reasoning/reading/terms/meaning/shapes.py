"""Words that only make sense together with the word before: lyre shaped, of haystack form, gold painted, plate worn."""

from collections.abc import Collection
from itertools import pairwise

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Entry, Lexicon
from planish.reasoning.reading.tokens import Tokens
from planish.records import TermValue

_NOT_SHAPED = frozenset({"well", "beautifully", "nicely", "finely", "similarly", "hand", "simply"})
_SHOWS = frozenset({"object", "decoration", "material", "part", "form"})
_DRAWN_IN = frozenset({"gold", "silver", "copper", "bronze", "pewter"})
_DRAWN = frozenset(
    {"painted", "paint", "lettering", "letters", "lettered", "line", "lines", "lined", "highlights", "highlighted", "stencilling", "stencilled", "stenciling", "stenciled", "printed", "ink", "script", "numerals", "sprayed", "speckled", "flecked", "dust", "leaf"}
)  # fmt: skip
COLOURS = frozenset(
    {
        "black",
        "red",
        "green",
        "blue",
        "cream",
        "white",
        "yellow",
        "brown",
        "crimson",
        "scarlet",
        "grey",
        "gray",
        "orange",
        "pink",
        "buff",
        "maroon",
        "ochre",
    }
)
_PLATED = frozenset({"plated", "plating"})
_OF_A_COAT = frozenset({"wear", "damage", "corrosion", "good", "refinished"})


def settle_shapes(hits: list[Hit], tokens: Tokens, lexicon: Lexicon, covered: bytearray) -> None:
    """ "Lyre shaped", "of haystack form": the word before says which shape, whatever it names elsewhere."""
    low = tokens.low
    there = tokens.words
    if not ("shaped" in there or "form" in there or "shape" in there):
        return
    gone: set[int] = set()
    for k, hit in enumerate(hits):
        word = low[hit.first]
        if word not in ("shaped", "form", "shape") or hit.last - hit.first > 1 or hit.first == 0:
            continue
        before = hits[k - 1] if k and hits[k - 1].last == hit.first else None
        at = before.first if before is not None else hit.first - 1
        if before is None and not _names_a_shape(low[at], lexicon, covered[at] > 0):
            continue
        if (word != "shaped" and low[at - 1 : at] not in (["of"], ["in"])) or (
            before is not None and (before.side not in _SHOWS or (word != "shaped" and before.side == "form"))
        ):
            continue
        shape = f"{' '.join(low[at : hit.first])}-shaped"
        hit.choose(Entry("form", TermValue(term=shape, kind="form")))
        hit.first = at
        if before is not None:
            gone.add(k - 1)
    _leave_out(hits, gone)


def _names_a_shape(word: str, lexicon: Lexicon, covered: bool) -> bool:
    return (
        word.isalpha()
        and len(word) > 1
        and not covered
        and not word.endswith("ly")
        and word not in _NOT_SHAPED
        and word not in lexicon.function
    )


def settle_colours(hits: list[Hit], tokens: Tokens) -> None:
    """ "Gold painted", "gold lettering", "black and gold": a colour, no substance."""
    low = tokens.low
    there = tokens.words
    if not COLOURS.isdisjoint(there):
        for hit in hits:
            if (
                hit.side == "material"
                and hit.entry.value.term in _ALSO_COLOURS
                and (_listed_with_colours(hit, low) or _names_a_shade(hit, low))
            ):
                hit.side = "coat"
    if _DRAWN_IN.isdisjoint(there) or (_DRAWN.isdisjoint(there) and COLOURS.isdisjoint(there)):
        return
    for hit in hits:
        if hit.side == "material" and hit.entry.value.term in _DRAWN_IN:
            painted = hit.last < len(low) and low[hit.last] in _DRAWN
            if painted or _beside_a_colour(hit, low):
                hit.side = "coat"


def settle_shades(hits: list[Hit], tokens: Tokens) -> None:
    """ "ivory silk", "coral velvet", "gold paper": before a cloth or paper the substance is a shade. Gold lace, thread and
    cloth of gold are of gold, jet beads of jet."""
    for one, other in pairwise(hits):
        if (
            one.side == "material" == other.side
            and one.last == other.first
            and one.entry.value.term in _SHADES
            and (other.entry.value.term in _TINTED or other.entry.value.term.endswith("paper"))
        ):
            one.side = "coat"
    if not _COLOURED.isdisjoint(tokens.words) and not _GEM_SHADES.isdisjoint(tokens.words):
        if any(hit.side == "object" and hit.entry.value.kind == "jewellery" for hit in hits):
            return
        for hit in hits:
            if hit.side == "material" and hit.entry.value.term in _GEM_SHADES and _alone(hit, tokens.low):
                hit.side = "coat"


def _alone(hit: Hit, low: list[str]) -> bool:
    """ ", turquoise," of a thing that is enamelled or painted: its colour."""
    return low[hit.first - 1 : hit.first] == [","] and low[hit.last : hit.last + 1] in (
        [],
        [","],
        [";"],
        ["."],
    )


_COLOURED = frozenset(
    {
        "enamel",
        "enamelled",
        "enameled",
        "painted",
        "japanned",
        "lacquered",
        "glazed",
        "guilloche",
        "guilloché",
    }
)
_GEM_SHADES = frozenset({"turquoise", "coral", "jade", "amber", "ruby", "emerald", "amethyst", "sapphire"})
_SHADES = frozenset(
    {
        "ivory",
        "coral",
        "amber",
        "gold",
        "silver",
        "copper",
        "bronze",
        "ebony",
        "jade",
        "pearl",
        "turquoise",
        "jet",
        "charcoal",
        "brass",
    }
)
_TINTED = frozenset(
    {"silk", "satin", "velvet", "cotton", "linen", "wool", "taffeta", "chiffon", "organza", "damask", "crepe", "felt", "muslin", "twill", "jersey", "flannel", "plush", "tulle", "leather", "suede", "cardboard"}
)  # fmt: skip


_ALSO_COLOURS = frozenset(
    {
        "cobalt",
        "jet",
        "lapis lazuli",
        "amber",
        "turquoise",
        "ruby",
        "emerald",
        "sapphire",
        "coral",
        "ivory",
        "amethyst",
        "jade",
        "gold",
        "copper",
    }
)
_PALE = frozenset({"dark", "light", "pale", "deep"})


def _names_a_shade(hit: Hit, low: list[str]) -> bool:
    """ "Cobalt blue ground", "jet black": which blue and which black; gold and copper keep their own colour."""
    after = low[hit.last] if hit.last < len(low) else ""
    return after in COLOURS and hit.entry.value.term not in ("gold", "copper")


def _listed_with_colours(hit: Hit, low: list[str]) -> bool:
    """ "Blue, red, amber, green", "in turquoise, dark blue and red": in a list of colours a stone is one."""
    before = low[hit.first - 2] if hit.first > 1 and low[hit.first - 1] in (",", "and", "&") else ""
    at = hit.last + 1
    at += at < len(low) and low[at] in _PALE
    after = low[at] if at < len(low) and low[hit.last] in (",", "and", "&") else ""
    ends = low[at + 1 : at + 2] in _STOPPED or low[at + 1 : at + 2] in (["and"], ["&"])
    return (after in COLOURS and ends) or (before in COLOURS and low[hit.last : hit.last + 1] in _STOPPED)


def _beside_a_colour(hit: Hit, low: list[str]) -> bool:
    """ "black and gold" before a stop: with a colour on its other side, gold is one."""
    ends = (
        hit.last >= len(low)
        or not low[hit.last][0].isalnum()
        or low[hit.last] in ("with", "on", "over", "in")
    )
    if low[hit.last : hit.last + 1] in (["and"], ["&"]) and low[hit.last + 1 : hit.last + 2] != []:
        return low[hit.last + 1] in COLOURS and low[hit.last + 2 : hit.last + 3] in _STOPPED
    return hit.first > 1 and ends and low[hit.first - 1] in ("and", "&") and low[hit.first - 2] in COLOURS


_STOPPED: tuple[list[str], ...] = ([], [","], ["."], [";"], [")"], ["\n"])


def settle_plating(hits: list[Hit], tokens: Tokens) -> None:
    """ "Electroplate, plate worn", "wear to plate": what is worn there is the plating, no dish."""
    if "plate" not in tokens.words:
        return
    plated = False
    for k, hit in enumerate(hits):
        plated = plated or (hit.side in ("material", "surface") and hit.entry.value.kind in _PLATED)
        if hit.side != "object" or tokens.low[hit.first : hit.last] != ["plate"]:
            continue
        if not plated and not _set_off_behind_a_thing(hits, k, tokens.low):
            continue
        after = hits[k + 1] if k + 1 < len(hits) and hits[k + 1].first - hit.last < 2 else None
        before = hits[k - 1] if k and tokens.low[hits[k - 1].last : hit.first] in _TO else None
        if tokens.low[hit.last : hit.last + 1] in _TOLD_OF_PLATE or any(
            said is not None
            and (
                (said.side == "state" and said.entry.value.kind in _OF_A_COAT)
                or (said.side == "puff" and said is after)
            )
            for said in (after, before)
        ):
            hit.choose(Entry("part", TermValue(term="plating", kind="part")))


def _set_off_behind_a_thing(hits: list[Hit], k: int, low: list[str]) -> bool:
    """ "..., 28 cm long, plate rubbed": alone between a comma and its wear, behind another thing than a plate."""
    hit = hits[k]
    things = [h.entry.value.term for h in hits[:k] if h.side == "object"]
    worn = k + 1 < len(hits) and hits[k + 1].first == hit.last and hits[k + 1].entry.value.kind == "wear"
    return low[hit.first - 1] in ",;.(" and bool(things) and worn and not any("plate" in t for t in things)


_TOLD_OF_PLATE: tuple[list[str], ...] = tuple(
    [word]
    for word in ("thin", "gone", "tired", "bright", "sound", "excellent", "fair", "patchy", "lifting", "a")
)
_TO: tuple[list[str], ...] = ([], ["to"], ["to", "the"], ["in"], ["on"])


def _leave_out(hits: list[Hit], gone: Collection[int]) -> None:
    if gone:
        hits[:] = [hit for k, hit in enumerate(hits) if k not in gone]
