"""The smallest things that name years: a year, a decade, a century, a day, a season, a period."""

from collections.abc import Callable

from planish.reasoning.reading.dates import kinds as k
from planish.reasoning.reading.dates.dated import Dated, span_code, year_code
from planish.reasoning.reading.dates.days import day_first, month_first, ordinal_day, season
from planish.reasoning.reading.dates.eras import regnal_year
from planish.reasoning.reading.dates.fractions import Part
from planish.reasoning.reading.dates.guards import FIRST_YEAR, LAST_YEAR, is_no_end, is_no_year
from planish.reasoning.reading.dates.hijri import hijra_first
from planish.reasoning.reading.dates.republic import republic_year
from planish.reasoning.reading.dates.scanning import Tokens
from planish.reasoning.reading.dates.sheet import Sheet
from planish.reasoning.reading.dates.spelled import decade_in_a_word, spelled_year

_SEPARATORS = frozenset({k.DASH, k.TO, k.SLASH, k.AND, k.OR, k.COMMA})
_SKIPPED = frozenset({k.FILL, k.PART, k.PARTWORD, k.DIVISION, k.DASH, k.TO, k.CIRCA, k.LETTER_C, k.QUERY})


def unit(s: Sheet, i: int, ref: Dated | None, loose: bool) -> Dated | None:
    """The unit that begins at token `i`, or None.

    `ref` is the first end of a range whose second end may be written short; `loose` allows years of three figures,
    because a circa or an era stands by.
    """
    read = _READERS.get(s.t.kind[i])
    return read(s, i, ref, loose) if read else None


def _number(s: Sheet, i: int, ref: Dated | None, loose: bool) -> Dated | None:
    t = s.t
    size = t.digits[i]
    value: int = t.value[i]
    after = t.kind[i + 1]
    if size == 4:
        return _year(s, i, value, after)
    if size <= 2 and (after in _AFTER_SHORT or after == k.WORD):
        found = day_first(s, i, after) or _masked(s, i, after) or _bare_century(s, i)
        if found:
            return found
    if size == 3 and after in (k.QUERY, k.DASH, k.DOT) and not _has_a_number_sign(t, i):
        found = _masked(s, i, after)
        if found:
            return found
    if size <= 2 and after == k.PERIOD and s.liberal and value and (found := regnal_year(s, i)):
        return found
    if ref is None and size == 2 and s.anchor and _apostrophe(t, i):
        return _clipped(s, i, value)
    if ref is not None and size <= 3 and after != k.BC and ref.whi > 0:
        return _short(s, i, value, size, ref)
    if ref is not None and ref.whi <= 0 and value > 0 and after not in (k.UNIT, k.CURRENCY, k.CENT):
        return _plain(s, i, value)
    if after in (k.AD, k.BC) or (size == 3 and (loose or s.liberal)) or (loose and _follows_an_era(t, i)):
        return _plain(s, i, value)
    if value > 0 and (s.liberal or after in (k.DASH, k.TO)) and _era_follows(t, i + 1):
        return _plain(s, i, value)
    return None


def _apostrophe(t: Tokens, i: int) -> bool:
    """True for the mark of "'76": it opens the word, and no unit or letter follows."""
    if i < 1 or t.kind[i - 1] != k.QUOTE or not t.touching(i) or t.touching(i - 1):
        return False
    if t.text[t.start[i - 1]] in '"“”':
        return False
    return t.kind[i + 1] not in (k.UNIT, k.CURRENCY, k.QUOTE, k.NUM) and not (
        t.start[i + 1] == t.end[i] and t.kind[i + 1] in (k.WORD, k.SLASH)
    )


def _clipped(s: Sheet, i: int, value: int) -> Dated:
    """'82 after 1776 is 1782 or 1882: the first such year after the one named, the next beside it."""
    year = s.anchor - s.anchor % 100 + value
    year += 100 if year < s.anchor else 0
    found = Dated("year", year, year, year_code(year), i - 1, i + 1)
    found.query = True
    found.other = ((year + 100, year + 100),)
    found.told = "which century the two figures belong to"
    found.settings = ("two-figure year after the year named",)
    return found


def unnumbered_century(s: Sheet, i: int) -> Dated | None:
    """The century of "second half of the century": the one last spoken of, None when none was."""
    if s.anchor <= 0:
        return None
    start = s.conventions.century_starts_at
    found = century(s, i, (s.anchor - start) // 100 + 1, i + 1)
    found.query = True
    found.settings = (*found.settings, "the century last spoken of")
    return found


_AFTER_SHORT = frozenset(
    {k.MONTH, k.DASH, k.SLASH, k.DOT, k.QUERY, k.CENT, k.LETTER_C, k.AND, k.OR, k.TO, k.COMMA, k.FILL, k.RPAR}
)


def _follows_an_era(t: Tokens, i: int) -> bool:
    """True for the 10 of "A.D. 10-40", where the era stands before the number."""
    return i > 0 and t.kind[i - 1 - (i > 1 and t.kind[i - 1] == k.DOT)] == k.AD


def _era_follows(t: Tokens, i: int) -> bool:
    """True for the first end of "50-300 AD" and "27 BCE-4 CE"."""
    for j in range(i, i + 5):
        if t.kind[j] in (k.AD, k.BC):
            return True
        if t.kind[j] not in (k.DASH, k.TO, k.NUM, k.AND):
            return False
    return False


def _plain(s: Sheet, i: int, value: int) -> Dated | None:
    if value < 1 or s.t.digits[i] > 4:
        return None
    return Dated("year", value, value, year_code(value), i, i + 1)


def _year(s: Sheet, i: int, value: int, after: int) -> Dated | None:
    t = s.t
    if not s.liberal and (not FIRST_YEAR <= value <= LAST_YEAR or is_no_year(t, i)):
        return None
    if value == 0:
        return None
    found = Dated("year", value, value, f"{value:04d}", i, i + 1)
    if after in (k.DASH, k.SLASH, k.DOT) and t.kind[i + 2] == k.NUM:
        _iso_day(t, i, found, after)
    return found


def _iso_day(t: Tokens, i: int, found: Dated, mark: int) -> None:
    """1892-06-10: month and day are taken in, the year is what counts."""
    if t.kind[i + 3] == mark and t.kind[i + 4] == k.NUM and t.digits[i + 2] == t.digits[i + 4] == 2:
        month, day = t.value[i + 2], t.value[i + 4]
        if 1 <= month <= 12 and 1 <= day <= 31:
            found.codes = ((f"{found.lo:04d}-{month:02d}-{day:02d}", False, False),)
            found.next = i + 5


def _short(s: Sheet, i: int, value: int, size: int, ref: Dated) -> Dated | None:
    """The second end of 1760-5, 1761-75, 1798-802; it rolls over the century or decade when it must."""
    if ref.grain == "century" and s.t.touching(i):
        return _next_century(s, i, value, ref)
    if not s.liberal and (ref.grain != "year" or is_no_end(s.t, i, ref.whi)):
        return None
    base = 10**size
    year = ref.whi - ref.whi % base + value
    if year < ref.whi:
        if _is_month(s.t, i, value, size, year + base - ref.whi):
            return Dated("year", ref.whi, ref.whi, f"{ref.whi:04d}-{value:02d}", i, i + 1)
        year += base
        if size == 3 or year - ref.whi > 60:
            return None
    return Dated("year", year, year, year_code(year), i, i + 1)


_ROLLS_OVER_AT_MOST = 10
"""Years of a range whose end is cut short over a slash and lies in the next century: 1898/02 (house choice)."""


def _is_month(t: Tokens, i: int, value: int, size: int, span: int) -> bool:
    """True for 1858/2 and 1871/12: after a slash an end that would have to roll over is a month."""
    if t.kind[i - 1] != k.SLASH or not 1 <= value <= 12:
        return False
    return size == 1 or span > _ROLLS_OVER_AT_MOST


def _next_century(s: Sheet, i: int, value: int, ref: Dated) -> Dated | None:
    """The 16 of C15/16: a later century that borrows the first one's word."""
    spoken_of = (ref.lo - s.conventions.century_starts_at) // 100 + 1
    return century(s, i, value, i + 1) if spoken_of < value <= 21 else None


def _has_a_number_sign(t: Tokens, i: int) -> bool:
    """ "fig. 122." counts figures, no years."""
    before = i - 1 - (i > 1 and t.kind[i - 1] == k.DOT)
    return before >= 0 and t.kind[before] in (k.NUMBERSIGN, k.CURRENCY)


def _masked(s: Sheet, i: int, after: int) -> Dated | None:
    """17.., 17--, 17??, 175-, 175?: figures that nobody knows."""
    t = s.t
    missing = 4 - t.digits[i]
    if after not in (k.DOT, k.DASH, k.QUERY) or not 10 <= t.value[i] // 10 ** (t.digits[i] - 2) <= 20:
        return None
    j = i + 1
    while t.kind[j] == after and j <= i + 3 and t.start[j] == t.end[j - 1]:
        j += 1
    run = j - i - 1
    if after == k.QUERY and t.kind[j] == k.NUM and t.touching(j):
        return _masked_inside(s, i, j)
    long_dash = after == k.DASH and run == 1 and missing == 2 and t.text[t.start[i + 1]] == "—"
    if not (run == missing or long_dash) or t.kind[j] in (k.NUM, k.MONTH, k.ORD, k.DECADE, after):
        return None
    return mask(s, i, j, t.value[i], missing)


def _masked_inside(s: Sheet, i: int, last: int) -> Dated | None:
    """17?2: a figure inside the year that nobody can read; 1702 to 1792."""
    t = s.t
    code = t.text[t.start[i] : t.end[last]].replace("?", "X")
    if len(code) != 4:
        return None
    lo, hi = int(code.replace("X", "0")), int(code.replace("X", "9"))
    return Dated("year", lo, hi, code, i, last + 1)


def mask(s: Sheet, i: int, after: int, known: int, missing: int) -> Dated:
    """Known leading figures and unknown last ones: 17XX is 1700 to 1799 whatever the fair calls a century."""
    base = known * 10**missing
    grain = "century" if missing == 2 else "decade"
    del s
    return Dated(grain, base, base + 10**missing - 1, f"{known}{'X' * missing}", i, after)


def _mask_token(s: Sheet, i: int, ref: Dated | None, loose: bool) -> Dated | None:
    del ref, loose
    known, missing = s.t.value[i]
    return mask(s, i, i + 1, known, missing) if known * 10**missing >= FIRST_YEAR else None


def _decade(s: Sheet, i: int, ref: Dated | None, loose: bool) -> Dated | None:
    del loose
    t = s.t
    value: int = t.value[i]
    if t.digits[i] == 2:
        if ref is None and s.liberal and not value % 10:
            return _short_decade(i, value)
        if ref is None or ref.grain == "period" or value % 10:
            return None
        value += ref.lo - ref.lo % 100
        if value < ref.lo:
            value += 100
    era = t.digits[i] == 3 and t.kind[i + 1] in (k.AD, k.BC)
    if not (s.liberal or era or FIRST_YEAR <= value <= LAST_YEAR) or value % 10:
        return None
    if value % 100 == 0:
        return _hundreds(s, i, value)
    return Dated("decade", value, value + 9, f"{value // 10:03d}X", i, i + 1)


def _short_decade(i: int, value: int) -> Dated:
    """The '40s in a date field: the 1900s before the 1800s, and marked uncertain."""
    value += 1900
    found = Dated("decade", value, value + 9, f"{value // 10}X", i, i + 1)
    found.query = True
    found.other = ((value - 100, value - 91),)
    found.told = "which century the two figures belong to"
    found.settings = ("two-figure years are 1900s",)
    return found


def _hundreds(s: Sheet, i: int, value: int) -> Dated:
    """The 1800s: the century or the decade, by the rule book; the other reading is kept."""
    century, decade = (value, value + 99), (value, value + 9)
    wide = s.conventions.hundreds == "century"
    lo, hi = century if wide else decade
    code = f"{value // 100:02d}XX" if wide else f"{value // 10:03d}X"
    found = Dated("century" if wide else "decade", lo, hi, code, i, i + 1)
    found.settings = (f"hundreds={s.conventions.hundreds}",)
    found.other = (decade if wide else century,)
    found.told = "whether the whole century or its first ten years are meant"
    return found


def century(s: Sheet, i: int, number: int, after: int) -> Dated:
    """The Nth century by the fair's bounds; one before Christ when an era says so."""
    start = s.conventions.century_starts_at
    if s.t.kind[after] == k.BC:
        hi = -100 * (number - 1)
        found = Dated("century", hi - 99, hi, span_code(hi - 99, hi), i, after + 1)
    else:
        lo = 100 * (number - 1) + start
        code = f"{number - 1:02d}XX" if start == 0 else span_code(lo, lo + 99)
        found = Dated("century", lo, lo + 99, code, i, after)
    found.settings = (f"century_starts_at={start}",)
    return found


def _ordinal(s: Sheet, i: int, ref: Dated | None, loose: bool) -> Dated | None:
    """18th century, eighteenth-century, and the 16th of "16th to 17th century"."""
    del loose
    t = s.t
    number: int = t.value[i]
    if not 0 < number <= 21:
        return None if number <= 0 else ordinal_day(s, i)
    j = i + 1
    while t.kind[j] in (k.DOT, k.DASH, k.QUERY) and t.kind[j + 1] in (k.CENT, k.LETTER_C) and j < i + 3:
        j += 1
    doubted = t.kind[j] == k.LPAR and t.kind[j + 1] == k.QUERY and t.kind[j + 2] == k.RPAR
    j += 3 * doubted
    if t.kind[j] == k.CENT or (t.kind[j] == k.LETTER_C and t.kind[j + 1] != k.NUM):
        found = century(s, i, number, j + 1)
        found.query = doubted
        return found
    if ref is not None and ref.grain == "century" and (t.touching(i) or t.kind[i + 1] in _CLOSES):
        return _next_century(s, i, number, ref)
    if s.liberal and number > _ALONE_FROM and _roman_capitals(t, i):
        return century(s, i, number, i + 1)
    return ordinal_day(s, i) or (century(s, i, number, i + 1) if _century_follows(t, i + 1) else None)


_CLOSES = frozenset({k.END, k.COMMA, k.SEMI, k.RPAR})
_ALONE_FROM = 12
"""Roman numerals above this number are centuries even alone in a date field: XVIII, XVI-XVII."""


def _roman_capitals(t: Tokens, i: int) -> bool:
    """False behind a word: Carl XIV."""
    word = t.text[t.start[i] : t.end[i]]
    return (
        (not i or t.kind[i - 1] != k.WORD) and word.isupper() and word.isalpha() and set(word) <= set("XVI")
    )


def _century_follows(t: Tokens, i: int) -> bool:
    """True when the next ordinal after a joint is a century, so that the first one borrows its word."""
    if t.kind[i] == k.QUERY:
        i += 1
    if t.kind[i] not in _SEPARATORS:
        return False
    for j in range(i + 1, i + 8):
        kind = t.kind[j] if j < len(t.kind) else k.END
        if kind in (k.ORDCENT, k.CENT):
            return True
        if kind == k.LETTER_C and t.kind[j - 1] in (k.ORD, k.NUM):
            return True
        if kind == k.DOT and t.kind[j - 1] == k.NUM:
            continue
        if kind not in (k.ORD, k.NUM) and kind not in _SEPARATORS and kind not in _SKIPPED:
            return False
        if kind == k.NUM and t.digits[j] > 2:
            return False
    return False


def _bare_century(s: Sheet, i: int) -> Dated | None:
    """18 century, and the 18 of "18-19th century"."""
    t = s.t
    number: int = t.value[i]
    if not 0 < number <= 21:
        return None
    j = i + 1
    if t.kind[j] == k.DOT and t.kind[j + 1] == k.CENT:
        j += 1
    if t.kind[j] == k.WORD and t.text[t.start[j] : t.end[j]].lower() in _PARTED_ENDINGS:
        j += 1
        if t.kind[j] not in (k.CENT, k.LETTER_C):
            return None
    if t.kind[j] == k.CENT:
        return century(s, i, number, j + 1)
    if t.kind[j] == k.LETTER_C and t.kind[j + 1] not in (k.NUM, k.ORD):
        return century(s, i, number, j + 1) if number > 5 else None
    after = i + 1 + (t.kind[i + 1] == k.DOT and t.kind[i + 2] in (k.SLASH, k.DASH))
    return century(s, i, number, after) if number > 9 and _century_follows(t, after) else None


_PARTED_ENDINGS = frozenset({"th", "st", "nd", "rd"})
"""Ordinal endings that a typist may part from the number: 18 th century. English only."""


def _ordinal_century(s: Sheet, i: int, ref: Dated | None, loose: bool) -> Dated | None:
    del ref, loose
    after = i + 2 if s.t.kind[i + 1] == k.DOT and s.t.touching(i + 1) and s.t.kind[i + 2] != k.END else i + 1
    return century(s, i, s.t.value[i], after)


def _letter_first(s: Sheet, i: int, ref: Dated | None, loose: bool) -> Dated | None:
    """C18, C19th, C18/19: the letter before the number stands for century."""
    del ref, loose
    t = s.t
    if t.kind[i + 1] not in (k.NUM, k.ORD) or t.digits[i + 1] not in (1, 2) or not t.touching(i + 1):
        return None
    number = t.value[i + 1]
    if not 5 < number <= 21:
        return None
    return century(s, i, number, i + 2)


def _turn(s: Sheet, i: int, ref: Dated | None, loose: bool) -> Dated | None:
    """Turn of the century, turn of the 19th century: either end can be meant, so both are offered."""
    del ref, loose
    t = s.t
    width = s.conventions.turn_years
    j = i + 1
    if t.kind[j] == k.CENT:
        found = Dated("century", 1900 - width, 1900 + width, span_code(1900 - width, 1900 + width), i, j + 1)
        found.query = True
        other = 1800
    else:
        at = unit(s, j, None, False)
        if at is None or at.grain not in ("century", "year"):
            return None
        both = _century_after(s, at)
        middle = (both or at).lo - (both or at).lo % 100
        found = Dated(
            "century",
            middle - width,
            middle + width,
            span_code(middle - width, middle + width),
            i,
            (both or at).next,
        )
        if at.grain == "year" or both:
            found.settings = (f"turn_years={width}",)
            return found
        other = middle + 100
    found.other = ((other - width, other + width),)
    found.told = "which turn is meant: a year, or the century before and after"
    found.settings = (f"turn_years={width}",)
    return found


def _century_after(s: Sheet, at: Dated) -> Dated | None:
    """The second century of "turn of the 18th/19th century", None when one alone is named."""
    if at.grain != "century" or s.t.kind[at.next] not in (k.SLASH, k.DASH, k.AND, k.TO):
        return None
    second = unit(s, at.next + 1 + (s.t.kind[at.next + 1] == k.FILL), at, False)
    return second if second and second.grain == "century" and second.lo > at.lo else None


def _decade_of(s: Sheet, i: int, ref: Dated | None, loose: bool) -> Dated | None:
    """Années 1920, jaren 1750: the word before the number makes it a decade."""
    del loose
    t = s.t
    at = i + 1 + (t.kind[i + 1] in (k.FILL, k.QUOTE))
    if t.kind[at] != k.NUM or t.value[at] % 10:
        return None
    if t.digits[at] == 2 and ref is None and s.liberal:
        return _short_decade(at, t.value[at])
    value: int = t.value[at]
    if t.digits[at] != 4 or not FIRST_YEAR <= value <= LAST_YEAR:
        return None
    return Dated("decade", value, value + 9, f"{value // 10:03d}X", i, at + 1)


def _in_words(s: Sheet, i: int, ref: Dated | None, loose: bool) -> Dated | None:
    """Sixteen hundred, seventeen sixty-five, the eighteen hundreds."""
    t = s.t
    at = i + 1 + (t.kind[i + 1] == k.DASH)
    if t.kind[at] == k.HUNDRED and t.text[t.end[at] - 1] in "sS" and 10 <= t.value[i] <= 20:
        found = _hundreds(s, i, 100 * t.value[i])
        found.next = at + 1
        return found
    return spelled_year(s, i, ref, loose)


Reader = Callable[[Sheet, int, Dated | None, bool], Dated | None]
Parts = tuple[Part, ...]

_READERS: dict[int, Reader] = {
    k.NUM: _number,
    k.DECADE: _decade,
    k.MASK: _mask_token,
    k.ORD: _ordinal,
    k.ORDCENT: _ordinal_century,
    k.LETTER_C: _letter_first,
    k.MONTH: month_first,
    k.SEASON: season,
    k.TURN: _turn,
    k.CARDINAL: _in_words,
    k.WORDDECADE: decade_in_a_word,
    k.DECADEOF: _decade_of,
    k.HIJRI: hijra_first,
    k.REPUBLIC: republic_year,
}
