"""Which sense a word has where it stands: part or thing, ornament or sculpture, substance or shape, by the words beside it."""

from planish.reasoning.reading.choosing import STOPS, choose, described
from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Entry, Lexicon
from planish.reasoning.reading.small_words import settle_small_words
from planish.reasoning.reading.terms.phrasing.ornament import amid_ornament, head_of_a_beast
from planish.reasoning.reading.tokens import Tokens
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
            follower = described(hits, k, low)
            before = hits[k - 1] if k and hits[k - 1].last == hit.first else None
            hit.choose(choose(hit, before, follower, object_seen, material_seen, tokens, lexicon))
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
    return hit.last >= len(low) or low[hit.last] in STOPS


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
_DESCRIBES = frozenset({"material", "technique", "decoration", "surface", "state", "puff", "form"})
