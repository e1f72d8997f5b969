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


def span(found: Dated, conventions: Conventions) -> tuple[int, int, tuple[str, ...]]:
    """First and last year with the padding that circa and "?" ask for, and the settings used."""
    lo, hi, settings = found.lo, found.hi, found.settings
    if found.circa:
        name, pad = _circa(found, conventions)
        lo, hi = lo - pad, hi + pad
        settings = (*settings, f"{name}={pad}")
    elif found.query and conventions.question_years:
        pad = conventions.question_years
        lo, hi = lo - pad, hi + pad
        settings = (*settings, f"question_years={pad}")
    return lo, hi, settings


def _circa(found: Dated, conventions: Conventions) -> tuple[str, int]:
    if found.grain == "decade":
        return "circa_decade_years", conventions.circa_decade_years
    if found.grain in ("century", "period"):
        return "circa_century_years", conventions.circa_century_years
    if found.wlo != found.whi:
        return "circa_range_years", conventions.circa_range_years
    return "circa_years", conventions.circa_years


def bounds(found: Dated, conventions: Conventions) -> tuple[int | None, int | None, tuple[str, ...]]:
    """Earliest and latest year; the far end of a bound is open. "Before the 1850s" ends in 1849, "by the 1850s" in 1859."""
    lo, hi, settings = span(found, conventions)
    whole = found.inclusive or found.grain == "year"
    if found.opening == "after":
        return lo if whole else hi + 1, None, settings
    if found.opening == "before":
        return None, hi if whole else lo - 1, settings
    return lo, hi if hi < OPEN_END or found.grain != "period" else None, settings


def value(found: Dated, conventions: Conventions, *, event: Event, said: str) -> DateValue:
    """The record of one stretch."""
    earliest, latest, settings = bounds(found, conventions)
    row = found.rows[0] if found.rows else None
    plain = not found.rows and not found.circa
    years = Years(earliest, latest)
    return DateValue(
        years=years,
        event=event,
        core=Years(*row.core)
        if row and row.core and len(found.rows) == 1 and found.lo == row.earliest
        else None,
        written=years if plain and not found.query and not found.opening else Years(found.wlo, found.whi),
        edtf=edtf(found),
        period=row.name if row and len(found.rows) == 1 else _common_name(found),
        country=row.country if row else "",
        approximate=found.circa,
        uncertain=found.query or found.hedge > 0,
        conventions=settings,
        fact=row.fact if row and len(found.rows) == 1 else "",
        grain=_GRAINS[found.grain],
        said=said,
    )


def _common_name(found: Dated) -> str:
    """What the names of several rulers have in common: George."""
    if not found.rows:
        return ""
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
