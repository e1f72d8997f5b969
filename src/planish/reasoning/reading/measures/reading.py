"""Measures of a label: figures joined into sizes, sizes given twice, roles said or taken from the order of writing."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from planish.reasoning.reading.lexicon import Lexicon
from planish.reasoning.reading.measures.figures import has_fraction
from planish.reasoning.reading.measures.items import Item, items_in
from planish.reasoning.reading.measures.units import Unit, unit_table
from planish.records import MeasureValue, Problem

_JOIN = re.compile(r"\.?\s*(?:x|×|X|by|\*)\s*\(?\s*$")
_ADD = re.compile(r"\.?,?\s*(?:and\s+|&\s*)?$")
_TWICE = re.compile(r"[\s.]*[(/|,;=\[–—-]?\s*(?:or\s+)?$")
_LABEL = re.compile(r"(?:^|[\n|;.(])\s*([^\W\d_][^\d:;|\n]{0,40}):\s*$")
_LETTER = re.compile(r"(?:^|[\n|;,]|\s)\(?([A-Z]{1,2}|[a-z])\)[ \t]*(?:([^\W\d_]{2,20})\s*:?\s*)?$")
_AFTER = re.compile(r"\.?\s*\(\s*([A-Za-z][A-Za-z ,'-]{1,30}?)\s*\)?\s*(?=\)|\n|$)")
_CLOSE = re.compile(r"[\s.]*[)\]]")
_OF_WHOLE = frozenset(
    [
        "overall",
        "object",
        "displayed",
        "unconfirmed",
        "size",
        "sizes",
        "dimensions",
        "dimension",
        "each",
        "total",
        "measures",
        "measurements",
        "measuring",
        "approx",
        "approximate",
        "overal",
        "confirmed",
        "installed",
        "measure",
        "in",
        "inches",
        "cm",
        "mm",
        "centimetres",
        "millimetres",
    ]
)
_ORDER = ("height", "width", "depth")
_TROY = 31.1034768


@dataclass(slots=True, eq=False)
class MeasureFound:
    """One measure with its characters, not yet a claim: a bare figure may still wait for its role."""

    item: Item
    unit: Unit
    amount: float
    role: str
    part: str
    by_order: bool = False
    twice: str = ""
    lone: bool = False
    end: int = 0
    lengths: int = 0
    falling: bool = False


@dataclass(slots=True, eq=False)
class Measured:
    """What the figures of a label gave: measures, characters read besides, problems."""

    found: list[MeasureFound] = field(default_factory=list)
    read_besides: list[tuple[int, int]] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)


@dataclass(slots=True, eq=False)
class _Chain:
    items: list[Item]
    unit: Unit | None = None
    part: str = ""
    label: tuple[int, int] = (0, 0)


def read_measures(text: str, lexicon: Lexicon, skip: Sequence[tuple[int, int]] = ()) -> Measured:
    """Read every measure in `text`. `skip` are characters that others have read, in order."""
    measured = Measured()
    text = text if text.isascii() else text.translate(_TIMES)
    table = unit_table(lexicon)
    chains = _chains(text, list(items_in(text, table, skip)))
    before: _Chain | None = None
    floor = 0
    for at, chain in enumerate(chains):
        chain.unit = _unit_of(chain, before) or _unit_beside(text, chain, chains[at + 1 : at + 2])
        if chain.unit is None:
            _without_unit(text, chain, measured)
            continue
        if before is not None and _same_again(text, before, chain, measured):
            before, floor = None, chain.items[-1].end
            continue
        _find_part(text, chain, before, floor, lexicon)
        _carry_role(text, before, chain)
        _measures_of(chain, measured)
        before, floor = chain, chain.items[-1].end
    _letter_d(measured)
    return measured


_TIMES = str.maketrans("хХ", "xX")
"""The Cyrillic letter between two sizes, as catalogues of several countries print it."""


def _chains(text: str, items: list[Item]) -> list[_Chain]:
    chains: list[_Chain] = []
    for item in items:
        if chains:
            last = chains[-1].items[-1]
            between = text[last.end : item.start]
            if len(between) < 12 and _JOIN.fullmatch(between):
                chains[-1].items.append(item)
                continue
            if len(between) < 8 and _ADD.fullmatch(between) and _adds(last, item):
                _merge(text, last, item)
                continue
        chains.append(_Chain([item]))
    return chains


def _adds(last: Item, item: Item) -> bool:
    """3 lb 4 oz, 22 oz 10 dwt, 6 ft 2 in: a smaller unit that completes a larger one."""
    if last.unit is None or item.unit is None or last.unit.base != item.unit.base or item.prefixed:
        return False
    if (last.unit.name in _METRIC) != (item.unit.name in _METRIC):
        return False  # "1.1 oz, 30 g" says it twice
    small = item.unit.amount * item.value
    return (
        last.unit.amount > item.unit.amount
        and small < last.unit.amount * 1.2
        and last.unit.inches == item.unit.inches
    )


_METRIC = frozenset({"mm", "cm", "m", "g", "kg", "ml", "cl", "l"})


def _merge(text: str, last: Item, item: Item) -> None:
    assert last.unit is not None
    assert item.unit is not None
    unit = last.unit
    if item.unit.name == "dwt" and unit.name == "oz":
        unit = Unit("ozt", "g", _TROY)
    elif unit.name == "lb" and item.unit.name == "oz":
        unit = Unit("lb", "g", unit.amount)
    last.value += item.value * item.unit.amount / unit.amount
    last.unit = unit
    last.written = text[last.figure_end - len(last.written) : item.end]
    last.role, last.role_word = last.role or item.role, last.role_word or item.role_word
    last.over, last.end = last.over or item.over, item.end


def _unit_of(chain: _Chain, before: _Chain | None) -> Unit | None:
    """The chain's unit: the last one written; inches for vulgar fractions; else that of the chain just before."""
    for item in reversed(chain.items):
        if item.unit is not None:
            return item.unit
    sized = len(chain.items) > 1 or chain.items[0].role in ("height", "width", "depth", "diameter", "length")
    if sized and any(has_fraction(item.written) for item in chain.items):
        return _INCH
    if len(chain.items) > 1 and before is not None and before.unit is not None and before.unit.base == "mm":
        return before.unit
    return None


def _unit_beside(text: str, chain: _Chain, after: list[_Chain]) -> Unit | None:
    """A size with its role and no unit has that of the size right after it: 42 H. (base: 15 7/8 x 16)."""
    if len(chain.items) > 1 or not chain.items[0].role or not after or _may_be_a_year(chain.items[0]):
        return None
    gap = text[chain.items[0].end : after[0].items[0].start]
    return _unit_of(after[0], None) if len(gap) < 14 and "\n" not in gap else None


def _may_be_a_year(item: Item) -> bool:
    """Four bare figures from 1000 to 2099 are sooner a year than a size whose unit stands elsewhere."""
    return item.written.isdigit() and len(item.written) == 4 and 1000 <= item.value < 2100


_INCH = Unit("in", "mm", 25.4)


def _without_unit(text: str, chain: _Chain, measured: Measured) -> None:
    first, last = chain.items[0], chain.items[-1]
    if len(chain.items) < 2 and not (first.prefixed and first.role and len(first.role_word) > 1):
        return
    words = text[first.start : last.end]
    measured.problems.append(
        Problem(
            where="label",
            what=f"the size {words!r} has no unit.",
            why="Inches and centimetres differ by two and a half times.",
            remedy="Write the unit after the figure: cm, mm or in.",
            code="measure.no_unit",
            found=words,
        )
    )


def _same_again(text: str, before: _Chain, chain: _Chain, measured: Measured) -> bool:
    """True when `chain` repeats the size before it in another unit: 10 x 4 in. (25.4 x 10.2 cm)."""
    a, b = before.unit, chain.unit
    if (
        a is None
        or b is None
        or a.base != b.base
        or a.name == b.name
        or len(before.items) != len(chain.items)
    ):
        return False
    gap = text[before.items[-1].end : chain.items[0].start]
    if len(gap) > 8 or not _TWICE.fullmatch(gap):
        return False
    for x, y in zip(before.items, chain.items, strict=True):
        one, two = x.value * (x.unit or a).amount, y.value * (y.unit or b).amount
        rounded = max(_rounding(x, x.unit or a), _rounding(y, y.unit or b))
        if abs(one - two) > max(2.0 if a.base == "mm" else 4.0, 0.04 * max(one, two), rounded):
            return False
    n = len(chain.items)
    for found, item in zip(measured.found[-n:], chain.items, strict=True):
        found.twice = f"{item.written} {(item.unit or b).name}"
        if item.role and found.by_order:
            found.role, found.by_order = item.role, False
    end = chain.items[-1].end
    close = _CLOSE.match(text, end, end + 4)
    measured.read_besides.append((before.items[-1].end, close.end() if close else end))
    return True


def _rounding(item: Item, unit: Unit) -> float:
    """Half an inch either way where a length is given in whole inches: 12 cm (5 in.)."""
    return unit.amount / 2 if unit.inches and unit.base == "mm" and item.written.isdigit() else 0.0


def _names_the_thing(text: str, label: re.Match[str], begin: int, end: int, lexicon: Lexicon) -> bool:
    """ "Globe: 3in pocket terrestrial": the first word of a label that goes on in words names the thing, no part of it."""
    word = (label.group(1) or "").lower()
    node = lexicon.root.get(word)
    sides = {entry.side for entry in node.entries} if node is not None else set()
    first = not text[: begin + label.start(1)].strip()
    return first and "object" in sides and "part" not in sides and _GOES_ON.match(text, end) is not None


_GOES_ON = re.compile(r"[^\n]{0,40}?[^\W\d_]{4}")


def _find_part(text: str, chain: _Chain, before: _Chain | None, floor: int, lexicon: Lexicon) -> None:
    """The part a size speaks of: a label before it ("Base: "), a letter ("A) "), or words in brackets after it."""
    first, last = chain.items[0], chain.items[-1]
    begin = max(floor, first.start - 48)
    window = text[begin : first.start]
    after = _AFTER.match(text, last.end, last.end + 40)
    label = _LETTER.search(window) if ")" in window else None
    label = label or (_LABEL.search(window) if ":" in window else None)
    label = None if label and _TELLS.search(label[0]) else label
    if label and not _names_the_thing(text, label, begin, last.end, lexicon):
        words = [w for w in label.groups() if w]
        chain.part = _part_name(" ".join(words))
        chain.label = (begin + label.start(1), first.start)
    elif after and _may_name_a_part(after[1].lower().split()):
        chain.part = _part_name(after[1])
        chain.label = (last.end, after.end() + (text[after.end() : after.end() + 1] == ")"))
    elif adjective := _sized_part(text, chain, lexicon):
        chain.part = adjective
    elif before and not first.over and "\n" not in text[before.items[-1].end : first.start]:
        chain.part = "" if before.part in _MEASURED_BY else before.part


def _sized_part(text: str, chain: _Chain, lexicon: Lexicon) -> str:
    """ "the 12 in. brass dial", "an 8-inch silvered dial": a bare length before a part that clocks are told by is of that part."""
    item = chain.items[0]
    if len(chain.items) > 1 or item.role or item.unit is None or item.unit.base != "mm":
        return ""
    words = _ADJECTIVES.match(text, item.end)
    for word in words[1].lower().split() if words else ():
        if word in _MEASURED_BY:
            item.role = "diameter"
            return word
        if word in lexicon.function:
            break
    return ""


_ADJECTIVES = re.compile(r"-?\s*((?:[^\W\d_]+(?:-[^\W\d_]+)*\s?){1,6})")
_MEASURED_BY = frozenset({"dial"})
"""Parts whose size stands before them (common practice, no source)."""


_TELLS = re.compile(r"\s(?:is|are|was|were|has|have)\b")
"""A verb before a figure: a sentence that ends there, and no name of a part."""


def _carry_role(text: str, before: _Chain | None, chain: _Chain) -> None:
    """ "Diameter 18.3 cm (top), 19.6 cm (bottom)": two parts, one role."""
    first, last = chain.items[0], before.items[-1] if before is not None else None
    if before is None or last is None or first.role or not chain.part or chain.part == before.part:
        return
    if len(chain.items) == 1 and _PARTED.fullmatch(text, last.end, first.start):
        first.role, first.role_word = last.role, last.role_word


_PARTED = re.compile(r"\s*\([^)\d]{2,24}\)\s*(?:[,;&]|and)?\s*")


def _may_name_a_part(words: list[str]) -> bool:
    """ "(base)" and "(with cover)" do; "(max)", "(without lid)" and "(licence needed for ivory)" do not."""
    return len(words) <= _PART_WORDS and words[:1] not in _NO_PARTS


_PART_WORDS = 3
_NO_PARTS = (
    ["approx"],
    ["approximately"],
    ["max"],
    ["including"],
    ["incl"],
    ["inc"],
    ["without"],
    ["excluding"],
    ["excl"],
    ["excl."],
    ["less"],
    ["minus"],
    ["not"],
)


def _part_name(words: str) -> str:
    words = words.rpartition(". ")[2]  # "Japan, Edo period. Dimensions: ..."
    kept = [w for w in re.split(r"[\s,()]+", words.lower()) if w and w not in _OF_WHOLE]
    return " ".join(kept[:4])


def _measures_of(chain: _Chain, measured: Measured) -> None:
    assert chain.unit is not None
    if chain.label[1] > chain.label[0]:
        measured.read_besides.append(chain.label)
    taken = {item.role for item in chain.items if item.role}
    free = [role for role in _ORDER if role not in taken]
    lengths = sum((item.unit or chain.unit).base == "mm" for item in chain.items)
    for item in chain.items:
        unit = item.unit or chain.unit
        role, by_order = item.role, False
        if unit.base == "g":
            role = "weight"
        elif unit.base == "ml":
            role = "capacity"
        elif not role or role in ("weight", "capacity"):
            by_order = True
            role = (free.pop(0) if free else "") if lengths > 1 else ""
        measured.found.append(
            MeasureFound(
                item,
                unit,
                item.value * unit.amount,
                role,
                chain.part,
                by_order,
                lone=lengths == 1,
                end=item.end,
                lengths=lengths,
                falling=_falling(chain),
            )
        )


def _falling(chain: _Chain) -> bool:
    """Three bare figures, the first the largest: 30 x 20 x 12, 7 x 4 x 4½."""
    sizes = [item.value for item in chain.items]
    return len(sizes) == 3 and sizes[0] > max(sizes[1:]) and not any(item.role for item in chain.items)


def _letter_d(measured: Measured) -> None:
    """A lone D is the diameter; beside a width it is the depth."""
    for index, found in enumerate(measured.found):
        if found.item.role_word != "d" or found.role != "depth":
            continue
        near = measured.found[max(0, index - 2) : index + 3]
        if not any(other.role in ("width", "length") and other.part == found.part for other in near):
            found.role = "diameter"


def value_for(
    found: MeasureFound, *, usual: str, precious: bool, flat: bool = False
) -> tuple[MeasureValue, tuple[MeasureValue, ...], str]:
    """The claim's value, further readings, and what would tell them apart.

    `usual` is what a bare size of this kind of object is usually taken over (house default, common practice, no
    source). `precious` is True for silver and gold, whose ounces are troy by custom.
    `flat` is True for things that lie: two bare figures are their length and width, as of all that is measured along.
    """
    unit, amount, role = found.unit, found.amount, found.role
    readings: tuple[tuple[float, str, str], ...] = ()
    told = ""
    if unit.readings:
        readings = tuple((round(found.item.value * a, 2), name, why) for name, a, why in unit.readings)
        told = unit.readings[0][2]
        if precious and unit.name == "oz":
            amount = found.item.value * _TROY
    others: tuple[str, ...] = ()
    if found.by_order and role == "height" and found.lengths == 2 and (flat or usual == "length"):
        role = "length"
    if found.falling and usual in _LYING:
        others, role = (role,), _LYING[usual][role]
        told = (
            "three figures of a box are its length, width and height, or height, width and depth: measure it"
        )
    elif not role:
        role = usual or "height"
        others = tuple(r for r in ("height", "width", "diameter", "length") if r != role)
        told = "measure it: the label does not say what the size was taken over"
    elif found.item.role_word == "d" and role == "diameter":
        others, told = ("depth",), "D can stand for diameter or depth"
    value = MeasureValue(
        role=role,
        amount=round(amount, 2),
        base_unit=unit.base,
        unit=unit.name,
        as_written=found.item.written,
        over=found.item.over.lower(),
        approximate=found.item.approximate,
        readings=readings,
        same_as_written=found.twice,
    )
    return value, tuple(_with_role(value, r) for r in others if r != role), told


_LYING = {
    "length": {"height": "length", "width": "width", "depth": "height"},
    "width": {"height": "width", "width": "depth", "depth": "height"},
}
"""How falling figures of a box, or of a fender, are written, by what the thing is measured over (common practice, no source)."""


def _with_role(value: MeasureValue, role: str) -> MeasureValue:
    return MeasureValue(
        role=role,
        amount=value.amount,
        base_unit=value.base_unit,
        unit=value.unit,
        as_written=value.as_written,
    )
