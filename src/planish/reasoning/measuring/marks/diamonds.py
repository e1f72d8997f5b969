"""Registration diamonds of 1842-67 and 1868-83: both layouts, the published exceptions, and what cannot be.

A number in the right corner means the first layout, a letter the second. The four corners and the circle give class,
year, month, day and parcel of one registration; goods carried the mark for years afterwards.
"""

import calendar
from collections.abc import Mapping
from dataclasses import dataclass

from planish.facts.book import FactBook
from planish.reasoning.measuring.figures import place, problem
from planish.reasoning.measuring.marks.striking import belonging, struck
from planish.reasoning.measuring.measured import Measured, Settings, refused, used
from planish.reasoning.measuring.reading_facts import number, text
from planish.records import Fact, Observation, Problem, Years, freeze

CORNERS = ("circle", "top", "right", "bottom", "left")
WORN = {"C": "G", "G": "C", "I": "J", "J": "I", "O": "Q", "Q": "O", "U": "V", "V": "U"}
ROMAN = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII", "XIII")
MONTHS = tuple(calendar.month_name)


@dataclass(frozen=True, slots=True, kw_only=True)
class Diamond:
    """One diamond decoded: `months` has two members where an exception leaves two; day and parcel may be unread."""

    form: int
    year: int
    months: tuple[int, ...]
    day: int | None
    parcel: int | None
    class_roman: str
    material: str
    notes: tuple[str, ...]
    facts: tuple[str, ...]

    @property
    def date_in_words(self) -> str:
        """ "17 May 1850", "November or December 1860"."""
        month = " or ".join(MONTHS[m] for m in self.months)
        return " ".join(part for part in (str(self.day or ""), month, str(self.year)) if part)


def measure_diamond(observation: Observation, book: FactBook, settings: Settings | None = None) -> Measured:
    """A diamond from `more["diamond"]`: circle, top, right, bottom, left, each as read; "" where worn away."""
    settings = settings or Settings()
    given = observation.more.get("diamond")
    corners = (
        {c: str(given.get(c, "")).strip().upper() for c in CORNERS} if isinstance(given, Mapping) else {}
    )
    read = decode(corners, book, place(observation))
    if isinstance(read, Problem):
        return refused(read)
    year = Years(read.year, read.year)
    fact = book.look(read.facts[0]).fact
    assert fact is not None
    sentence = (
        f"The diamond was registered on {read.date_in_words}."
        if read.day
        else f"The diamond was registered in {read.date_in_words}."
    )
    items = struck(
        fact, observation, settings, sentence=sentence, windows=(Years(read.year, None),), object_floor=read.year,
        more_facts=(*read.facts, "ukd-not-before-object"), registered=year,
    )  # fmt: skip
    said = [sentence]
    if read.class_roman:
        said.append(
            f"Class {read.class_roman} is {read.material}.{'' if read.class_roman == 'I' else ' A metal object of another class needs an explanation.'}"
        )
    if read.parcel is not None:
        said.append(f"Parcel {read.parcel} of that day.")
    said += [*read.notes, *_worn(corners, read, book), belonging(observation, read.year)]
    said.append("Goods carried a diamond for years after, and castings repeat it: there is no latest year.")
    return Measured(
        items=items,
        sentences=tuple(said),
        details=freeze(
            {
                "form": read.form,
                "year": read.year,
                "months": read.months,
                "day": read.day,
                "parcel": read.parcel,
                "class": read.class_roman,
                "material": read.material,
                "facts": read.facts,
                "settings": used(settings, "doubt_mark"),
            }
        ),
    )


def decode(corners: Mapping[str, str], book: FactBook, where: str) -> Diamond | Problem:
    """Class, year, month, day and parcel of one diamond, or the Problem that says which corner cannot be."""
    right, top = corners.get("right", ""), corners.get("top", "")
    form = form_of(top, right)
    if form is None:
        return problem(
            where, f"The top corner {top or 'unread'!r} and the right corner {right or 'unread'!r} fit neither layout.",
            "1842-67 has a letter at the top and a number at the right; 1868-83 the other way round.", "diamond.layout",
        )  # fmt: skip
    position = next((f for f in book.family("uk_design_position") if number(f, "form") == form), None)
    if position is None:
        return problem(
            where,
            "The layout of the diamond is not on file.",
            "Add the table of positions to the pack.",
            "diamond.no_table",
        )
    parts = {text(position, corner): corners.get(corner, "") for corner in CORNERS}
    year = _year(parts["year"], form, book, where)
    if isinstance(year, Problem):
        return year
    months = _months(parts["month"], year, _whole(parts["day"]), book, where)
    if isinstance(months, Problem):
        return months
    return _with_day(parts, form, year, months, book, where)


def form_of(top: str, right: str) -> int | None:
    """1 for the layout of 1842-67, 2 for that of 1868-83, None when the corners fit neither."""
    if (right.isdigit() and not top.isdigit()) or (not right and top.isalpha()):
        return 1
    if (right.isalpha() and not top.isalpha()) or (not right and top.isdigit()):
        return 2
    return None


def _year(letter: str, form: int, book: FactBook, where: str) -> Fact | Problem:
    rows = [
        f for f in book.family("uk_design_year") if number(f, "form") == form and text(f, "letter") == letter
    ]
    if rows:
        return rows[0]
    used_letters = sorted(
        text(f, "letter") for f in book.family("uk_design_year") if number(f, "form") == form
    )
    years = "1842-67" if form == 1 else "1868-83"
    return problem(
        where, f"{letter or 'An unread corner'!r} is no year letter of the diamond of {years}.",
        f"Look again: the letters of that layout are {' '.join(used_letters)}.", "diamond.year_letter", found=letter,
        why=f"Worn, it may be {WORN[letter]}." if letter in WORN else "",
    )  # fmt: skip


def _months(
    letter: str, year: Fact, day: int | None, book: FactBook, where: str
) -> tuple[tuple[int, ...], tuple[str, ...], tuple[str, ...]] | Problem:
    """Months a letter can mean in that year, what to say of an exception, and the facts leaned on."""
    when = int(number(year, "year") or 0)
    if text(year, "only_from"):
        if letter == "G" and (day is None or day <= 6):
            return (3,), ("W with G is the week of 1 to 6 March 1878.",), ("ukd-exc-1878",)
        return problem(where, "W as a year letter of the second layout belongs to 1 to 6 March 1878 alone, with G for the month.",
                       "Look again at the year and month letters.", "diamond.exception_1878", found=letter)  # fmt: skip
    row = next((f for f in book.family("uk_design_month") if text(f, "letter") == letter), None)
    if row is None:
        if letter == "O":
            return (1,), ("O for January stands in one list only; the others give C.",), ("ukd-oct-january",)
        if letter == "":
            return tuple(range(1, 13)), ("The month is not read.",), ()
        return problem(where, f"{letter!r} is no month letter of the diamond.",
                       "Look again: C G W H E M I R D B K A are January to December.", "diamond.month_letter", found=letter,
                       why=f"Worn, it may be {WORN[letter]}." if letter in WORN else "")  # fmt: skip
    month = int(number(row, "month") or 0)
    if when == 1857 and letter == "R":
        if day is None or day <= 19:
            return (
                (8, 9),
                ("In 1857 R stands for August and for 1 to 19 September.",),
                (row.id, "ukd-exc-1857"),
            )
        return (8,), (), (row.id,)
    if when == 1860 and letter == "K":
        return (11, 12), ("In 1860 K stands for November and for December.",), (row.id, "ukd-exc-1860")
    return (month,), (), (row.id,)


def _with_day(
    parts: Mapping[str, str],
    form: int,
    year: Fact,
    months: tuple[tuple[int, ...], tuple[str, ...], tuple[str, ...]],
    book: FactBook,
    where: str,
) -> Diamond | Problem:
    when = int(number(year, "year") or 0)
    day, parcel = _whole(parts["day"]), _whole(parts["parcel"])
    for name, raw, value in (("day", parts["day"], day), ("parcel number", parts["parcel"], parcel)):
        if raw and value is None:
            return problem(
                where, f"{raw!r} is no {name}.", "It is a number.", f"diamond.{name.split()[0]}", found=raw
            )
    possible = tuple(m for m in months[0] if day is None or 1 <= day <= calendar.monthrange(when, m)[1])
    if not possible:
        return problem(
            where, f"There is no {day} {MONTHS[months[0][0]]} {when}.", "Look again at the day and the month letter.",
            "diamond.day", found=str(day),
        )  # fmt: skip
    kind = _class(parts["class"], book, where)
    if isinstance(kind, Problem):
        return kind
    return Diamond(
        form=form,
        year=when,
        months=possible,
        day=day,
        parcel=parcel,
        class_roman=kind[0],
        material=kind[1],
        notes=months[1],
        facts=tuple(dict.fromkeys((year.id, *months[2], f"ukd-form{form}", *kind[2]))),
    )


def _class(written: str, book: FactBook, where: str) -> tuple[str, str, tuple[str, ...]] | Problem:
    if not written:
        return "", "", ()
    roman = ROMAN[int(written) - 1] if written.isdigit() and 1 <= int(written) <= len(ROMAN) else written
    row = next((f for f in book.family("uk_design_class") if text(f, "roman") == roman), None)
    if row is None:
        return problem(where, f"{written!r} is no class of the diamond.", "Classes run from I to XIII; I is metal.",
                       "diamond.class", found=written)  # fmt: skip
    return roman, text(row, "material"), (row.id, *(("ukd-class-metal",) if roman != "I" else ()))


def _whole(written: str) -> int | None:
    return int(written) if written.isdigit() else None


def _worn(corners: Mapping[str, str], read: Diamond, book: FactBook) -> list[str]:
    letter = corners["top"] if read.form == 1 else corners["right"]
    other = WORN.get(letter)
    row = next(
        (
            f
            for f in book.family("uk_design_year")
            if number(f, "form") == read.form and text(f, "letter") == other
        ),
        None,
    )
    if row is None or text(row, "only_from"):
        return []
    return [f"Worn, {letter} is easily taken for {other}, which would be {number(row, 'year'):.0f}."]
