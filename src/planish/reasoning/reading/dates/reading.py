"""The two verbs: dates anywhere in a label's text, and a text that is known to be a date."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property

from planish.facts.words import WordBook
from planish.reasoning.reading.dates import kinds as k
from planish.reasoning.reading.dates.finding import Found, find
from planish.reasoning.reading.dates.lexicon import lexicon
from planish.reasoning.reading.dates.pieces import Cut
from planish.reasoning.reading.dates.scanning import Tokens, scan
from planish.reasoning.reading.dates.sheet import Sheet
from planish.reasoning.reading.dates.values import grain_of, others, padding, value, years_of
from planish.records import Claim, Conventions, DateValue, Problem, Span, Strength, TermValue, Years
from planish.records.making import Happened, making_of

_STRENGTHS: tuple[Strength, ...] = ("stated", "likely", "possible")


@dataclass(frozen=True, eq=False, kw_only=True)
class DateReading:
    """What a date text says: years of the making (either end may be None), every claim in it, what is wrong with it.

    Claims and problems are put together when they are first asked for: many callers want the years alone.
    """

    text: str
    years: Years
    _sheet: Sheet = field(repr=False)
    _found: tuple[Found, ...] = field(repr=False)

    @cached_property
    def claims(self) -> tuple[Claim, ...]:
        """Every date and style of the text, in the order in which they stand."""
        return _claims(self._sheet, self._found)

    @cached_property
    def problems(self) -> tuple[Problem, ...]:
        """What is wrong with the dates themselves."""
        return problems_of(self.claims)

    @property
    def earliest(self) -> int | None:
        """First year of the making, None when nothing bounds it."""
        return self.years.earliest

    @property
    def latest(self) -> int | None:
        """Last year of the making, None when nothing bounds it."""
        return self.years.latest


def read_dates(
    text: str, *, words: WordBook, conventions: Conventions, cut: Cut | None = None
) -> tuple[Claim, ...]:
    """Every date expression of a running label text, in the order in which they stand, with exact characters.

    Measures, prices, stock numbers and people's lives are no dates. A named style ("George II style") comes back as a
    claim of side "style". Never raises; linear in the length of the text. `cut` are the pieces of `text` when somebody has
    cut it up before.
    """
    sheet = _sheet(text, words, conventions, liberal=False, pieces=cut)
    return _claims(sheet, find(sheet))


def read_date_text(text: str, *, words: WordBook, conventions: Conventions) -> DateReading:
    """A text that is known to be a date field: more liberal, and summed up as years of the making."""
    sheet = _sheet(text, words, conventions, liberal=True)
    found = find(sheet)
    happened = [_happened(one, conventions) for one in found if not one.denied and one.dated.grain != "style"]
    years = making_of(happened, dates_of=conventions.dates_of) if happened else Years()
    if (cut := _told_twice(sheet.t)) is not None:
        either = [
            read_date_text(part, words=words, conventions=conventions).years
            for part in (text[: cut[0]], text[cut[1] :])
        ]
        years = _hull(*either) or years
    return DateReading(text=text, years=years, _sheet=sheet, _found=tuple(found))


def _told_twice(t: Tokens) -> tuple[int, int] | None:
    """ "Georgian, c. 1760 or Victorian, c. 1850": where two periods, each with its years, are alternatives."""
    if k.OR not in t.kind:
        return None
    at = t.kind.index(k.OR)
    years = any(t.kind[j] == k.COMMA and t.kind[j + 1] in _YEARS for j in range(at + 2, min(at + 6, t.count)))
    return (t.start[at], t.end[at]) if at and t.kind[at + 1] == k.PERIOD and years else None


_YEARS = frozenset({k.NUM, k.CIRCA, k.LETTER_C})


def _hull(one: Years, other: Years) -> Years | None:
    """The years of both; None where either is open or silent."""
    ends = (one.earliest, other.earliest, one.latest, other.latest)
    if any(end is None for end in ends):
        return None
    low, also_low, high, also_high = (end or 0 for end in ends)
    return Years(min(low, also_low), max(high, also_high))


def _happened(one: Found, conventions: Conventions) -> Happened:
    dated = one.dated
    return one.event, grain_of(dated), one.said, years_of(dated, padding(dated, conventions)[1])


def problems_of(claims: tuple[Claim, ...]) -> tuple[Problem, ...]:
    """What is wrong with the dates themselves: at present, a range whose end comes before its beginning."""
    return tuple(
        Problem(
            where=f"the date “{claim.words}”",
            what="the range ends before it begins.",
            remedy="Put the earlier year first.",
            code="date.backwards",
            found=claim.words,
        )
        for claim in claims
        if isinstance(claim.value, DateValue) and "written backwards" in claim.value.conventions
    )


def _sheet(
    text: str, words: WordBook, conventions: Conventions, *, liberal: bool, pieces: Cut | None = None
) -> Sheet:
    lex = lexicon(words)
    tokens = scan(text, lex, pieces)
    return Sheet(tokens, lex, conventions, liberal, _country(tokens))


def _country(t: Tokens) -> str:
    """The one country that the text names, empty when it names none or several."""
    if k.COUNTRY not in t.kind:
        return ""
    named = {t.value[i] for i, kind in enumerate(t.kind) if kind == k.COUNTRY}
    return named.pop() if len(named) == 1 else ""


def _claims(s: Sheet, found: Iterable[Found]) -> tuple[Claim, ...]:
    return tuple([_claim(s, number, one) for number, one in enumerate(found, 1)])


def _claim(s: Sheet, number: int, found: Found) -> Claim:
    dated = found.dated
    words = s.t.text[found.first : found.last]
    span = Span(found.first, found.last)
    if dated.grain == "style":
        name = dated.rows[0].name if dated.rows else words
        return Claim(
            id=f"style.{number}",
            side="style",
            value=TermValue(
                term=name,
                kind="style",
                more={"fact": dated.rows[0].fact} if dated.rows and dated.rows[0].fact else {},
            ),
            words=words,
            span=span,
        )
    made = value(dated, s.conventions, event=found.event, said=found.said)
    return Claim(
        id=f"date.{number}",
        side="date",
        value=made,
        words=words,
        span=span,
        qualifier=found.qualifier,
        strength="denied" if found.denied else _STRENGTHS[2 if dated.query else dated.hedge],
        other=others(dated, made) if dated.other else (),
        told_apart_by=dated.told,
    )
