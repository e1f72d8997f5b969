"""Words of the trade found in a text: the longest phrase at each place, with its possible senses."""

from bisect import bisect_left
from dataclasses import dataclass
from itertools import compress, count

from planish.reasoning.reading.lexicon import Entry, Lexicon, Node
from planish.reasoning.reading.tokens import LOWER, Tokens
from planish.records import TermValue


@dataclass(slots=True, eq=False)
class Hit:
    """Tokens `first` up to `last` (not included) read as `entry`. The rest is filled in by the context."""

    first: int
    last: int
    entry: Entry
    entries: tuple[Entry, ...]
    side: str
    part: str = ""
    strength: str = ""
    letters: str = ""
    start: int = -1
    end: int = -1
    mention: bool = False
    likeness: bool = False
    verb: bool = False

    def choose(self, entry: Entry) -> None:
        """Settle on one sense; `side` is kept beside it, for everybody asks for it."""
        self.entry, self.side = entry, entry.side


def scan(tokens: Tokens, lexicon: Lexicon, covered: bytearray) -> list[Hit]:
    """Find phrases from left to right, the longest at each place, passing over tokens already read."""
    hits: list[Hit] = []
    low, n, after = tokens.low, len(tokens), 0
    nodes = list(map(lexicon.root.get, low))
    for i in compress(count(), nodes):
        node = nodes[i]
        if node is None or i < after or covered[i] or (len(low[i]) < 3 and _is_a_scrap(tokens, i)):
            continue
        last, ends = _longest(node, low, i, n, covered) if node.next else (i + 1, node)
        if last > i + 1 and _stands_apart(tokens, i, last, lexicon):
            last, ends = i + 1, node
        entries = ends.small if tokens.cap[i] == LOWER else ends.entries
        if entries:
            hits.append(Hit(i, last, entries[0], entries, entries[0].side))
            after = last
        elif low[i] == "re" and (again := _done_again(tokens, i)) is not None:
            hits.append(again)
            after = again.last
    return hits


def _names_a_thing(word: str, lexicon: Lexicon) -> bool:
    node = lexicon.root.get(word)
    return node is not None and any(entry.side in ("object", "material", "surface") for entry in node.entries)


def _stands_apart(tokens: Tokens, i: int, last: int, lexicon: Lexicon) -> bool:
    """ "Later gilt metal mounts": the metal is gilt, the mounts are later. "Easel back in velvet" is a back. Or German
    before silver from Germany."""
    word = tokens.low[i]
    if word == "later":
        return is_material(tokens, last, lexicon)
    if word == "back":
        return i > 0 and tokens.low[last - 1] in ("in", "on") and _names_a_thing(tokens.low[i - 1], lexicon)
    return word == "german" and last == i + 2 and _made_in_germany(tokens, i)


def counted_in_figures(tokens: Tokens, hits: list[Hit], covered: bytearray) -> None:
    """ "6 brass candlesticks" at the head of a label, "13 pieces", "7-piece set": a number of things in figures."""
    low, cap, n = tokens.low, tokens.cap, len(tokens)
    found = []
    if n > 1 and low[0].isdecimal() and not covered[0] and cap[1] == LOWER and low[1].isalpha():
        worth = bool(hits) and hits[0].first == 1 and hits[0].entry.value.term == "banknote"
        found += [] if worth else [(0, 1)]
    for piece in _PIECES & tokens.words:
        last = low.index(piece) + 1
        at = last - 2 - (last > 2 and low[last - 2] == "-")
        if at >= 0 and low[at].isdecimal() and not covered[at] and low[max(0, at - 1)] not in _MADE_IN:
            found.append((at, last))
    for first, last in found:
        number = int(low[first]) if len(low[first]) < 4 else 0
        if number < 2 or any(hit.first < last and first < hit.last for hit in hits):
            continue
        entry = Entry("count", TermValue(term=low[first], kind="number", more={"number": number}))
        at = bisect_left(hits, first, key=lambda hit: hit.first)
        hits.insert(at, Hit(first, last, entry, (entry,), "count"))


_PIECES = frozenset({"pieces", "piece", "pcs", "pce", "pc"})
_MADE_IN = frozenset({"in", "into", "of", "from"})
"""Before a number of pieces: what the thing is made in, or a number that its set has told."""


def _made_in_germany(tokens: Tokens, i: int) -> bool:
    """ "German silver-gilt beaker, Augsburg 1690": silver from Germany where the label tells what the alloy cannot have.

    The alloy came to market about 1823 (from memory), bears no fineness and no town.
    """
    if tokens.cap[i] == LOWER or tokens.low[i + 1] != "silver":
        return False
    if tokens.low[i + 2 : i + 3] in (["gilt"], ["parcel"]):
        return True
    return any(
        word in _SAYS_SILVER or ("1500" <= word < "1820" and len(word) == 4) for word in tokens.low[i:]
    )


_SAYS_SILVER = frozenset(
    {"800", "835", "925", "augsburg", "nuremberg", "hanau", "dresden", "hamburg", "berlin", "munich", "leipzig", "lübeck", "breslau", "danzig", "frankfurt", "cologne", "hallmarked", "hallmarks"}
)  # fmt: skip


def _done_again(tokens: Tokens, i: int) -> Hit | None:
    """ "re-hinged", "re-pinned": a repair, whatever the verb."""
    if i + 1 >= len(tokens) or tokens.text[tokens.end[i] : tokens.start[i + 1]] != "-":
        return None
    verb = tokens.low[i + 1]
    if not verb.endswith("ed"):
        return None
    entry = Entry("state", TermValue(term=f"re-{verb}", kind="restored"))
    return Hit(i, i + 2, entry, (entry,), "state")


def _is_a_scrap(tokens: Tokens, i: int) -> bool:
    """True for the A of R.A.F., a letter right after a stop, and for the "rd" of "3rd Bn", which registers nothing."""
    if i == 0 or tokens.start[i] != tokens.end[i - 1]:
        return False
    before = tokens.low[i - 1]
    return (len(tokens.low[i]) == 1 and before == ".") or (tokens.low[i] == "rd" and before.isdigit())


def _longest(node: Node, low: list[str], i: int, n: int, covered: bytearray) -> tuple[int, Node]:
    """Where the longest phrase from `i` on ends, and the node with its senses (none when no phrase begins here)."""
    best, ends = i + 1, node
    j = i + 1
    while j < n and not covered[j]:
        follow = node.next.get(low[j])
        if follow is None:
            break
        node = follow
        j += 1
        if node.entries:
            best, ends = j, node
    return best, ends


def is_material(tokens: Tokens, i: int, lexicon: Lexicon) -> bool:
    """True when the word at `i` has a sense as a substance."""
    node = lexicon.root.get(tokens.low[i]) if i < len(tokens) else None
    return node is not None and any(entry.side == "material" for entry in node.entries)
