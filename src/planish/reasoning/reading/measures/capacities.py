"""Capacities told without a figure: a quart mug, half-pint measures, from a gallon to a half gill."""

from collections.abc import Iterator, Sequence

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Lexicon
from planish.reasoning.reading.measures.items import Item
from planish.reasoning.reading.measures.reading import MeasureFound
from planish.reasoning.reading.measures.units import unit_table
from planish.reasoning.reading.tokens import Tokens

_SHARES = {"half": 0.5, "quarter": 0.25}
_NEAR = 0.04
_REACH = 3
"""How many words may stand between a capacity and the thing it describes ("quart baluster measure")."""


def worded_capacities(
    tokens: Tokens,
    hits: list[Hit],
    lexicon: Lexicon,
    silent: set[int],
    covered: bytearray,
    figures: Sequence[MeasureFound],
) -> Iterator[MeasureFound]:
    """Every capacity word without a figure; `silent` are tokens of names, letters and stories.

    One that a figure of the label says again ("half pint, 284 ml") is read and told once, with the figure.
    `hits` are those of the whole text with their parts settled: a quart jug that only comes with the thing keeps its quart.
    """
    words = lexicon.capacities
    if words.isdisjoint(tokens.words):
        return
    inside = {i: hit for hit in hits for i in range(hit.first, hit.last)}
    units = unit_table(lexicon).units
    for i, word in enumerate(tokens.low):
        if word not in words or i in silent or (covered[i] and i not in inside):
            continue
        first, last, amount = _counted(tokens, i, lexicon, several=_several(tokens, inside, i))
        unit = units[word]
        if last - 1 == i and i and tokens.low[i - 1] in lexicon.scots and word.startswith("pint"):
            first, unit = i - 1, units["scots pint"]
        start, end = tokens.start[first], tokens.end[i]
        item = Item(start, end, end, amount, tokens.text[start:end], unit)
        covered[first:last] = b"\1" * (last - first)
        found = MeasureFound(
            item, unit, amount * unit.amount, "capacity", _part_of(tokens, inside, i), end=end
        )
        if not any(_same(figure, found) for figure in figures):
            yield found


def _same(figure: MeasureFound, found: MeasureFound) -> bool:
    return figure.unit.base == "ml" and abs(figure.amount - found.amount) < _NEAR * found.amount


def _counted(tokens: Tokens, i: int, lexicon: Lexicon, *, several: bool) -> tuple[int, int, float]:
    """First token, last token and number of units: half a pint, two gallon, a quart. Of "two pint mugs" the number is that of the mugs."""
    low, first = tokens.low, i
    if i > 1 and low[i - 1] == "a" and low[i - 2] in _SHARES:
        first = i - 2
    elif i and (low[i - 1] in _SHARES or (low[i - 1] in lexicon.numbers and not several)):
        first = i - 1
    amount = _SHARES.get(low[first], float(lexicon.numbers.get(low[first], 1))) if first < i else 1.0
    last = i + 2 if low[i + 1 : i + 2] == ["capacity"] else i + 1
    told = first > 0 and low[first - 1] == "capacity"
    return first - told, last, amount


def _several(tokens: Tokens, inside: dict[int, Hit], i: int) -> bool:
    """True where the thing that the capacity describes stands in the plural."""
    thing = next(
        (inside[j] for j in range(i, i + 1 + _REACH) if j in inside and inside[j].side == "object"), None
    )
    return thing is not None and tokens.low[thing.last - 1].endswith("s")


def _part_of(tokens: Tokens, inside: dict[int, Hit], i: int) -> str:
    """The thing or part that the capacity describes, when it is not the whole."""
    for j in range(i, min(i + 1 + _REACH, len(tokens))):
        hit = inside.get(j)
        if (
            hit is not None
            and hit.side in ("object", "part")
            and not (j == i and hit.mention and hit.last == i + 1)
        ):
            return hit.part or (hit.entry.value.term if hit.mention else "")
        if j > i and not tokens.low[j][0].isalnum():
            break
    return ""
