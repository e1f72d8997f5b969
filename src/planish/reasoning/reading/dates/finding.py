"""Every date expression of a text: stretches, the event each belongs to, the styles that claim none."""

from itertools import compress, count

from planish.reasoning.reading.dates import kinds as k
from planish.reasoning.reading.dates.dated import Dated, year_code
from planish.reasoning.reading.dates.guards import is_a_life
from planish.reasoning.reading.dates.hijri import SETTING, years_of_hijra
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
        k.BY, k.AFTER, k.NOTBEFORE, k.NOTAFTER, k.FROM, k.BETWEEN, k.MONTH, k.SEASON, k.TURN, k.PERIOD, k.AD, k.REIGNOF, k.STYLEOF,
        k.CARDINAL, k.WORDDECADE, k.DECADEOF, k.HIJRI, k.REPUBLIC, k.TO,
    }
)  # fmt: skip
_LEANS = frozenset(
    {k.CIRCA, k.LIKELY, k.POSSIBLE, k.QUERY, k.BEFORE, k.BY, k.AFTER, k.NOTBEFORE, k.NOTAFTER, k.FROM, k.BETWEEN, k.AD, k.REIGNOF, k.TO}
)  # fmt: skip
"""What leans on a unit of time: right before any other word ("by Paul") it begins no date."""
_KEEPS_EVENT = frozenset({k.FILL, k.COMMA, k.COLON, k.DOT, k.DASH, k.COUNTRY, k.LPAR, k.QUOTE})
_KEEPS_REPAIR = frozenset({*_KEEPS_EVENT, k.WORD, k.CARDINAL, k.TO, k.BY} - {k.COMMA, k.LPAR})
_REACH = 4
"""Tokens between the verb and its date, at most."""
_KEEPS_MAKER = frozenset({*_KEEPS_REPAIR, k.FILL, k.DOT, k.LETTER_C, k.UNIT, k.AND})
"""In a date field the verb of "cast by Barbedienne 1900" is heard through the name; initials can be of other classes."""
_MAKER_REACH = 7
_REPAIR_REACH = 5
"""The same for "converted to an oil lamp about 1850"."""
_OF_AN_EVENT = ("commemorat", "celebrat", "in memory", "in commemoration")
"""Verbs heard through the name of what happened: "commemorating the battle of Wexcombe 1805"."""
_OUTLIVES = frozenset({"repair", "remade", "copied", "decorated", "body_made", "cast"})
"""Events that say more of the object than the one joined to them by "and": "reworked and exhibited 1847"."""


class _Heard:
    """What was heard before a date: the verb, the verb before it, the phrase that brings in a model."""

    __slots__ = ("before", "model", "s", "verb")

    def __init__(self, s: Sheet) -> None:
        self.s = s
        self.verb = self.before = self.model = -1

    def date_read(self) -> None:
        self.before, self.verb, self.model = self.verb, -1, -1

    def again(self, last: Found, dated: Dated) -> None:
        """ "Dated 1743 and 1751": the second date has the verb of the first."""
        joined = self.s.t.kind[dated.start - 1] == k.AND and last.dated.next == dated.start - 1
        if self.verb < 0 and joined:
            self.verb = self.before

    def anything(self) -> bool:
        return self.verb >= 0 or self.model >= 0

    def through(self, first: int, last: int) -> bool:
        """Listen to tokens `first` up to `last` for as long as there is something to keep; whether there still is."""
        for i in range(first, last):
            self.listen(i)
            if not self.anything():
                return False
        return True

    def listen(self, i: int) -> None:
        """Take in the token at `i`, which begins no date."""
        now = self.s.t.kind[i]
        if now == k.EVENT and not _describes(self.s, i):
            joined = 0 <= self.verb == i - 2 and self.s.t.kind[i - 1] == k.AND
            if not (joined and self.s.t.value[self.verb].event in _OUTLIVES):
                self.verb = i
        elif self.verb >= 0 and not self._lasts(i, now):
            self.verb = -1
        if now == k.MODELOF:
            self.model = i
        elif now in _ENDS_MODEL:
            self.model = -1

    def _lasts(self, i: int, now: int) -> bool:
        t = self.s.t
        if now == k.AND:
            return t.kind[i + 1] == k.EVENT and self.verb == i - 1
        if now == k.DOT and not self.s.liberal and _sentence_over(t, i):
            return False
        told = t.value[self.verb].event == "repair" or t.text.startswith(_OF_AN_EVENT, t.start[self.verb])
        if told and now in _KEEPS_REPAIR:
            return i - self.verb <= _REPAIR_REACH
        if self.s.liberal and t.kind[self.verb + 1] == k.BY and now in _KEEPS_MAKER:
            return i - self.verb <= _MAKER_REACH
        return now in _KEEPS_EVENT and i - self.verb <= _REACH


def _sentence_over(t: Tokens, i: int) -> bool:
    """ "Re-tinned. Victorian": the stop at `i`, behind a word written out and before a space, ends what the verb says."""
    word = t.end[i - 1] - t.start[i - 1] if i else 0
    spelt = word > _SHORTENED or t.kind[i + 1] in (k.WORD, k.COUNTRY, k.EVENT)
    return spelt and t.end[i] < t.start[i + 1]


_SHORTENED = 4
"""Letters of a word, at most, that a stop may shorten: engr., repl."""
_ENDS_MODEL = frozenset({k.COMMA, k.SEMI, k.DOT, k.LPAR, k.RPAR, k.AND})


def _describes(s: Sheet, i: int) -> bool:
    """True for a noun that only describes the thing, "a fern pattern", and so begins no event in running text."""
    if s.liberal or not s.t.value[i].noun or i == 0:
        return False
    return s.t.kind[i - 1] in (k.WORD, k.COUNTRY, k.PERIOD, k.QUOTE, k.STYLENOUN)


def find(s: Sheet) -> list[Found]:
    """All stretches of the sheet in the order in which they stand."""
    t = s.t
    kind = t.kind
    found: list[Found] = []
    heard = _Heard(s)
    after, hears = 0, False
    passed = 0
    for i in compress(count(), map(_NOTABLE.__contains__, kind)):
        if hears:
            hears = heard.through(max(passed, after), i)
        passed = i + 1
        if i < after:
            continue
        now = kind[i]
        if now == k.QUERY and _asks_of_the_word(t, i):
            continue
        begins = now in _STARTS and not (
            _counts(s, i) if now == k.NUM else now in _LEANS and kind[i + 1] == k.WORD
        )
        if begins and (dated := stretch(s, i)) is not None:
            if not _set_aside(s, dated):
                if found:
                    heard.again(found[-1], dated)
                found.append(_with_event(s, dated, heard))
                if len(found) > 1 and _lettered_otherwise(t, found[-2], found[-1]):
                    found[-1].event = "inscribed"
                if heard.model >= 0 and len(found) > 1 and found[-2].dated.next == heard.model:
                    _is_a_copy(found[-2], t.value[heard.model])
                if not dated.opening:
                    s.anchor = max(dated.wlo, 0)
            after = dated.next
            heard.date_read()
        elif now == k.EVENT and t.value[i].later and found and (later := _later(s, i, found[-1])):
            found.append(later)
        else:
            heard.listen(i)
        hears = heard.verb >= 0 or heard.model >= 0
    return _glossed(t, found) if len(found) > 1 else found


def _lettered_otherwise(t: Tokens, made: Found, dated: Found) -> bool:
    """ "1929 (dated 1930)": behind a plain year of making, a bracket tells what other year the letters on the thing bear."""
    exact = not made.dated.circa and not made.dated.hedge and not made.dated.opening and not made.qualifier
    if not exact or made.dated.lo != made.dated.hi or made.dated.grain != "year":
        return False
    begins = made.dated.next
    bracketed = t.kind[begins] == k.LPAR and t.start[begins + 1] == dated.first
    return bracketed and dated.qualifier.lower() in _DATED and dated.dated.lo != made.dated.lo


_DATED = frozenset({"dated", "datiert", "daté", "datée", "datato", "datata", "gedateerd"})


def _counts(s: Sheet, i: int) -> bool:
    """ "24 x 10 cm", "5/8 in", "3 1/4": in running text no date begins with such a number, so none is looked for."""
    t = s.t
    if s.liberal or t.digits[i] > 2 or (i and t.kind[i - 1] == k.QUOTE):
        return False
    after = t.kind[i + 1]
    if after == k.SLASH:
        return t.kind[i + 2] == k.NUM and t.kind[i + 3] == k.UNIT
    return after in _OF_A_COUNT


_OF_A_COUNT = frozenset({k.UNIT, k.NUM, k.FILL, k.LPAR})


def _asks_of_the_word(t: Tokens, i: int) -> bool:
    """ "Danish? 18th century": the mark of question touches the word before it and leaves the date alone."""
    asked = i > 0 and t.kind[i - 1] in (k.WORD, k.COUNTRY, k.UNIT) and t.touching(i)
    return asked and (t.kind[i + 1] == k.COMMA or not t.touching(i + 1))


_NOTABLE = frozenset({*_STARTS, k.EVENT, k.MODELOF})
"""Classes that can begin a date or what is heard before one: all others are passed over until something is heard."""


def _tells_of_a_noun(s: Sheet, i: int) -> bool:
    """ "With later cast brass handles": before the noun it describes, the word dates that noun and not the thing."""
    t = s.t
    return not s.liberal and t.kind[i + 1] == k.WORD and t.text[t.start[i + 1]].islower()


def _later(s: Sheet, i: int, before: Found) -> Found | None:
    """ "1954, printed later": an event with no year of its own, so some year from the last one on."""
    t = s.t
    if _tells_of_a_noun(s, i):
        return None
    j = i + 1
    while t.kind[j] in (k.FILL, k.COMMA) and j < i + 3:
        j += 1
    if t.kind[j] in _STARTS or before.dated.grain == "style" or before.dated.opening == "before":
        return None
    year = before.dated.hi
    dated = Dated("year", year, year, year_code(year), i, i + 1)
    dated.opening = "after"
    dated.hedge = {k.LIKELY: 1, k.POSSIBLE: 2, k.QUERY: 2}.get(t.kind[i - 1], 0)
    found = Found(dated, t.start[i - (dated.hedge > 0)], t.end[i])
    _happened(found, t, i, t.value[i])
    return found


def _set_aside(s: Sheet, dated: Dated) -> bool:
    if s.liberal or dated.grain != "year":
        return False
    return is_a_life(s.t, dated.start, dated.next, dated.lo, dated.hi, s.lexicon)


def _with_event(s: Sheet, dated: Dated, heard: _Heard) -> Found:
    t = s.t
    held = heard.verb >= 0 and _holds(s, heard.verb, dated.start) and not _both_describe(s, heard.verb, dated)
    verb = heard.verb if held else -1
    if verb >= 0 and dated.rows and t.text.startswith(_OF_AN_EVENT, t.start[verb]):
        verb = -1  # "commemorating the jubilee of George III": whom it honours
    found = Found(dated, t.start[dated.start], 0)
    found.denied = dated.start > 0 and t.kind[dated.start - 1] == k.NOT
    if found.denied and " " in t.text[t.start[dated.start - 1] : t.end[dated.start - 1]]:
        found.first = t.start[dated.start - 1]
    after = t.kind[dated.next]
    if heard.model >= 0 and heard.model >= verb:
        found.event, found.said = "designed", ORIGINAL
        dated.next += after in (k.ORIGINAL, k.EVENT) and _is_a_model(t, dated.next)
    elif dated.opening == "after" and after in (k.ORIGINAL, k.EVENT) and _is_a_model(t, dated.next):
        found.event, found.said = "designed", ORIGINAL
        dated.opening = "before" if t.kind[dated.start + 1] == k.BEFORE else ""
        dated.next += 1
    elif s.liberal and (part := _part_named(t, dated)):
        found.event, found.said = "part_made", part
    elif _is_later(s, dated.start):
        found.event, found.said = "repair", t.text[t.start[dated.start - 2] : t.end[dated.start - 2]]
    elif verb >= 0:
        _happened(found, t, verb, t.value[verb])
        if verb + _REACH >= dated.start - 1 and not _others_between(t, verb, dated.start):
            found.first = t.start[verb]
    elif after in (k.LPAR, k.EVENT):
        _trailing_verb(found, t, dated.next)
    quoted = found.first < t.start[dated.start] and t.kind[dated.start - 1] == t.kind[dated.next] == k.QUOTE
    found.last = t.end[dated.next - 1 + quoted]
    return found


def _part_named(t: Tokens, dated: Dated) -> str:
    """The mounts of "1785 (mounts c. 1860)" and "with 19th-century mounts", whose years are not the object's; empty when none."""
    j = dated.next
    if t.kind[j] != k.PARTNOUN:
        j = dated.start - 1
        while j > 0 and t.kind[j] in (k.FILL, k.COLON):
            j -= 1
        if j < 0 or t.kind[j] != k.PARTNOUN:
            return ""
    return t.text[t.start[j] : t.end[j]]


def _is_later(s: Sheet, start: int) -> bool:
    """True for the bracket of "with later (C19th) ring": something newer than the object."""
    t = s.t
    if s.liberal or start < 2 or t.kind[start - 1] != k.LPAR or t.kind[start - 2] != k.WORD:
        return False
    return t.text[t.start[start - 2] : t.end[start - 2]].lower() in s.lexicon.newer


def _is_a_copy(found: Found, event: Event) -> None:
    """ "19th c. copy of a 16th c. ewer": the years before the phrase are the copy's."""
    if found.event == "body_made" and not found.said:
        found.event = event


def _others_between(t: Tokens, verb: int, start: int) -> bool:
    """True when something else is read between the verb and its date: "dated 1743 and 1751", "hallmarked, London, 1790"."""
    between = t.kind[verb:start]
    return k.NUM in between or k.COUNTRY in between


_OF_THE_SURFACE = frozenset({"decorated", "inscribed", "repair"})


def _holds(s: Sheet, verb: int, start: int) -> bool:
    """False where a comma ends the phrase of the verb, so that the date is the object's.

    "Later engraved, Dutch, c. 1760" dates the object, "hallmarked, London, 1790" the hallmark; "engraved decoration,
    c. 1720" dates the object, "regilt, 1850" the gilding, and "of fern pattern, 1855" the object.
    """
    what: Happening = s.t.value[verb]
    between = s.t.kind[verb + 1 : start]
    if between[:1] == [k.COMMA] and s.t.text[s.t.start[verb] : s.t.start[verb + 1]] == "pat":
        return False  # a butter pat; "Pat. 1850" has its stop
    if what.noun and not s.liberal:
        return k.COMMA not in between
    if what.event == "decorated" and between[:1] == [k.DASH]:
        return False  # "Gilt - Birmingham 1843"
    if what.event not in _OF_THE_SURFACE or what.qualifies or k.COMMA not in between:
        return True
    return k.COUNTRY not in between and (what.event != "decorated" or what.afterwards)


def _both_describe(s: Sheet, verb: int, dated: Dated) -> bool:
    """ "Engraved Georgian copper kettle": right before the name of a period that a noun follows, both describe the noun."""
    t = s.t
    beside = not s.liberal and verb == dated.start - 1 and dated.grain != "year"
    return beside and t.kind[dated.next] == k.WORD and t.text[t.start[dated.next]].islower()


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
        if _is_the_same_year(t, kept[-1].dated, one.dated):
            one.first, one.event, one.said = kept[-1].first, kept[-1].event, kept[-1].said
            one.last = t.end[one.dated.next] if t.kind[one.dated.next] == k.RPAR else one.last
            one.dated.settings = (*one.dated.settings, SETTING)
            kept[-1] = one
            continue
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


def _is_the_same_year(t: Tokens, one: Dated, other: Dated) -> bool:
    """ "dated 1097 (1686)": a year of the Hijra, told again in brackets by our calendar."""
    if not (one.grain == other.grain == "year" and one.lo == one.hi and 0 < one.lo < _HIJRA_NOW):
        return False
    if other.start != one.next + 1 or t.kind[one.next] != k.LPAR or one.circa or one.opening:
        return False
    first, last = years_of_hijra(one.lo)
    return first - 1 <= other.lo <= other.hi <= last + 1


_HIJRA_NOW = 1450
"""A year of the Hijra that no label can yet bear."""


def _is_gloss(t: Tokens, period: Dated, one: Found) -> bool:
    dated = one.dated
    if period.grain != "period" or dated.grain != "year" or dated.lo == dated.hi or dated.circa or one.said:
        return False
    between = range(period.next, dated.start)
    if len(between) > 2 or any(t.kind[j] not in (k.LPAR, k.COMMA, k.COLON, k.FILL) for j in between):
        return False
    return abs(dated.lo - period.lo) <= _GLOSS_SLACK and abs(dated.hi - period.hi) <= _GLOSS_SLACK
