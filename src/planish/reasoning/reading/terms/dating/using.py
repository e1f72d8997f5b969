"""Years that tell how long a thing was used, and nothing of its making."""

from bisect import bisect_left

from planish.reasoning.reading.tokens import Tokens

_UNTIL = frozenset({"until", "till", "since", "to"})
_IN_USE = frozenset(
    ["used", "use", "hung", "stood", "kept", "worked", "working", "lived", "rang", "served", "ran", "carried", "worn",
     "displayed", "shown", "owned", "belonged", "stored", "family", "service"]
)  # fmt: skip
_FAR = 12


def tells_a_use(tokens: Tokens, start: int) -> bool:
    """ "used in the forge until 1960", "in the family since 1890": `start` is the first character of the year, or of its "since"."""
    at = bisect_left(tokens.start, start)
    low, sentence = tokens.low, tokens.sentence
    if at >= len(low) or (low[at] not in _UNTIL and low[at - 1 : at] not in _ENDS):
        return False
    return any(low[i] in _IN_USE and sentence[i] == sentence[at] for i in range(max(0, at - _FAR), at))


_ENDS = tuple([word] for word in _UNTIL)
