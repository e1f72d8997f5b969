"""Values into the words of a good label. Reading a phrase back gives the value again (a test holds it to that)."""

import re
from collections.abc import Mapping

from planish.records import (
    ClaimValue,
    Conventions,
    DateValue,
    MakerValue,
    MeasureValue,
    Side,
    TermValue,
    Years,
)

ORDINAL = {1: "st", 2: "nd", 3: "rd"}
EVENT_WORDS = {
    "decorated": "decorated",
    "inscribed": "engraved",
    "repair": "repaired",
    "designed": "designed",
    "cast": "cast",
    "registered": "registered",
}


def phrase(value: ClaimValue, *, side: Side, conventions: Conventions, form: Mapping[str, object]) -> str:
    """`value` in words. `form` is the rule book's house form: circa ("c. "), range ("–"), unit ("cm")."""
    match value:
        case DateValue():
            words = date_words(value, conventions, form)
            event = EVENT_WORDS.get(value.event, "")
            return f"{event} {words}".strip() if words else ""
        case MakerValue():
            return f"{value.qualifier or 'by'} {value.name}"
        case MeasureValue():
            return measure_words(value, form)
        case TermValue():
            return f"in the {value.term} style" if side == "style" else value.term


def date_words(value: DateValue, conventions: Conventions, form: Mapping[str, object]) -> str:
    """Years in words: a year, c. a year, a decade, a century or a part of one, a reign if named, else first–last."""
    if value.period:
        return value.period
    years, dash = value.years, str(form.get("range", "–"))
    if years.earliest is None or years.latest is None:
        return _open_words(years)
    first, last = years.earliest, years.latest
    if first == last:
        return str(first)
    return (
        _circa_words(first, last, conventions, circa_form(form))
        or _century_words(first, last, conventions)
        or _decade_words(first, last)
        or f"{first}{dash}{last}"
    )


def circa_form(form: Mapping[str, object]) -> str:
    """How the house writes circa: `form["circa"]`, or what stands before the year in its example ("c.1760"); else "c. "."""
    example = re.match(r"[^\d]+", str(form.get("dates", "")))
    return str(form.get("circa", example[0] if example else "c. "))


def _open_words(years: Years) -> str:
    if years.earliest is not None:
        return f"{years.earliest} or later"
    return f"{years.latest} or earlier" if years.latest is not None else ""


def _circa_words(first: int, last: int, conventions: Conventions, circa: str) -> str:
    middle, odd = divmod(first + last, 2)
    return f"{circa}{middle}" if not odd and middle - first == conventions.circa_years else ""


def _decade_words(first: int, last: int) -> str:
    return f"{first}s" if first % 10 == 0 and last == first + 9 and first % 100 else ""


def _century_words(first: int, last: int, conventions: Conventions) -> str:
    start = (first - conventions.century_starts_at) // 100 * 100 + conventions.century_starts_at
    name = f"{ordinal(start // 100 + 1)} century"
    offset = (first - start, last - start)
    if offset == (0, 99):
        return name
    for word, part in (("early ", conventions.early), ("mid-", conventions.mid), ("late ", conventions.late)):
        if offset == part:
            return f"{word}{name}"
    halves = {(0, 49): "first half", (50, 99): "second half"}
    quarters = {(0, 24): "first", (25, 49): "second", (50, 74): "third", (75, 99): "last"}
    if offset in halves:
        return f"{halves[offset]} of the {name}"
    return f"{quarters[offset]} quarter of the {name}" if offset in quarters else ""


def ordinal(number: int) -> str:
    """18 → "18th"."""
    suffix = "th" if 10 <= number % 100 <= 20 else ORDINAL.get(number % 10, "th")
    return f"{number}{suffix}"


def measure_words(value: MeasureValue, form: Mapping[str, object]) -> str:
    """A measure in the house unit: cm for lengths (mm under 1 cm), g for weights, ml for capacities.

    With `inches_too` a length has inches beside it, to the nearest eighth (quarter from 30 cm): "height 24 cm (9½ in)".
    """
    over = f" over {value.over}" if value.over else ""
    if value.base_unit != "mm":
        return f"{value.role} {value.amount:.4g} {value.base_unit}{over}"
    beside = f" ({inches(value.amount)} in)" if form.get("inches_too") else ""
    if form.get("measures", "cm") == "mm" or value.amount < 10:
        return f"{value.role} {value.amount:.4g} mm{beside}{over}"
    return f"{value.role} {value.amount / 10:.4g} cm{beside}{over}"


EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")


def inches(mm: float) -> str:
    """Millimetres in inches of 25.4 mm, to the nearest eighth under 30 cm, to the nearest quarter above."""
    step = 1 if mm < 300 else 2
    eighths = max(1, round(mm / 25.4 * 8 / step) * step)
    whole, rest = divmod(eighths, 8)
    return f"{whole or ''}{EIGHTHS[rest]}"


_UNITS = {"ozt": "oz troy", "ozav": "oz avoirdupois"}


def written_measure(value: MeasureValue) -> str:
    """A measure in the unit it was given in: "length 54 cm", "22 oz troy"."""
    named = value.role not in ("", "size", "weight", "capacity")
    over = f" over {value.over}" if value.over else ""
    return f"{f'{value.role} ' if named else ''}{value.as_written} {_UNITS.get(value.unit, value.unit)}{over}"
