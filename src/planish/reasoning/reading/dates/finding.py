"""Every date expression of a text: stretches, the event each belongs to, the styles that claim none."""

from planish.reasoning.reading.dates import kinds as k
from planish.reasoning.reading.dates.dated import Dated
from planish.reasoning.reading.dates.guards import is_a_life
from planish.reasoning.reading.dates.lexicon import Happening
from planish.reasoning.reading.dates.scanning import Tokens
from planish.reasoning.reading.dates.sheet import Sheet
from planish.reasoning.reading.dates.stretches import stretch
from planish.records.evidence import Event
from planish.records.making import ORIGINAL


class Found:
    """A stretch with its event. `first` and `last` are characters of the text."""

    __slots__ = ("dated", "denied", "event", "first", "last", "qualifier", "said")

    def __init__(self, dated: Dated, first: int, last: int) -> None:
        self.dated = dated
        self.event: Event = "body_made"
        self.said = ""
        self.qualifier = ""
        self.denied = False
        self.first = first
        self.last = last


_STARTS = frozenset(
    {
        k.NUM, k.DECADE, k.MASK, k.ORD, k.ORDCENT, k.LETTER_C, k.CIRCA, k.LIKELY, k.POSSIBLE, k.QUERY, k.PART, k.BEFORE,
        k.BY, k.AFTER, k.FROM, k.BETWEEN, k.MONTH, k.SEASON, k.TURN, k.PERIOD, k.AD, k.REIGNOF, k.STYLEOF,
    }
)  # fmt: skip
_KEEPS_EVENT = frozenset({k.FILL, k.COMMA, k.COLON, k.DOT, k.DASH, k.COUNTRY, k.LPAR, k.QUOTE})
_REACH = 4
"""Tokens between the verb and its date, at most."""


def find(s: Sheet) -> list[Found]:
    """All stretches of the sheet in the order in which they stand."""
    t = s.t
    kind = t.kind
    found: list[Found] = []
    verb = heard = -1
    i = 0
    while i < t.count:
        now = kind[i]
        if now in _STARTS and (dated := stretch(s, i)) is not None:
            if not _set_aside(s, dated):
                if (
                    verb < 0
                    and found
                    and kind[dated.start - 1] == k.AND
                    and found[-1].dated.next == dated.start - 1
                ):
                    verb = heard
                found.append(
                    _with_event(t, dated, verb if verb >= 0 and _holds(t, verb, dated.start) else -1)
                )
                if not dated.opening:
                    s.anchor = max(dated.wlo, 0)
            i = dated.next
            heard, verb = verb, -1
            continue
        if now == k.EVENT:
            verb = i
        elif verb >= 0 and (now not in _KEEPS_EVENT or i - verb > _REACH):
            verb = -1
        i += 1
    return _glossed(t, found) if len(found) > 1 else found


def _set_aside(s: Sheet, dated: Dated) -> bool:
    if s.liberal or dated.grain != "year":
        return False
    return is_a_life(s.t, dated.start, dated.next, dated.lo, dated.hi, s.lexicon)


def _with_event(t: Tokens, dated: Dated, verb: int) -> Found:
    found = Found(dated, t.start[dated.start], 0)
    found.denied = dated.start > 0 and t.kind[dated.start - 1] == k.NOT
    after = t.kind[dated.next]
    if dated.opening == "after" and after in (k.ORIGINAL, k.EVENT) and _is_a_model(t, dated.next):
        found.event, found.said = "designed", ORIGINAL
        dated.opening = ""
        dated.next += 1
    elif verb >= 0:
        _happened(found, t, verb, t.value[verb])
        if verb + _REACH >= dated.start - 1 and not _others_between(t, verb, dated.start):
            found.first = t.start[verb]
    elif after in (k.LPAR, k.EVENT):
        _trailing_verb(found, t, dated.next)
    found.last = t.end[dated.next - 1]
    return found


def _others_between(t: Tokens, verb: int, start: int) -> bool:
    """True when something else is read between the verb and its date: "dated 1743 and 1751", "hallmarked, London, 1790"."""
    between = t.kind[verb:start]
    return k.NUM in between or k.COUNTRY in between


_OF_THE_SURFACE = frozenset({"decorated", "inscribed", "repair"})


def _holds(t: Tokens, verb: int, start: int) -> bool:
    """False where a comma ends the phrase of the verb, so that the date is the object's.

    "Later engraved, Dutch, c. 1760" dates the object, "hallmarked, London, 1790" the hallmark; "engraved decoration,
    c. 1720" dates the object, "regilt, 1850" the gilding.
    """
    what: Happening = t.value[verb]
    between = t.kind[verb + 1 : start]
    if what.event not in _OF_THE_SURFACE or what.qualifies or k.COMMA not in between:
        return True
    return k.COUNTRY not in between and (what.event != "decorated" or what.afterwards)


def _is_a_model(t: Tokens, i: int) -> bool:
    """True for the noun in "after 1806 original", "after c. 1865 negative": the year is the model's."""
    return t.kind[i] == k.ORIGINAL or t.kind[i + 1] in (k.END, k.RPAR, k.COMMA, k.SEMI)


def _trailing_verb(found: Found, t: Tokens, after: int) -> None:
    """1956 (designed); 1978 cast after 1939 original; c. 1867 copy."""
    bracketed = t.kind[after] == k.LPAR
    at = after + bracketed
    if t.kind[at] != k.EVENT:
        return
    closes = (
        t.kind[at + 1] == k.RPAR if bracketed else t.kind[at + 1] in (k.END, k.AFTER, k.COMMA, k.SEMI, k.FROM)
    )
    if closes and (bracketed or t.kind[after] == k.EVENT):
        _happened(found, t, at, t.value[at])
        found.dated.next = at + 1 + bracketed


def _happened(found: Found, t: Tokens, verb: int, what: Happening) -> None:
    found.event = what.event
    found.said = t.text[t.start[verb] : t.end[verb]]
    if what.qualifies:
        found.qualifier = found.said


_GLOSS_SLACK = 20
"""Years by which a gloss in brackets may differ at each end from the table's period."""


def _glossed(t: Tokens, found: list[Found]) -> list[Found]:
    """A period followed by its own years, "Ming dynasty (1368-1644)", is one claim with the years as written."""
    kept = [found[0]]
    for one in found[1:]:
        if _is_gloss(t, kept[-1].dated, one):
            period = kept[-1].dated
            period.lo, period.hi = one.dated.lo, one.dated.hi
            period.wlo, period.whi = one.dated.wlo, one.dated.whi
            period.codes, period.other, period.told = one.dated.codes, (), ""
            period.settings = ("period as glossed",)
            period.next = one.dated.next
            closed = t.kind[period.next] == k.RPAR and t.kind[one.dated.start - 1] == k.LPAR
            kept[-1].last = t.end[period.next] if closed else one.last
            continue
        kept.append(one)
    return kept


def _is_gloss(t: Tokens, period: Dated, one: Found) -> bool:
    dated = one.dated
    if period.grain != "period" or dated.grain != "year" or dated.lo == dated.hi or dated.circa or one.said:
        return False
    between = range(period.next, dated.start)
    if len(between) > 2 or any(t.kind[j] not in (k.LPAR, k.COMMA, k.COLON, k.FILL) for j in between):
        return False
    return abs(dated.lo - period.lo) <= _GLOSS_SLACK and abs(dated.hi - period.hi) <= _GLOSS_SLACK
