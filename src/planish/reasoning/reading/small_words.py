"""Words of number that count nothing where they stand: "group" as a thing, "set" as a verb, "No." as an answer."""

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Lexicon
from planish.reasoning.reading.tokens import Tokens


def settle_small_words(hit: Hit, before: Hit | None, tokens: Tokens, lexicon: Lexicon) -> None:
    """ "group" as a thing, "set" as a verb, "No." as an answer."""
    word = tokens.low[hit.first]
    if hit.side == "count":
        if before is not None and before.last == hit.first and before.side in ("material", "technique"):
            _as_thing(hit, tokens, lexicon)
        if hit.side == "count" and (
            (word == "set" and _set_down(hit, tokens, lexicon))
            or (word == "various" and tokens.low[hit.first - 1] in _AMONG)  # "inlaid in various woods"
        ):
            hit.side = "coat"
    elif hit.side == "mark" and word == "no" and tokens.low[hit.last - 1] == ".":
        _as_denial(hit, tokens, lexicon)


def _set_down(hit: Hit, tokens: Tokens, lexicon: Lexicon) -> bool:
    """ "set w/ five opals", "set atop a base", "diamond-set eagle", "claw set amethysts": no set of things."""
    low, after = tokens.low, hit.last
    if hit.last - hit.first > 1:
        return False
    glued = hit.first > 0 and tokens.text[tokens.end[hit.first - 1] : tokens.start[hit.first]] == "-"
    follower = low[after] if after < len(low) else "."
    plain = follower.isalpha() and hit.first > 0 and low[hit.first - 1].isalpha()
    verb = plain and follower not in _SET_OF and follower not in lexicon.numbers
    apart = follower == "in" and hit.first > 0 and low[hit.first - 1] == ","  # ", set in a stone block"
    described = apart or (verb and low[hit.first - 1] not in _SETS)
    stone = low[hit.first - 1] in _STONES_SET  # "steel top, turquoise set"
    into = follower == "in" and low[after + 1 : after + 2] in (["its"], ["a"], ["an"], ["the"])
    put = low[after : after + 1] in _PUT or low[after : after + 2] == ["w", "/"]
    named = (
        hit.first > 1 and low[hit.first - 1] == "the" and follower not in _SET_OF
    )  # "not apart from the set"
    return glued or described or stone or into or put or named


_STONES_SET = frozenset(
    {"turquoise", "pearl", "garnet", "diamond", "ruby", "coral", "amethyst", "topaz", "emerald", "sapphire", "opal", "agate", "paste", "stone", "gem", "jet"}
)  # fmt: skip


_SET_OF = frozenset({"of", "for", "comprising", "consisting", "made", "and"})


_SETS = frozenset({"a", "the", "this", "full", "part", "complete", "small", "large", "fine", "good", "rare"})


_AMONG = frozenset({"in", "of", "with", "from", "and"})


_PUT = tuple(
    [word]
    for word in (
        "atop",
        "on",
        "upon",
        "into",
        "within",
        "against",
        "around",
        "between",
        "under",
        "behind",
        "beside",
        "beneath",
        "below",
        "above",
        "over",
        "amid",
        "among",
        "amidst",
        "at",
        "to",
    )
)


def _as_thing(hit: Hit, tokens: Tokens, lexicon: Lexicon) -> None:
    """ "A bronze group of two stags": after its substance a word of number is a thing, when it can be one."""
    node = lexicon.root.get(tokens.low[hit.first])
    thing = next((e for e in node.entries if e.side == "object"), None) if node else None
    if thing is not None:
        hit.choose(thing)
        hit.last = hit.first + 1


def _as_denial(hit: Hit, tokens: Tokens, lexicon: Lexicon) -> None:
    """ "No. It is pewter": before no figure, "No." is an answer and no number."""
    after = tokens.low[hit.last] if hit.last < len(tokens) else ""
    denial = next((e for e in lexicon.root["no"].entries if e.side == "negator"), None)
    if denial is not None and not after.isdigit() and len(after) != 1 and hit.last - hit.first == 2:
        hit.choose(denial)
        hit.last = hit.first + 1
