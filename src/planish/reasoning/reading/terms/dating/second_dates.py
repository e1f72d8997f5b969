"""A second making date: it refines the first, or dates the part or the company named right before it."""

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.terms.phrasing.phrase import Phrase
from planish.records import DateValue, Years
from planish.records.evidence import Event


def refines(first: DateValue | None, value: DateValue) -> bool:
    """ "GEORGE II CANDLESTICKS ... circa 1750": years within the period that the heading names."""
    if first is None or not first.period or value.period:
        return False
    return _overlap(first.years, value.years)


def part_before(phrase: Phrase | None, first: DateValue | None, value: DateValue, sentence: list[int]) -> str:
    """ "stand, London 1791, now on a base of electroplate, c. 1860": a thing is not made twice, so later years that have
    nothing in common with the first are those of the part named last in the sentence; "" where there is none.
    """
    if first is None or phrase is None or not _apart(first.years, value.years):
        return ""
    if phrase.noun:
        return phrase.part if phrase.head is None else ""
    at, before = phrase.first, phrase.before
    while before is not None and sentence[before.first] == sentence[at]:
        if before.part and before.part not in ("body", "mark"):
            return before.part
        if before.noun:
            return ""
        before = before.before
    return ""


def of_another(phrase: Phrase, first: int, value: DateValue) -> tuple[Event, str] | None:
    """Event and part of years that are those of a part, of company, of the ornament or of the model; None for the thing's own.

    `first` is the token with which the date begins.
    """
    if value.event == "body_made":
        if thing := _company(phrase, first, value.said):
            return "part_made", thing
        if _of_a_model(phrase):
            return "designed", ""
        if _shown_with_its_year(phrase, first):
            return "decorated", ""
    if value.said == "dated" and phrase.part and phrase.head is not None and phrase.head.side == "part":
        return "part_made", phrase.part
    return None


def _company(phrase: Phrase, first: int, said: str) -> str:
    """ "set with a thaler of 1623", "on a stand dated 1820", "coins dated 1780 and 1790": years right behind a thing or part
    that only keeps the object company are its own; "" when they are not. `first` is the token with which the date begins.
    """
    goes_on = phrase.relation == "of" or (phrase.joined and said == "dated")
    behind = goes_on and not phrase.noun and phrase.before is not None
    owner = phrase.before if behind else phrase if phrase.noun else None
    if owner is None or owner.head is None:
        return ""
    head = owner.head
    set_off = behind and owner.relation == "," and head.side == "part"  # ", pewter cover of the 19th century"
    if owner.relation not in _COMPANY and not set_off:
        return ""
    if owner is phrase and head.entry.value.term not in _DATED_THEMSELVES and said != "dated":
        return ""
    near = (phrase.first == first and 0 < first - owner.last < 4) if behind else head.last == first
    keeps = head.mention or (head.side == "part" and bool(behind))
    return head.entry.value.term if near and keeps and head.entry.value.term not in MODELS else ""


_DATED_THEMSELVES = frozenset({"coin", "medal", "token"})
"""Company whose years stand on it: "with exhibition medals 1882-1896"."""
_COMPANY = frozenset({"with", "on", "in"})
MODELS = frozenset({"model", "original", "prototype", "pattern", "design", "example", "mould", "mold"})
"""What is no company but the forerunner of the thing."""


def _shown_with_its_year(phrase: Phrase, first: int) -> bool:
    """ "set with an 1889 crown": the years right before what is told as ornament are not the thing's."""
    head = phrase.head
    told = phrase.relation == "with" and phrase.told in ("a", "an", "the")
    return told and head is not None and head.side == "decoration" and phrase.first == first == head.first - 1


def struck_afterwards(mark: Hit, first: int, made: DateValue | None, value: DateValue) -> bool:
    """ "of c. 1800, capacity marks after 1826": years right behind a mark and later than the making are the mark's."""
    return made is not None and mark.last == first and _apart(made.years, value.years)


def _of_a_model(phrase: Phrase) -> bool:
    """ "re-cast 1900 from a model of 1750", "from an original of 1680": the years behind "of" are the forerunner's."""
    source = phrase.before
    if phrase.relation != "of" or phrase.noun or source is None or source.relation != "for":
        return False
    return any(hit.entry.value.term in MODELS for hit in source.hits)


def _apart(first: Years, second: Years) -> bool:
    return first.latest is not None and second.earliest is not None and first.latest < second.earliest


def _overlap(one: Years, other: Years) -> bool:
    if None in (one.earliest, one.latest, other.earliest, other.latest):
        return False
    return one.earliest <= other.latest and other.earliest <= one.latest  # type: ignore[operator]
