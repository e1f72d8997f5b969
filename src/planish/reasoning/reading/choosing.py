"""The sense of a word that has several, chosen by what stands beside it: thing or ornament, part or substance, shape or thing."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from planish.reasoning.reading.hits import Hit, is_material
from planish.reasoning.reading.lexicon import Entry, Lexicon
from planish.reasoning.reading.tokens import LOWER, Tokens

_DESCRIBED = frozenset({"object", "material", "surface", "technique"})
_TOLD_OF_PARTS = frozenset(
    {"material", "technique", "decoration", "surface", "state", "puff", "form", "count", "part"}
)


@dataclass(slots=True, eq=False)
class _Beside:
    """What stands around a word of more than one sense. `capital` is its own, `ends` True when its phrase ends with
    it, `stops` when a stop or nothing follows, `object_seen` the kind of the thing last named, `made` before a word such as "handled", `more` before "and" with a substance, `numbered` after a number, `alone` where its line ends with it, `pointed` behind "to" or "the"."""

    before: Hit | None
    follower: Hit | None
    object_seen: str
    material_seen: bool
    capital: int
    ends: bool
    stops: bool
    made: bool
    more: bool
    numbered: bool
    alone: bool
    pointed: bool = False

    @property
    def describes(self) -> bool:
        """True when a thing or part comes right after."""
        return self.follower is not None and any(e.side in ("object", "part") for e in self.follower.entries)


def described(hits: list[Hit], k: int, low: list[str]) -> Hit | None:
    """What comes right after the word, or after one more ornament: "mask and scroll spandrels"."""
    last, after = hits[k].last, hits[k + 1] if k + 1 < len(hits) else None
    if after is None or after.first == last:
        return after
    noun = hits[k + 2] if k + 2 < len(hits) else None
    joined = (
        after.first == last + 1
        and low[last] in ("and", "&")
        and noun is not None
        and noun.first == after.last
    )
    shown = joined and any(e.side in ("decoration", "form") for e in after.entries)
    return noun if shown and noun is not None and noun.side == "part" else None


def choose(
    hit: Hit,
    before: Hit | None,
    follower: Hit | None,
    object_seen: str,
    material_seen: bool,
    tokens: Tokens,
    lexicon: Lexicon,
) -> Entry:
    by_side = {entry.side: entry for entry in hit.entries}
    after = tokens.low[hit.last] if hit.last < len(tokens) else ""
    beside = _Beside(
        before,
        follower,
        object_seen,
        material_seen,
        tokens.cap[hit.first],
        not after or after in lexicon.function or not after[0].isalpha(),
        after in STOPS,
        after in lexicon.makes,
        after in ("and", "&") and is_material(tokens, hit.last + 1, lexicon),
        hit.first > 0
        and (tokens.low[hit.first - 1] in lexicon.numbers or tokens.low[hit.first - 1].isdecimal()),
        after in ("", "\n"),
        hit.first > 0
        and after not in ("of", "for")
        and tokens.low[hit.first - 1] in ("to", "the", "both", "its", "on"),
    )
    for one, other, settle in _BETWEEN:
        if one in by_side and other in by_side and (side := settle(by_side, beside)):
            return by_side[side]
    if "count" in by_side and "provenance" in by_side:
        counted = (
            tokens.low[hit.last] in lexicon.numbers or tokens.low[hit.last][0].isdigit() if after else False
        )
        owned = after in ("a", "an", "the", "his", "her", "my", "our")  # "collection of a Devon clergyman"
        large = tokens.cap[hit.last : hit.last + 1] not in ([], [LOWER])
        named = (large or owned) and hit.first > 0 and not counted
        return by_side["provenance" if named else "count"]
    for side in _ORDER:
        if side in by_side:
            return by_side[side]
    return hit.entries[0]


_Senses = Mapping[str, Entry]


def _ornament(_senses: _Senses, beside: _Beside) -> str:
    """ "Owl, bronze" is a thing; "owl finial", "engraved with an owl" show one."""
    after_ornament = beside.before is not None and beside.before.side == "decoration"
    return "decoration" if beside.object_seen or beside.describes or after_ornament else "object"


def _limb_or_ornament(senses: _Senses, beside: _Beside) -> str:
    """ "six arms", "sliding arms" hold candles or glasses; any other arms are heraldry. A leaf is one of a table."""
    before = beside.before
    broken = beside.follower is not None and beside.follower.side == "state"
    told = beside.numbered and senses["part"].value.term not in _LIVING
    if senses["part"].value.term == "pointer" and beside.object_seen not in ("clocks", "instruments"):
        return "decoration"
    if told or (broken and beside.object_seen in ("sculpture", "religious")):
        return "part"
    if senses["part"].value.term in _OF_ARMOUR:
        return "part" if beside.object_seen == "arms" else "decoration"
    if senses["part"].value.term == "leaf":
        of_horn = before is not None and before.side == "material" and before.entry.value.kind == "organic"
        return "part" if of_horn or beside.object_seen == "furniture" else "decoration"
    if before is None:
        return "part" if beside.object_seen == "lighting" and beside.pointed else "decoration"
    lit = beside.object_seen == "lighting" and before.entry.value.term not in _DRAWN
    made = before.side == "material" and senses["part"].value.term == "rosette"
    told = made or beside.object_seen == "clocks" or before.side in ("count", "form")
    return "part" if lit or told else "decoration"


STOPS = frozenset({"", ",", ".", ";", ")", "\n"})
_LIVING = frozenset({"leaf", "pointer"})
"""Parts that are leaves and dogs elsewhere, whatever their number."""
_OF_ARMOUR = frozenset({"skull"})
"""Parts of a helmet that are something else on anything but armour."""
_DRAWN = frozenset({"engraved", "chased", "painted", "inscribed", "etched", "embossed"})


def _part_or_thing(senses: _Senses, beside: _Beside) -> str:
    """ "lid" is a part once a thing is named; a comb is one only of a helmet."""
    armour = senses["part"].value.term != "comb" or beside.object_seen == "arms"
    return "part" if beside.object_seen and armour else "object"


def _shape_or_thing(_senses: _Senses, beside: _Beside) -> str:
    if beside.follower is None:
        return ""
    return "form" if any(e.side in _DESCRIBED for e in beside.follower.entries) else "object"


def _shape_or_substance(_senses: _Senses, beside: _Beside) -> str:
    """ "Serpentine brass fender": the substance is told right after."""
    after = beside.follower
    told = after is not None and (after.side == "material" or after.entry.value.kind in _BENT)
    if beside.ends and after is None and beside.object_seen and beside.object_seen not in _BENT:
        return "material"
    return "form" if beside.material_seen or beside.object_seen in _BENT or told else ""


_BENT = frozenset({"hearth", "furniture"})
"""Kinds of things whose fronts are serpentine; a serpentine vase is of the stone (common practice, no source)."""


def _ornament_or_substance(senses: _Senses, beside: _Beside) -> str:
    """ "silver vase chased with bamboo" shows it; "bamboo handle" is of it."""
    if senses["decoration"].value.term == "ribbons":
        return "decoration" if beside.object_seen and not beside.describes else "material"
    if senses["decoration"].value.kind == "motif":
        return "decoration" if beside.material_seen and not beside.describes else "material"
    of_part = beside.follower is not None and beside.follower.entries[0].side == "part"
    return "decoration" if beside.material_seen or of_part else ""


def _part_or_substance(_senses: _Senses, beside: _Beside) -> str:
    described = beside.numbered or (beside.before is not None and beside.before.side in _TOLD_OF_PARTS)
    return "part" if described and beside.object_seen else "material"


def _thing_or_substance(senses: _Senses, beside: _Beside) -> str:
    if beside.made or (beside.more and not beside.object_seen):
        return "material"
    if senses["material"].value.kind == "paper and paint":
        return "object" if beside.object_seen else "material"
    return "object" if not beside.object_seen and not beside.describes and beside.ends else "material"


_BETWEEN: tuple[tuple[str, str, Callable[[_Senses, _Beside], str]], ...] = (
    (
        "place",
        "material",
        lambda senses, beside: (
            "material"
            if beside.describes and (beside.capital != 1 or senses["material"].value.term == "delftware")
            else "place"
        ),
    ),
    ("part", "object", _part_or_thing),
    ("object", "place", lambda _, beside: "object" if beside.alone and not beside.object_seen else "place"),
    ("part", "decoration", _limb_or_ornament),
    ("object", "decoration", _ornament),
    ("form", "object", _shape_or_thing),
    ("material", "form", _shape_or_substance),
    ("material", "decoration", _ornament_or_substance),
    ("material", "part", _part_or_substance),
    ("material", "object", _thing_or_substance),
    # "polished, lightly scratched, ..." is wear; "scratched 'A.B.'" is lettering
    ("state", "inscription", lambda _, beside: "state" if beside.stops else ""),
)
"""Two senses of one word and what settles between them; an empty answer leaves it to the order below."""


_ORDER = (
    "qualifier",
    "negator",
    "mark",
    "inscription",
    "material",
    "decoration",
    "state",
    "style",
    "technique",
    "surface",
    "part",
    "object",
    "form",
    "provenance",
    "evidence",
    "puff",
    "count",
)
