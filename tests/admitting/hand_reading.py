"""Readings made by hand, so that these tests rest on no reader: each claim is (words, side, value)."""

from planish.records import Claim, ClaimValue, ListedObject, Reading, Side, Span, TermValue, Years
from planish.records import DateValue as Date


def reading(text: str, *claims: tuple[str, Side, ClaimValue | str]) -> Reading:
    """A reading of `text` with claims at the first place where their words stand."""
    made = []
    for number, (words, side, value) in enumerate(claims):
        start = text.index(words)
        settled = TermValue(term=value) if isinstance(value, str) else value
        span = Span(start, start + len(words))
        made.append(Claim(id=f"c{number}", side=side, value=settled, words=words, span=span))
    return Reading(text=text, claims=tuple(made))


def years(earliest: int | None, latest: int | None, **more: object) -> Date:
    """A date of making."""
    return Date(years=Years(earliest, latest), **more)  # type: ignore[arg-type]


def listed(text: str = "") -> ListedObject:
    """An object on a list."""
    return ListedObject(id="o", stand="A1", number="1", text=text)
