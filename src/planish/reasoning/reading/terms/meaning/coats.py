"""Substances that are no part of the thing itself: worn off, gone, let in by a repair, laid on later."""

from itertools import pairwise

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.terms.meaning.parts import BRIDGES, CLAUSE


def settle_coats(hits: list[Hit], low: list[str]) -> None:
    """ "Lacquer worn", "tin rubbed", "rope lost": what is worn off or gone is no material of the thing."""
    metal = made = False
    for one, other in pairwise(hits):
        if one.side == "material" and other.side == "state" and _partly(low[one.last : other.first]):
            if one.part:
                other.part = other.part or one.part
            elif _is_gone(one, other, metal and low[one.first - 1 : one.first] in _SET_APART, metal):
                one.side, other.part = "coat", one.entry.value.term
                continue
        made = made or metal or one.side == "surface"
        one.part = one.part or _of_the_ornament(one, other, low, made)
        if one.side == "surface" and other.side == "puff" and one.last == other.first and not other.part:
            other.part = one.part or one.entry.value.kind  # "gilding original"
        if one.side != "state" and other.side != "state":
            metal = metal or _is_metal(one)
            continue
        if _is_limb(one, other, low):
            other.part, one.side = one.entry.value.term, "coat"
            continue
        if metal and _worn_to(one, other, low):
            below = other.entry.value.kind in _BELOW
            one.part, other.side = one.part or ("" if below else other.entry.value.term), "coat"
            continue
        if _mended_with(one, other, low):
            other.part = "lining" if one.entry.value.term == "relined" else one.part or "repair"
            continue
        if _lost_stuff(one, other, low) or _worn_stuff(one, other, low):
            other.side, one.part = "coat", other.entry.value.term
            continue
        if one.side == "state" and other.side == "surface" and _of_the_coat(one, other, low):
            within = other.part in ("", "inside", "outside")
            one.part = other.entry.value.kind if within else other.part
        _wear_of_a_coat(one, other, low)
        metal = metal or _is_metal(one)


def _of_the_coat(state: Hit, coat: Hit, low: list[str]) -> bool:
    """ "wear to the gilding", "loss to patina", "worn patina"."""
    between = low[state.last - 1 : coat.first]
    if between[-1:] == ["to"] or between[-2:] in (["to", "the"], ["of", "the"], ["in", "the"]):
        return True
    worn = state.last == coat.first and state.entry.value.kind in ("wear", "damage")
    return worn and low[coat.last - 1] in (
        "patina",
        "gilding",
        "plating",
        "silvering",
        "lacquer",
        "tinning",
        "finish",
        "polish",
    )


def _partly(between: list[str]) -> bool:
    """ "silver gone", "silver partly gone"."""
    return not between or (
        len(between) == 1 and between[0] in ("partly", "mostly", "largely", "nearly", "almost", "much", "all")
    )


def _wear_of_a_coat(one: Hit, other: Hit, low: list[str]) -> None:
    """ "gilding worn", "japanning partly rubbed": the state is the coat's."""
    if one.side == "surface" and other.side == "state" and not one.part and _right_behind(one, other, low):
        painted = one.entry.value.term.startswith("painted")
        told = low[one.last - 1]
        other.part = other.part or (
            "paint" if painted else told if told == "japanning" else one.entry.value.kind
        )


def _is_metal(hit: Hit) -> bool:
    return hit.side == "material" or (hit.side == "surface" and hit.entry.value.kind == "plating")


def _right_behind(one: Hit, other: Hit, low: list[str]) -> bool:
    """ "gilding worn", "gilding partly worn", "tinning is thin"."""
    between = low[one.last : other.first]
    return len(between) < 3 and all(word.endswith("ly") or word in _LITTLE for word in between)


_LITTLE = frozenset(
    {
        "is",
        "now",
        "a",
        "rather",
        "quite",
        "very",
        "much",
        "bit",
        "little",
        "almost",
        "somewhat",
        "has",
        "all",
        "but",
    }
)


def _is_gone(stuff: Hit, said: Hit, apart: bool, metal: bool) -> bool:
    """What the state says is gone, worn off, or of a part: paint, tin on copper, the glass set apart by a comma."""
    value, state = stuff.entry.value, said.entry.value
    if state.term in ("missing", "hole", "present") and (apart or state.term != "present"):
        return True
    if apart and value.kind in _STUFF:
        return True
    coat = value.kind == "paper and paint" or apart or (metal and value.term in _COATS)
    return coat and state.kind in ("wear", "damage", "refinished", "corrosion")


_SET_APART = tuple([stop] for stop in (*",;.(\n&", "and"))


def _of_the_ornament(coat: Hit, shown: Hit, low: list[str], metal: bool) -> str:
    if _gilt_ornament(coat, shown, low):
        return "decoration"
    return shown.entry.value.term if metal and _in_gold(coat, shown, low) else ""


def _gilt_ornament(coat: Hit, shown: Hit, low: list[str]) -> bool:
    """ "with gilt chinoiserie", "in gilt scrolls": the gilding is of the ornament."""
    return (
        coat.side == "surface"
        and shown.side == "decoration"
        and not coat.part
        and shown.first == coat.last
        and low[coat.first - 1 : coat.first] in (["with"], ["in"])
        and not low[shown.last - 1].endswith(("ed", "é", "e"))
    )


def _in_gold(stuff: Hit, shown: Hit, low: list[str]) -> bool:
    """ "Tole tray, gold chinoiserie": what is drawn in gold on another substance is not of gold."""
    return (
        stuff.side == "material"
        and (stuff.entry.value.term in ("gold", "silver") or low[stuff.first - 1 : stuff.first] == ["with"])
        and not stuff.part
        and shown.side == "decoration"
        and shown.first == stuff.last
        and not low[shown.last - 1].endswith("ed")
    )


def _is_limb(limb: Hit, state: Hit, low: list[str]) -> bool:
    """ "one hand restored": counted and damaged, it is a part of the figure and no ornament."""
    counted = limb.first > 0 and low[limb.first - 1] in ("one", "two", "both", "left", "right")
    shown = limb.side == "decoration" and (
        limb.entry.value.kind == "motif" or limb.entry.value.term == "shell"
    )
    apart = limb.first > 0 and low[limb.first - 1] in ",;.(" and low[limb.last - 1] == limb.entry.value.term
    counted = counted or (apart and state.entry.value.kind in ("damage", "replaced"))
    return shown and counted and state.side == "state" and state.first == limb.last


_DOWN_TO = (
    ["to"],
    ["to", "the"],
    ["to", "bare"],
    ["to", "the", "bare"],
    ["through", "to"],
    ["through", "to", "the"],
    ["down", "to"],
    ["down", "to", "the"],
)


def _worn_to(state: Hit, stuff: Hit, low: list[str]) -> bool:
    """ "Chip to enamel", "losses to paint", "handles worn to brass": where the damage is, no further substance of the whole."""
    if state.side != "state" or stuff.side != "material" or low[state.last : stuff.first] not in _DOWN_TO:
        return False
    value = state.entry.value
    return value.term == "missing" or value.kind in ("wear", "damage", "corrosion")


def _mended_with(state: Hit, stuff: Hit, low: list[str]) -> bool:
    """ "relined with tin", "patched in copper", "replaced by ebony": the new stuff is not what the thing was made of."""
    between = low[state.last : stuff.first]
    return (
        state.side == "state"
        and stuff.side == "material"
        and not stuff.part
        and state.entry.value.kind in ("restored", "replaced")
        and between in (["with"], ["in"], ["by"], ["using"], ["w"], ["w", "."], ["w", "/"])
    )


def _lost_stuff(state: Hit, stuff: Hit, low: list[str]) -> bool:
    """ "some loss of paint to the tail", "losses of enamel": what has gone there is no substance of the whole."""
    lost = low[state.last - 1] == "of" or low[state.last : stuff.first] == ["of"]
    named = not _LOST.isdisjoint(low[state.first : state.last])
    return (
        state.side == "state"
        and stuff.side in ("material", "surface")
        and lost
        and named
        and stuff.first - state.last < 2
    )


_LOST = frozenset({"loss", "losses"})


def _worn_stuff(state: Hit, stuff: Hit, low: list[str]) -> bool:
    """ "worn paint", "cracked glass" at the end of a clause: the stuff is what the state is said of, not the thing's own."""
    ends = stuff.last >= len(low) or low[stuff.last] in CLAUSE
    return (
        state.side == "state"
        and stuff.side == "material"
        and (state.last == stuff.first or _later_paint(state, stuff, low))
        and ends
        and not stuff.part
        and (
            state.entry.value.kind in ("wear", "damage", "corrosion", "refinished")
            or _later_paint(state, stuff, low)
        )
        and stuff.entry.value.kind in _STUFF
    )


def _later_paint(state: Hit, stuff: Hit, low: list[str]) -> bool:
    """ "later paint", "later black paint": the paint is later, not the thing; at most its colour stands between."""
    between = low[state.last : stuff.first]
    return (
        state.entry.value.term == "later"
        and stuff.entry.value.kind == "paper and paint"
        and (not between or (len(between) == 1 and between[0].isalpha() and between[0] not in BRIDGES))
    )


_BELOW = frozenset({"copper", "copper alloy", "iron", "tin alloy", "zinc alloy"})
"""What comes to light when a coat is worn through: the wear is of the coat."""
_ASKED = frozenset({"material", "place", "part", "object", "form", "technique", "surface", "decoration"})
_STUFF = frozenset({"glass", "paper and paint", "textile", "organic", "enamel", "plastic"})
_COATS = frozenset({"tin", "silver", "gold", "nickel", "chrome"})
