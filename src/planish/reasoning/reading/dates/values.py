"""From the grammar's years to the record: padding by the fair's conventions, EDTF, hedges, further readings."""

from planish.reasoning.reading.dates.dated import Dated, year_code
from planish.reasoning.reading.dates.eras import OPEN_END
from planish.records import Conventions, DateValue, Years
from planish.records.claims import Grain
from planish.records.evidence import Event

_GRAINS: dict[str, Grain] = {
    "year": "year",
    "decade": "decade",
    "century": "century",
    "period": "period",
    "style": "period",
}


def padding(found: Dated, conventions: Conventions) -> tuple[str, int]:
    """The setting that widens the stretch on both sides and its years; no name when nothing does."""
    if found.circa:
        name = _circa(found)
        years: int = getattr(conventions, name)
        return name, years
    if found.query and conventions.question_years:
        return "question_years", conventions.question_years
    return "", 0


def _circa(found: Dated) -> str:
    if found.grain == "decade":
        return "circa_decade_years"
    if found.grain in ("century", "period"):
        return "circa_century_years"
    return "circa_range_years" if found.wlo != found.whi else "circa_years"


def years_of(found: Dated, pad: int) -> Years:
    """Earliest and latest year; the far end of a bound is open. "Before the 1850s" ends in 1849, "by the 1850s" in 1859."""
    lo, hi = found.lo - pad, found.hi + pad
    if not found.opening:
        return Years(lo, hi if hi < OPEN_END or found.grain != "period" else None)
    whole = found.inclusive or found.grain == "year"
    if found.opening == "after":
        return Years(lo if whole else hi + 1, None)
    return Years(None, hi if whole else lo - 1)


def grain_of(found: Dated) -> Grain:
    """How finely the words date."""
    return _GRAINS[found.grain]


def value(found: Dated, conventions: Conventions, *, event: Event, said: str) -> DateValue:
    """The record of one stretch."""
    name, pad = padding(found, conventions)
    settings = (*found.settings, f"{name}={pad}") if name else found.settings
    years = years_of(found, pad)
    if found.rows:
        return _named(found, years, settings, event, said)
    as_written = not (found.circa or found.query or found.opening)
    return DateValue(
        years=years,
        event=event,
        written=years if as_written else Years(found.wlo, found.whi),
        edtf=edtf(found),
        approximate=found.circa,
        uncertain=found.query or found.hedge > 0,
        conventions=settings,
        grain=_GRAINS[found.grain],
        said=said,
    )


def _named(found: Dated, years: Years, settings: tuple[str, ...], event: Event, said: str) -> DateValue:
    """The record of a stretch that names periods; one name alone brings its core years and its fact."""
    row = found.rows[0]
    single = len(found.rows) == 1
    return DateValue(
        years=years,
        event=event,
        core=Years(*row.core) if single and row.core and found.lo == row.earliest else None,
        written=Years(found.wlo, found.whi),
        edtf=edtf(found),
        period=row.name if single else _common_name(found),
        country=row.country,
        approximate=found.circa,
        uncertain=found.query or found.hedge > 0,
        conventions=settings,
        fact=row.fact if single else "",
        grain=_GRAINS[found.grain],
        said=said,
    )


def _common_name(found: Dated) -> str:
    """What the names of several rulers have in common: George."""
    first = found.rows[0].name.split(" ")[0]
    return (
        first
        if all(row.name.startswith(first) for row in found.rows)
        else " or ".join(r.name for r in found.rows)
    )


def others(found: Dated, made: DateValue) -> tuple[DateValue, ...]:
    """Further readings of an ambiguous expression, as whole values."""
    return tuple(
        DateValue(
            years=Years(lo, hi if hi < OPEN_END else None),
            event=made.event,
            edtf=f"{year_code(lo)}/{year_code(hi) if hi < OPEN_END else '..'}",
            grain=made.grain,
        )
        for lo, hi in found.other
    )


def edtf(found: Dated) -> str:
    """The stretch in ISO 8601-2: marks on each end, `/` for a span, `[a,b]` for alternatives, `..` for an open end."""
    codes = found.codes
    if len(codes) == 1:
        code, _, _ = codes[0]
        uncertain = found.query or found.hedge > 0
        mark = ("%" if uncertain else "~") if found.circa else ("?" if uncertain else "")
        if found.opening:
            return (
                _open(found, code) + mark if found.opening == "before" else f"{_open(found, code)}{mark}/.."
            )
        if not mark:
            return code
        return "/".join(end + mark for end in code.split("/"))
    if found.joint == "or":
        return (
            "[" + ",".join(_end(*one) for one in codes) + "]"
            if not any("/" in c[0] for c in codes)
            else _hull(found)
        )
    ends = [_end(*one) for one in (codes[0], codes[-1])]
    if found.opening:
        return f"{ends[0]}/.." if found.opening == "after" else f"../{ends[1]}"
    return f"{ends[0].split('/')[0]}/{ends[1].split('/')[-1]}"


def _open(found: Dated, code: str) -> str:
    """The one stated end of a bound; a century or decade that the bound leaves out is passed over."""
    first, _, last = code.partition("/")
    whole = found.inclusive or found.grain == "year"
    if found.opening == "after":
        return first if whole else year_code(found.hi + 1)
    return f"../{(last or first) if whole else year_code(found.lo - 1)}"


def _end(code: str, circa: bool, uncertain: bool) -> str:
    mark = ("%" if uncertain else "~") if circa else ("?" if uncertain else "")
    return "/".join(end + mark for end in code.split("/"))


def _hull(found: Dated) -> str:
    return f"{year_code(found.lo)}/{year_code(found.hi)}"
