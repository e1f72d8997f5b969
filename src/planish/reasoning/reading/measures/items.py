"""One figure with what stands right beside it: unit, role, what it was taken over."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planish.reasoning.reading.measures.figures import FIGURE, has_fraction, value_of
from planish.reasoning.reading.measures.units import Unit, UnitTable, unit_key

_DIGIT = re.compile(r"[\d¼½¾⅐-⅞]")
_FIGURE = re.compile(rf"(?<![\d.,£$€/⁄]){FIGURE}")
"""One figure that is no price and no rest of another. Tried only where a digit stands: that is found many times as fast."""
_HEDGES = ("approximately", "approx.", "approx", "circa", "ca.", "ca", "c.", "about", "around", "~")
"""What may stand before a figure, the longest first."""
_GO_ON = re.compile(r"\.?\)?\s*(?:x|×|X|by|\*)\s*\(?\s*(?:[hwdlHWDL]\.?:?\s*)?[\d¼½¾⅐-⅞]")
_IN_OF_MEASURE = re.compile(
    r"\s*(?:$|[.,;:)(/|\n\[]|[x×]\s|in\s+(?:sq|diam|length|height|width|depth|heigth)|by\s|high|tall|wide|long|deep|diam|dia\b|across|over|overall|and\s|at\s|to\s|h\b|w\b|d\b|l\b|thick|length|height|width|depth|approx|max|including|excluding|\d|[-–—])",
    re.IGNORECASE,
)
_COMPARED = re.compile(
    r"\s?-?[^\W\d_]{1,6}\.?\s+(?:shorter|longer|taller|wider|higher|lower|smaller|larger|bigger|heavier|lighter|thicker|thinner|deeper|less|more|apart|down\s+to|up\s+to)\b",
    re.IGNORECASE,
)
"""A figure that compares two things or bounds a set measures none of them."""
_TO_WEIGH = re.compile(r"\b(?:weigh|weighs|weighing) (?:up )?(?:to |from )$|\bto weigh $", re.IGNORECASE)
"""Before what scales can weigh: "to weigh 7 lb", "weighing up to 2 cwt"."""
_GOLD = re.compile(r"\.?\s*(?:yellow |white |rose |red )?gold", re.IGNORECASE)
_FINE = frozenset({8, 9, 10, 12, 14, 15, 18, 20, 21, 22, 24})
"""Carats that tell how fine gold is: 8 to 24 (hallmarking law of several countries, from memory)."""
_GEM = re.compile(
    r"[^.;\n]{0,24}?\b(?:diamond(?!s?[ -](?:point|knop|shaped|form|pattern))|sapphire|ruby|rubies|emerald|stone|gems?\b|gemstone|aquamarine|topaz|citrine|amethyst|total)",
    re.IGNORECASE,
)
_HIGH = re.compile(
    r"\) (?:(?:high|tall|wide|long|deep|across)|in (?:height|width|length|depth|diameter))\b(?!:)",
    re.IGNORECASE,
)
"""Behind a bracket only words that follow a figure: "width" there begins the next size."""
_SAID = r"(?:[hwdlHWDL]|[Dd]iam(?:eter)?|[Dd]ia|[Hh]igh|[Hh]eight|[Ww]ide|[Ww]idth|[Dd]eep|[Dd]epth|[Ll]ong|[Ll]ength)\b"
_BEHIND_BRACKET = re.compile(rf"\) ?{_SAID}(?=\.?\s*(?:$|[,;)\n])|\.\s+[^\W\d]|\s+[A-Z][a-z]{{3}})")
"""30 cm (12 in.) diameter, 12 cm (5 in.) height: where a stop or a new thing follows, the word belongs to the figure before it."""
_SAID_BEHIND = re.compile(
    rf"\)?[ .]*({_SAID})\.?,?\s*(?:[\d¼½¾⅐-⅞][\d./ ¼½¾⅐-⅞]*(?:[cm]m|ins?|inches|[\"”])\.?\s*"
    rf"(?:\([^)]{{2,18}}\)\s*)?{_SAID}\.?,?\s*)+(?![\d¼½¾⅐-⅞\s])"
)
"""10 in. H. 4 in. W.: as many words of size as figures, and a figure came first, so each word speaks of the one before it."""
_LETTERS = re.compile(r"[^\W\d_]+|⌀")
_OF_LENGTH = frozenset({"height", "width", "depth", "diameter", "length", "circumference", "thickness"})
_NEXT_SIZE = re.compile(
    r" ?(?:of|inc\.?|incl\.?|including|excluding|across|over|at|to|\() ?[^.;\n\d]{0,24}\d", re.IGNORECASE
)
"""Behind a word of size that opens its sentence: "21 cm. Diameter of base 11.7 cm" begins the next size."""
_IS_SIZE = re.compile(
    r"\s*(?:x|×|by|\d|high|tall|wide|long|deep|diam|across|in\s|over|h\b|w\b|l\b|d\b|\()", re.IGNORECASE
)
"""What follows a length in feet; without it "3 feet" are what the thing stands on."""
_SAID_AFTER = frozenset({"high", "tall", "wide", "long", "deep", "across"})
"""Words of size that follow their figure; behind a comma any other belongs to the figure after it: "10 in, diam. 20"."""
_IN_STATE = re.compile(
    r" (?:when |fully |if |with (?:the )?(?:handle|handles|lid|leaves|flap|flaps) )?"
    r"(extended|open|opened|closed|folded|unfolded|unextended|raised|up|down)\b(?! [a-z]{4})",
    re.IGNORECASE,
)
_OVER = re.compile(
    r" (over|across|excluding|excl\.?|including|incl\.?|inc\.?|without|not including) (?:the )?"
    r"(handles?|spout|ears?|lugs?|lid|cover|finial|knob|knop|handle and spout|stand|base|plinth|fittings?|drip ?pans?|nozzles?|glass|shade|candles?)\b",
    re.IGNORECASE,
)
_STATE_BEFORE = re.compile(
    r"(?<![^\W_])(extended|open|closed|folded|extends to|extending to|opens to|closes to|opening to)\s?:?\s$",
    re.IGNORECASE,
)
"""Long things that slide, open and fold have two sizes; what a size leaves out or takes in is told right behind it."""
_ON_TOP = frozenset({"handle", "lid", "cover", "finial", "knob", "knop", "shade", "candle", "glass"})
"""Over these a size is no width: a kettle over its handle is measured up, a mug over its handle across."""
_UPRIGHT = frozenset({"stands", "standing", "stood"})
"""Verbs before a figure that another word of size may follow: "stands 13 in. high, 5 in. wide"."""
_FEET = frozenset("'′’")
_WINDOW = 48
_BETWEEN = " -\t\n\r\x0b\x0c\x1c\x1d\x1e\x1f"
"""What may stand between a figure and its unit; blanks beyond ASCII are left to the expression."""
_BEFORE_ROLE = _BETWEEN + ".,("


@dataclass(slots=True, eq=False)
class Item:
    """A figure at `start`..`end` (its unit and role words included). `figure_end` is where the figure itself ends."""

    start: int
    figure_end: int
    end: int
    value: float
    written: str
    unit: Unit | None = None
    role_word: str = ""
    role: str = ""
    over: str = ""
    prefixed: bool = False
    approximate: bool = False


def items_in(text: str, table: UnitTable, skip: Sequence[tuple[int, int]]) -> Iterator[Item]:
    """Figures that can be measures, from left to right. `skip` lists characters that others have read (dates)."""
    position, gap = 0, 0
    last: Item | None = None
    while digit := _DIGIT.search(text, position):
        match = _FIGURE.match(text, digit.start())
        if match is None:
            position = digit.end()
            continue
        start, end = match.span()
        while gap < len(skip) and skip[gap][1] <= start:
            gap += 1
        if gap < len(skip) and skip[gap][0] < end:
            position = max(end, skip[gap][1])
            continue
        value = value_of(match.group())
        position = end
        if value is None:
            continue
        before = text[max(0, start - 20) : start]
        if ("eigh" in before.lower() and _TO_WEIGH.search(before)) or _COMPARED.match(text, end, end + 24):
            continue
        item = _item(text, table, Item(start, end, end, value, match.group()), last)
        position = max(position, item.end)
        last = item
        yield item


def _item(text: str, table: UnitTable, item: Item, last: Item | None) -> Item:
    _look_before(text, table, item, last.end if last else 0)
    unit = _unit_at(text, table, item.figure_end)
    if unit and _is_unit(text, item, unit):
        item.unit = table.units.get(unit_key(unit[1]))
        item.end = unit.end()
        if text[item.end : item.end + 1] == "." and unit[1][-1].isalpha():
            item.end += 1
    if not item.role_word or item.role_word in _UPRIGHT or (item.unit is not None and not item.prefixed):
        _look_after(text, table, item, leads=last is not None and last.prefixed)
    if not item.role_word and item.unit is not None:
        _look_behind(text, table, item, last)
    if item.unit is not None and item.unit.base == "mm" and not item.over:
        _look_at_state(text, item, last.end if last else 0)
    return item


def _look_at_state(text: str, item: Item, not_before: int) -> None:
    """ "75 cm extended", "closed 12 cm", "31 cm over handles": in what state, or over what, a bare size was taken."""
    if text[item.end : item.end + 1] == " ":
        if state := _IN_STATE.match(text, item.end, item.end + _WINDOW):
            item.over, item.end = state[1], state.end()
            return
        if over := _OVER.match(text, item.end, item.end + _WINDOW):
            across = over[1].lower() in ("over", "across") and not item.role_word
            item.over, item.end = over[2], over.end()
            if across and over[2].lower() not in _ON_TOP:
                item.role_word, item.role = "across", "width"
            return
    window = text[max(not_before, item.start - 24) : item.start]
    if window[-1:] in " :" and (state := _STATE_BEFORE.search(window)):
        item.over, item.start = state[1], item.start - len(window) + state.start(1)


def _look_behind(text: str, table: UnitTable, item: Item, last: Item | None) -> None:
    """The word of size behind a bracket, or before the next figure where every word stands behind its own."""
    if _HIGH.match(text, item.end) or _BEHIND_BRACKET.match(text, item.end):
        _look_past_bracket(text, table, item)
    elif (last is None or not last.prefixed) and (behind := _SAID_BEHIND.match(text, item.end)):
        item.role_word = unit_key(behind[1])
        item.role, item.end = table.roles.get(item.role_word, ""), behind.end(1)


def _look_past_bracket(text: str, table: UnitTable, item: Item) -> None:
    """13¼ in (33.5 cm) high: the role of a size given twice stands after the second."""
    end = item.end
    item.end += 1
    _look_after(text, table, item)
    if not item.role_word:
        item.end = end


def _unit_at(text: str, table: UnitTable, at: int) -> re.Match[str] | None:
    """The unit that stands at `at`; one look at its first letter spares most figures the long expression."""
    first = text[at : at + 4].lstrip(_BETWEEN)[:1]
    if not first.isascii():
        return table.unit.match(text, at, at + 24)
    of_letter = table.unit_begins.get(first.lower())
    return of_letter.match(text, at, at + 24) if of_letter is not None else None


def _look_before(text: str, table: UnitTable, item: Item, not_before: int) -> None:
    begin = max(not_before, item.start - _WINDOW)
    window = text[begin : item.start]
    hedged = _hedge_in(window)
    if hedged >= 0:
        item.approximate = True
        window = window[:hedged]
    before = table.role_before.search(window) if _may_name_a_role(window, table) else None
    if before is None:
        if hedged >= 0:
            item.start = begin + hedged
        return
    if len(before[2]) == 1 and before[3] and window[: before.start(2)].endswith("."):
        return
    if before[2].lower() == "weight" and window[before.end(2) :].lstrip().startswith(","):
        return  # "lead weight, 56 lb"
    item.prefixed = True
    item.role_word = unit_key(before[2])
    item.role = table.roles.get(item.role_word, "")
    item.over = before[3] or before[4] or ""
    item.start = begin + before.start(2)


def _hedge_in(window: str) -> int:
    """Where the "approx." or "c." at the end of `window` begins; -1 when there is none."""
    near = window.rstrip().lower()
    if not near.endswith(_HEDGES):
        return -1
    return next(len(near) - len(hedge) for hedge in _HEDGES if near.endswith(hedge))


def _may_name_a_role(window: str, table: UnitTable) -> bool:
    """A quick look: most figures have no word of size among the seven before them."""
    return not table.role_words.isdisjoint(_LETTERS.findall(window.lower())[-7:])


def _look_after(text: str, table: UnitTable, item: Item, *, leads: bool = False) -> None:
    """The word of size behind a figure. `leads` is True where the writer puts such words before their figures."""
    follows = text[item.end : item.end + _WINDOW].lstrip(_BEFORE_ROLE)
    if follows[:1].isascii():
        opens = _LETTERS.match(follows)
        if opens is None or opens.group().lower() not in table.role_opens:
            return
    after = table.role_after.match(text, item.end, item.end + _WINDOW)
    if after is None:
        return
    word = unit_key(after[1])
    rest = text[after.end(1) : after.end(1) + 8].lstrip(" .:=")
    if (
        rest[:1].isdigit()
        and after[2] is None
        and (len(word) <= 2 or word.endswith("t") or (word.endswith("h") and word != "high") or leads)
    ) or ("," in text[item.end : after.start(1)] and len(word) <= 2):
        return
    if "," in text[item.end : after.start(1)] and rest[:1].isdigit() and word not in _SAID_AFTER:
        return
    if _NEXT_SIZE.match(text, after.end(1), after.end(1) + 40) and text[after.start(1)].isupper():
        return
    if "(" in text[item.end : after.start(1)] and ")" not in text[after.end(1) : after.end() + 1]:
        return
    role = table.roles.get(word, "")
    if item.unit is not None and item.unit.base != "mm" and role in _OF_LENGTH:
        return  # "10.6 troy oz. Diameter 18 cm"
    item.role_word, item.role, item.over = word, role, after[2] or ""
    item.end = after.end() if after[2] or text[after.end() - 1] == ")" else after.end(1)
    unit = _unit_at(text, table, item.end) if item.unit is None else None
    if unit and _is_unit(text, item, unit):
        item.unit = table.units.get(unit_key(unit[1]))
        item.end = unit.end()


def _is_unit(text: str, item: Item, unit: re.Match[str]) -> bool:
    word, end = unit[1].lower(), unit.end()
    spaced = text[unit.start() : unit.start() + 1].isspace()
    if word in ("in", "ins"):
        dotted = text[end : end + 1] == "."
        return (
            dotted
            or not spaced
            or has_fraction(item.written)
            or _IN_OF_MEASURE.match(text, end, end + 12) is not None
        )
    if word == "feet" and item.value in (2, 3, 4, 6, 8) and not _IS_SIZE.match(text, end, end + 14):
        return False
    if word in _FEET:
        return _GO_ON.match(text, end) is not None or text[end : end + 2].strip()[:1].isdigit()
    if not word[0].isalpha():
        return item.value < 500 and not _opened(text, item.start)
    if word in ("ct", "cts", "carat", "carats"):
        fineness = item.value in _FINE and not _GEM.match(text, end, end + 40)
        return not fineness and _GOLD.match(text, end) is None
    if word in ("l", "st", "m"):
        return (word != "st" or spaced) and not (unit[1] == "L" and _GO_ON.match(text, end))
    return True


def _opened(text: str, start: int) -> bool:
    """True when a quotation mark has been opened shortly before, so that the next one closes it."""
    window = text[max(0, start - _WINDOW) : start]
    at = max(window.rfind('"'), window.rfind("“"))
    if at < 0 or "\n" in window[at:]:
        return False
    if window[at] == "“":
        return True
    before = window[at - 1 : at] if at else ""
    return not (before.isdigit() or before in "¼½¾⅐⅛⅜⅝⅞") and window[at + 1 : at + 2] != " "
