"""Which sense a word has where it stands: part or thing, ornament or sculpture, substance or shape, by the words beside it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from planish.reasoning.reading.hits import Hit, is_material
from planish.reasoning.reading.lexicon import Entry, Lexicon
from planish.reasoning.reading.small_words import settle_small_words
from planish.reasoning.reading.terms.phrasing.ornament import amid_ornament, head_of_a_beast
from planish.reasoning.reading.tokens import LOWER, Tokens
from planish.records import TermValue


def choose_senses(hits: list[Hit], tokens: Tokens, lexicon: Lexicon) -> None:
    """Settle words with more than one sense by what stands beside them."""
    object_seen, material_seen = "", False
    low = tokens.low
    for k, hit in enumerate(hits):
        word = low[hit.first]
        if hit.side in ("count", "mark"):
            settle_small_words(hit, hits[k - 1] if k else None, tokens, lexicon)
        if (word in _WEARERS and _for_wearers(hit, hits[k + 1] if k + 1 < len(hits) else None)) or (
            word in _MOVES and k and hits[k - 1].last == hit.first and hits[k - 1].side == "part"
        ):
            hit.side = "coat"
        elif word == "bears" and _is_verb(hit, hits[k - 1] if k else None, tokens):
            hit.choose(Entry("joins", TermValue(term="with", kind="joins")))
        elif len(hit.entries) == 1:
            _reread(hit, hits, k, tokens, lexicon)
        elif hit.side != "coat":
            follower = _described(hits, k, low)
            before = hits[k - 1] if k and hits[k - 1].last == hit.first else None
            hit.choose(_choose(hit, before, follower, object_seen, material_seen, tokens, lexicon))
        if word in _LOOKED_AT_AGAIN or hit.side == "style":
            _look_again(word, hits, k, object_seen, tokens, lexicon)
        if hit.side == "object":
            object_seen = hit.entry.value.kind or "thing"
        material_seen = material_seen or (
            hit.side == "material" and low[hit.last : hit.last + 1] not in _FITTED
        )


_LOOKED_AT_AGAIN = frozenset(
    {"round", "inside", "outside", "underneath", "beneath", "oil", "ink", "head", "heads", "filled"}
)


def _look_again(
    word: str, hits: list[Hit], k: int, object_seen: str, tokens: Tokens, lexicon: Lexicon
) -> None:
    """Words whose chosen sense hangs on more than their neighbours: "round the rim", "inside the lid", "oil can"."""
    hit, before = hits[k], hits[k - 1] if k else None
    if word == "round" and hit.side == "form" and before is not None and _goes_round(before, hit):
        hit.choose(_ROUND)
    if hit.side == "style":
        _of_some_form(hit, before, tokens, lexicon)
    elif word in _INSIDE and hit.last - hit.first == 1 and _tells_where(hit, before, tokens):
        hit.side = "coat"
    if word in ("oil", "ink"):
        _hold_oil(hits, k)
    stands = word == "filled" and object_seen == "lighting" and hit.side == "state"
    if stands and tokens.low[hit.first - 1 : hit.last + 1] in _FILLED:
        hit.choose(_LOADED)  # "candlesticks, filled"
    if object_seen and word in ("head", "heads") and hit.side == "object":
        head_of_a_beast(hit, tokens)


def _reread(hit: Hit, hits: list[Hit], k: int, tokens: Tokens, lexicon: Lexicon) -> None:
    """Words of one sense whose neighbours change it."""
    low, side = tokens.low, hit.side
    if side in _PIECES and low[hit.last - 1] in _PIECES[side]:
        _as_piece(hit, hits, k, low)
    elif side == "puff":
        after = hits[k + 1] if k + 1 < len(hits) else None
        if after is not None and after.first == hit.last and after.entry.value.kind in _SPOILT:
            hit.side = "coat"
    elif side == "mark" and low[hit.last - 1].endswith("marked"):
        after = hits[k + 1] if k + 1 < len(hits) else None
        hit.verb = after is not None and after.first == hit.last and after.side in _DESCRIBED
    elif side == "mark" and low[hit.first] == "made" and low[hit.first - 1] in _TOLD:
        _as_place(hit, tokens, lexicon)
    elif side == "inscription" and low[hit.last - 1] == "presentation":
        if hit.last < len(low) and low[hit.last].isalpha() and low[hit.last] not in lexicon.function:
            hit.choose(Entry("form", TermValue(term="presentation", kind="form")))
    elif side == "form" and low[hit.first] in ("shaped", "scroll"):
        _shaped_like(hit, hits, k, tokens, lexicon)
    elif low[hit.last - 1] in _TOLD_BESIDE and (_names_a_place(hit, hits, k) or _says_how(hit, hits, k, low)):
        hit.side = "coat"
    elif side == "decoration" and hit.entry.value.term == "gem-set" and low[hit.last - 1] == "with":
        stones = any(
            e.value.kind in _STONES and e.value.term != "hair" for h in hits[k + 1 : k + 4] for e in h.entries
        )
        if not stones:
            hit.choose(Entry("decoration", TermValue(term="inset", kind="worked")))


def _as_piece(hit: Hit, hits: list[Hit], k: int, low: list[str]) -> None:
    """ "one glass cracked", "with a later glass", "blue glass inset replaced", "one foot soldered": a piece of its own, and
    what befell one."""
    before = hits[k - 1] if k and hits[k - 1].last == hit.first else None
    if hit.side == "material":
        told = k + 1 < len(hits) and hits[k + 1].first == hit.last and hits[k + 1].side == "state"
        opened = before is not None and before.side == "state" and low[before.first - 1] in _BEFORE_A_PIECE
        pane = opened and (told or _clause_ends(hit, low))
        if pane or (k + 1 < len(hits) and _is_a_pane(hit, hits[k + 1], low)):
            hit.choose(_PANE)
    elif (
        hit.side == "technique"
        and _clause_ends(hit, low)
        and _told_of_a_part(hit, hits[k - 1] if k else None, low)
    ):
        hit.choose(_MENDED)
    elif (
        before is not None
        and before.side == "material"
        and hit.side == "decoration"
        and low[hit.last : hit.last + 1] != ["with"]
    ):
        hit.choose(_INSET)


_BEFORE_A_PIECE = frozenset({"a", "the", "its", "one", "with", "and"})


def _told_of_a_part(hit: Hit, before: Hit | None, low: list[str]) -> bool:
    """ "one foot soldered", "the rail has been soldered"."""
    between = low[before.last : hit.first] if before is not None else ["."]
    return (
        before is not None
        and before.side == "part"
        and between in ([], ["is"], ["has", "been"], ["was"], ["re"])
    )


def _is_a_pane(glass: Hit, said: Hit, low: list[str]) -> bool:
    """ "one glass cracked", "the glass is later": counted or pointed at, and told of, it is a piece of its own."""
    told = low[glass.last : said.first] in ([], ["is"], ["are"], ["has", "been"])
    return told and said.side == "state" and low[glass.first - 1] in _POINTS and glass.first > 0


def _clause_ends(hit: Hit, low: list[str]) -> bool:
    return hit.last >= len(low) or low[hit.last] in _STOPS


_INSET = Entry("part", TermValue(term="inset", kind="part"))
""" "blue glass inset replaced": a noun behind its substance."""
_PANE = Entry("part", TermValue(term="glass", kind="part"))
_POINTS = frozenset(
    {"one", "two", "both", "a", "the", "its", "front", "side", "top", "back", "three", "four"}
)
_PIECES = {
    "material": frozenset({"glass"}),
    "technique": frozenset({"soldered", "brazed", "welded", "glued"}),
    "decoration": frozenset({"inset"}),
}
"""Words that may be a piece, or a repair of one, by the side they are usually on."""
_MENDED = Entry("state", TermValue(term="repaired", kind="restored"))


_FILLED = ([",", "filled"], [",", "filled", ","], [",", "filled", "."], [",", "filled", ";"])
_LOADED = Entry("form", TermValue(term="loaded", kind="form"))
"""What stands for itself beside candlesticks: their feet hold pitch or plaster."""


def _of_some_form(hit: Hit, before: Hit | None, tokens: Tokens, lexicon: Lexicon) -> None:
    """ "melon form": the noun before belongs to the word; behind anything else it says nothing."""
    if tokens.low[hit.first] != "form" or hit.last - hit.first > 1:
        return
    i = hit.first - 1
    if before is not None and before.last == hit.first:
        if before.side == "decoration" and not tokens.low[i].endswith(("ed", "ing")):
            shape = " ".join(tokens.low[before.first : before.last])
            before.last, hit.side = hit.last, "coat"
            before.choose(Entry("form", TermValue(term=f"{shape} form", kind="form")))
        return
    noun = tokens.low[i] if i >= 0 else ""
    if noun.isalpha() and len(noun) > 2 and noun not in lexicon.function:
        hit.first = i
        hit.choose(Entry("form", TermValue(term=f"{noun} form", kind="form")))
    else:
        hit.side = "coat"


def _for_wearers(hit: Hit, after: Hit | None) -> bool:
    """ "Ladies silver purse": whom it is for, and no figure of one."""
    follows = after is not None and after.first == hit.last
    return follows and after is not None and after.side in ("material", "object", "surface", "form")


def _names_a_place(hit: Hit, hits: list[Hit], k: int) -> bool:
    """ "Dug up in a garden": such a word is a form only right before the thing ("garden urn")."""
    alone = k + 1 == len(hits) or hits[k + 1].first != hit.last
    return hit.side == "form" and hit.entry.value.term in ("garden", "table") and alone


_MOVES = frozenset({"swivels", "pivots", "screws", "hinges", "locks", "slides", "folds"})
""" "handle swivels", "lid hinges": verbs behind the part that moves."""
_WEARERS = frozenset({"ladies", "gentlemen", "gentleman", "boys", "girls", "children"})


def _is_verb(hit: Hit, before: Hit | None, tokens: Tokens) -> bool:
    """ "jug, bears old labels": behind a stop or the thing itself no animals, when words follow."""
    if hit.last - hit.first > 1:
        return False
    i = hit.first - 1
    after = tokens.low[hit.last] if hit.last < len(tokens) else "."
    told = before is not None and before.last == hit.first and before.side in ("object", "part")
    return i >= 0 and (told or tokens.low[i] in ",;.") and after[0].isalpha() and after != "and"


_TWISTED = frozenset({"inlay", "stringing", "banding", "border", "edge", "edging", "moulding", "rim"})
_BESIDE = {
    "complete": (["the"], ["this"], ["a"], ["an"]),
    "later": (["been"], ["became"]),
    "true": (["to"],),
    "hanging": (["from"], ["down"], ["below"], ["beneath"]),
    "brushed": (["in"], ["with"], ["on"]),
}
""" "Swags hanging from the beak", "brushed in cobalt": verbs of a clause, no shape and no finish of the thing."""
_INSIDE = frozenset({"inside", "outside", "underneath", "beneath"})


def _tells_where(hit: Hit, before: Hit | None, tokens: Tokens) -> bool:
    """ "Two compartments inside", "mirror inside cracked": behind a thing or a part the word tells where it is."""
    follows = before is not None and before.last == hit.first and before.side in ("object", "part")
    after = tokens.low[hit.last : hit.last + 1]
    return follows and (not after or after[0] not in ("of", "the", "with"))


def _says_how(hit: Hit, hits: list[Hit], k: int, low: list[str]) -> bool:
    """Verbs of a clause; the rope of "ebony rope inlay"; "pendant fruit", which hangs down and is no jewel."""
    word = low[hit.last - 1]
    if word in _BESIDE:
        return low[hit.last : hit.last + 1] in _BESIDE[word]
    after = hits[k + 1] if k + 1 < len(hits) and hits[k + 1].first == hit.last else None
    if after is None or word not in ("rope", "pendant"):
        return False
    return after.entry.value.term in _TWISTED if word == "rope" else after.side in ("decoration", "part")


_TOLD_BESIDE = frozenset({*_BESIDE, "rope", "pendant", "garden", "table"})
_TOLD = frozenset({"was", "were", "is", "are", "been"})


def _as_place(hit: Hit, tokens: Tokens, lexicon: Lexicon) -> None:
    """ "The jug was made in Germany" tells of no mark."""
    node = lexicon.root.get(tokens.low[hit.last - 1])
    place = next((entry for entry in node.entries if entry.side == "place"), None) if node else None
    if place is not None and hit.first:
        hit.choose(place)
        hit.first = hit.last - 1


_SPOILT = frozenset({"damage", "wear", "corrosion", "restored"})
_STONES = frozenset({"gem", "stone", "organic", "glass", "enamel"})


def _shaped_like(hit: Hit, hits: list[Hit], k: int, tokens: Tokens, lexicon: Lexicon) -> None:
    """ "lighthouse shaped", "apple-shaped": the noun before tells the shape, and names no thing of its own."""
    if tokens.low[hit.first] == "scroll":
        if amid_ornament(hits, k, tokens.low):
            hit.choose(lexicon.root["scrollwork"].entries[0])
        return
    i = hit.first - 1
    if i < 0 or not tokens.low[i].isalpha() or tokens.sentence[i] != tokens.sentence[hit.first]:
        return
    noun, before = tokens.low[i], hits[k - 1] if k else None
    known = before is not None and before.last == hit.first
    if known and before is not None:
        if before.side not in ("object", "part", "decoration") or noun.endswith("ed"):
            return
        noun = " ".join(tokens.low[before.first : before.last])
        before.last, hit.side = hit.last, "coat"
        hit = before
    elif noun.endswith("ly") or noun in lexicon.function or noun in ("well", "nicely", "oddly"):
        return
    else:
        hit.first = i
    hit.choose(Entry("form", TermValue(term=f"{noun}-shaped", kind="form")))


_FITTED = (["mounted"], ["bound"], ["handled"], ["lined"], ["mounts"])
"""After these the substance of the thing itself is still to come: "bronze-mounted serpentine tazza"."""
_ROUND = Entry("joins", TermValue(term="on"))


def _goes_round(before: Hit, hit: Hit) -> bool:
    """ "Inscription round rim": after what stands on the rim the word tells where."""
    return (
        before.last == hit.first
        and before.side in ("decoration", "inscription", "mark")
        and before.entry.noun
    )


def _hold_oil(hits: list[Hit], k: int) -> None:
    """ "oil can", "ink bottle": the oil and the ink are what the thing holds, unless it is a picture."""
    if (
        hits[k].entry.value.term not in ("oil paint", "ink")
        or k + 1 == len(hits)
        or hits[k + 1].first != hits[k].last
    ):
        return
    after = hits[k + 1]
    if after.side in ("object", "part") and after.entry.value.kind != "pictures and books":
        hits[k].side = "coat"


_DESCRIBED = frozenset({"object", "material", "surface", "technique"})
_TOLD_OF_PARTS = frozenset(
    {"material", "technique", "decoration", "surface", "state", "puff", "form", "count", "part"}
)
_DESCRIBES = frozenset({"material", "technique", "decoration", "surface", "state", "puff", "form"})


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


def _described(hits: list[Hit], k: int, low: list[str]) -> Hit | None:
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


def _choose(
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
        after in _STOPS,
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


_STOPS = frozenset({"", ",", ".", ";", ")", "\n"})
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
