"""What is denied: "no", "not" and "without", lists of what is not there, and questions answered with no."""

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Lexicon
from planish.reasoning.reading.terms.meaning.doubting import ASKED
from planish.reasoning.reading.terms.meaning.parts import CLAUSE, HAS_BEEN
from planish.reasoning.reading.tokens import Tokens

_NEGATED = frozenset(
    {
        "state",
        "material",
        "mark",
        "inscription",
        "surface",
        "decoration",
        "technique",
        "place",
        "object",
        "part",
        "count",
        "style",
        "qualifier",
        "evidence",
        "puff",
        "provenance",
    }
)
_REACH = 7


def settle_denials(hits: list[Hit], tokens: Tokens, lexicon: Lexicon, covered: bytearray) -> None:
    """Mark what stands under a "no", "not" or "without" as denied, up to the end of its clause."""
    low = tokens.low
    if "none" in low or "nil" in low:
        _answered_none(hits, low)
    for k, hit in enumerate(hits):
        if hit.side == "state" and low[hit.last - 1] in _LACKS:
            _lacks_marks(hits, k, low)
        if hit.side != "negator" or _is_number_sign(hit, tokens) or _left_out(hit, low, covered):
            continue
        answers = low[hit.first] != "not" or low[hit.last : hit.last + 1] in _ENDS
        if hit.first and low[hit.first - 1] == "?" and answers:
            _deny_question(
                hits[:k], tokens, hit.first - 1, substance=_answers_a_substance(hits[k + 1 : k + 3])
            )
        _deny_after(hits, k, low, lexicon)


def _deny_after(hits: list[Hit], k: int, low: list[str], lexicon: Lexicon) -> None:
    """Deny what follows the negator at `k`, until something says that the denial ends."""
    hit = hits[k]
    limit, taken, listed = hit.last + _REACH, False, _list_end(hits, k, low)
    for follower in hits[k + 1 : k + 6]:
        between = low[hit.last : follower.first]
        if follower.first >= listed and (
            follower.first > limit or _denial_ends(between, taken=taken, ends=lexicon.negation_ends)
        ):
            break
        if follower.side == "form":
            follower.strength = "denied"
            break
        if follower.side in _NEGATED:
            follower.strength = "denied"
            taken = True
            limit = follower.last + 4


def _denial_ends(between: list[str], *, taken: bool, ends: frozenset[str]) -> bool:
    """ "No marks, brass", "no clock - brass lantern", "without dents and has a good patina", "no licence needed for the horn"."""
    listed = taken and "or" in between and "," not in between[between.index("or") :]
    return (
        any((w in CLAUSE and not (w == "," and listed)) or w in ends or w in _DASHES for w in between)
        or "for" in between[1:]
        or (taken and "and" in between and not HAS_BEEN.isdisjoint(between))
    )


_LACKS = frozenset({"lacks", "lacking", "lack"})


def _lacks_marks(hits: list[Hit], k: int, low: list[str]) -> None:
    """ "Lacks maker or verification marks": the marks are denied, and nothing of the thing is missing."""
    after = next((hit for hit in hits[k + 1 : k + 3] if hit.side != "qualifier"), None)
    if (
        after is not None
        and after.side == "mark"
        and "," not in low[hits[k].last : after.first]
        and after.first - hits[k].last < 4
    ):
        after.strength, hits[k].side = "denied", "coat"


def _answered_none(hits: list[Hit], low: list[str]) -> None:
    """ "Marks: none", "Restoration - none": denied behind the colon."""
    for hit in hits:
        at = hit.last + (low[hit.last : hit.last + 1] in ([":"], ["-"], ["–"], ["="]))
        if hit.side in ASKED | {"provenance", "inscription"} and low[at : at + 1] in (["none"], ["nil"]):
            hit.strength = "denied"


def _list_end(hits: list[Hit], k: int, low: list[str]) -> int:
    """Where the list of "no dents, cracks or repairs" ends: states with nothing but commas between them, before the last an "or"."""
    last = k + 1
    while last + 1 < len(hits) and hits[last].side == hits[last + 1].side == "state":
        if low[hits[last].last : hits[last + 1].first] != [","]:
            break
        last += 1
    if last >= len(hits) or hits[last].side != "state":
        return -1
    at = hits[last].last
    at += low[at : at + 1] == [","]
    if low[at : at + 1] not in (["or"], ["nor"]):
        return -1
    after = hits[last + 1] if last + 1 < len(hits) else None
    near = after is not None and low[at + 1 : after.first] in ([], ["signs", "of"])
    return after.last if after is not None and near else hits[last].last


_DASHES = frozenset("-–—!?")
_ENDS: tuple[list[str], ...] = ([], [","], ["."], [":"], [";"], ["so"], ["really"], ["this"], ["that"])
"""What follows a "not" that answers a question by itself; "not a commode" denies the commode alone."""


def _left_out(hit: Hit, low: list[str], covered: bytearray) -> bool:
    """ "62 cm without base": the base is there and was not measured."""
    if low[hit.first] != "without" or not hit.first:
        return False
    bracketed = low[hit.first - 1] == "(" and ")" in low[hit.last : hit.last + 4]
    closes = low.index(")", hit.last) + 1 if bracketed else 0
    return covered[hit.first - 1] > 0 or (bracketed and closes < len(low) and covered[closes] > 0)


def _answers_a_substance(answer: list[Hit]) -> bool:
    """True for the copper of "Leather bucket? No: copper, painted": no other thing is named with it."""
    first, after = (*answer, None, None)[:2]
    follows = after is not None and first is not None and after.first == first.last and after.side == "object"
    return first is not None and first.side == "material" and not follows


def _deny_question(asked: list[Hit], tokens: Tokens, at: int, *, substance: bool) -> None:
    """ "Is it silver? No: pewter." A `substance` that answers leaves the thing what it was."""
    one = tokens.sentence[at]
    both = {hit.side for hit in asked[-8:] if tokens.sentence[hit.first] == one} >= {"material", "object"}
    if substance and both:
        asked = [hit for hit in asked[-8:] if hit.side != "object"]
    told = [
        hit for hit in asked[-8:] if hit.side == "state" and tokens.sentence[hit.first] == tokens.sentence[at]
    ]
    for hit in told or reversed(asked[-8:]):
        if tokens.sentence[hit.first] != tokens.sentence[at] or any(
            word in ",;:" for word in tokens.low[hit.last : at]
        ):
            break
        if hit.side in _NEGATED or hit.side == "form":
            hit.strength = "denied"
        if hit.side == "material" and tokens.low[hit.first - 1] == "in":
            break  # "A dial in silver? No, brass"


def _is_number_sign(hit: Hit, tokens: Tokens) -> bool:
    """No. 12 is a number ("not 18 ct gold" is none); "no later than" is a date; "not only" and "no doubt" deny nothing."""
    low, after = tokens.low, hit.last
    follower = low[after] if after < len(low) else ""
    if follower == ".":
        return not (hit.first and low[hit.first - 1] == "?")
    counted = follower.isdigit() and low[after - 1] != "not"
    compared = follower in ("later", "earlier", "less") and low[after + 1 : after + 2] == ["than"]
    return follower in ("doubt", "only") or compared or counted
