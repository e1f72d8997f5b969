"""Words that describe a dent, a repair or a mark and not the thing that has it."""

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Lexicon
from planish.reasoning.reading.terms.meaning.shapes import COLOURS
from planish.reasoning.reading.tokens import Tokens

_ITS_OWN = frozenset({"form", "count", "puff"})
_OTHER_ONE = (["other", "of", "the"], ["other", "of", "a"], ["one", "of", "the"])
_SET_OF = (["(", "of"], ["(", "ex"], ["(", "from"], ["one", "of"])
""" "five bells (of eight)": how many there once were."""
_SUFFIXES = ("ly", "ed", "ing")


def settle_damage(hits: list[Hit], tokens: Tokens, lexicon: Lexicon) -> None:
    """ "five small tears", "a large touch", "small area of wear": the size and number are of the tears, the touch, the area."""
    low = tokens.low
    named = False
    for k, hit in enumerate(hits):
        if hit.side == "object":
            named = True
        elif hit.side == "mark" or (hit.side == "state" and names_work(low[hit.last - 1])):
            _describes(hits, k)
        elif (hit.side == "material" and hit.entry.value.kind == "paper and paint" and named) or (
            hit.side == "surface"
            and low[hit.last - 1] in _COATINGS
            and hits[k - 1].entry.value.kind != "wild"
        ):
            _of_the_paint(hits[k - 1], hit, low)
        elif named and _of_something_else(hit, hits, k, tokens, lexicon):
            hit.side = "coat"
            _with_its_number(hit, hits[k + 1] if k + 1 < len(hits) else None, tokens)


def _of_something_else(hit: Hit, hits: list[Hit], k: int, tokens: Tokens, lexicon: Lexicon) -> bool:
    """ "eleven-bolt lock", "an old Dorset family", "the other of the pair", "a small area"."""
    kind = hit.entry.value.kind
    if hit.side == "count":
        if kind == "number" and _glued(hit, tokens):
            return True
        if tokens.low[max(0, hit.first - 3) : hit.first] in _OTHER_ONE:
            return True
        if tokens.low[max(0, hit.first - 2) : hit.first] in _SET_OF:
            return True
    told = (
        hit.side == "form"
        or (hit.side == "puff" and kind != "wild")
        or (hit.side == "count" and kind == "single")
    )
    if hit.side == "puff" and _before_a_colour(hit, tokens.low):
        return True
    return told and _before_a_noun(hit, hits, k, tokens, lexicon)


def _before_a_colour(hit: Hit, low: list[str]) -> bool:
    """ "Black over original green": the colour is original, where no noun follows it."""
    after = low[hit.last + 1 : hit.last + 2]
    return (
        low[hit.last : hit.last + 1] != []
        and low[hit.last] in COLOURS
        and (not after or not after[0].isalpha())
    )


def _with_its_number(count: Hit, after: Hit | None, tokens: Tokens) -> None:
    """ "Four-screw levelling", "a five-leaf hinge": tied to its number, the part only tells of what sort the next noun is."""
    tied = count.side == "coat" and _glued(count, tokens) and after is not None and after.first == count.last
    single = after is not None and not tokens.low[after.last - 1].endswith("s")
    if tied and single and after is not None and after.side in ("part", "object"):
        after.side = "coat"


def _glued(hit: Hit, tokens: Tokens) -> bool:
    """The eleven of "eleven-bolt lock"."""
    return hit.last < len(tokens) and tokens.text[tokens.end[hit.last - 1] : tokens.start[hit.last]] == "-"


def _describes(hits: list[Hit], k: int) -> None:
    at = hits[k].first
    for hit in reversed(hits[max(0, k - 3) : k]):
        star = hit.side == "decoration" and hit.entry.value.term == "star"  # a star crack
        if hit.side == "material" and hit.last == at and hits[k].entry.value.kind == "restored":
            at = hit.first  # "an old lead repair"
            continue
        if hit.last != at or not (star or hit.side in _ITS_OWN):
            break
        hit.side, at = "coat", hit.first


def _of_the_paint(before: Hit, paint: Hit, low: list[str]) -> None:
    """ "old black paint": the paint is old; at most its colour stands between."""
    if before.side == "puff" and paint.first - before.last <= 1 and low[before.last] not in ",;.:":
        before.side = "coat"


_COATINGS = frozenset(
    {
        "gilding",
        "plating",
        "tinning",
        "silvering",
        "japanning",
        "lacquering",
        "bronzing",
        "enamelling",
        "painting",
        "lacquer",
    }
)


def names_work(word: str) -> bool:
    """ "tears", "repair", "chip"; but "repaired", "worn", "later" describe something else."""
    return word in _DAMAGE


_DAMAGE = frozenset(
    {
        form
        for word in (
            "repair", "restoration", "dent", "crack", "chip", "hole", "tear", "loss", "patch", "bruise", "scratch", "replacement", "addition",
            "alteration", "flaw", "break", "fracture", "fault", "split", "burn", "wear", "damage", "corrosion", "pitting", "rust", "denting",
            "rubbing", "bruising", "hairline", "pinhole", "perforation", "stain", "leak", "fill", "infill", "mark", "staining", "wormhole",
            "distortion", "verdigris", "oxidation", "fading", "bleeding", "scratching",
        )
        for form in (word, word + "s", word + "es")
    }
)  # fmt: skip


def _before_a_noun(hit: Hit, hits: list[Hit], k: int, tokens: Tokens, lexicon: Lexicon) -> bool:
    """True when a noun that no list has comes right after: a small area, an oval recess."""
    low, at = tokens.low, hit.last
    if at + 1 < len(low) and tokens.cap[at] and not tokens.cap[at + 1]:
        at += 1  # "an old Dorset family"
    if at >= len(low) or (k + 1 < len(hits) and hits[k + 1].first == at):
        return False
    word = low[at]
    if len(word) < 4 or not word.isalpha() or word.endswith(_SUFFIXES) or tokens.cap[at]:
        return False
    return (
        word not in lexicon.function
        and word not in lexicon.grammar.classes
        and word not in lexicon.grammar.whole
    )
