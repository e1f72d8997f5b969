"""A second making date: it refines the first, or dates the part or the company named right before it."""

from planish.reasoning.reading.terms.phrasing.phrases import Phrase
from planish.records import DateValue, Years


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


def _apart(first: Years, second: Years) -> bool:
    return first.latest is not None and second.earliest is not None and first.latest < second.earliest


def _overlap(one: Years, other: Years) -> bool:
    if None in (one.earliest, one.latest, other.earliest, other.latest):
        return False
    return one.earliest <= other.latest and other.earliest <= one.latest  # type: ignore[operator]
