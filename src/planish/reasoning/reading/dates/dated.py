"""What the grammar builds: years with how they were written. Mutable inside the room, turned into records at the door."""

from planish.reasoning.reading.dates.lexicon import Period

Code = tuple[str, bool, bool]
"""One end in EDTF without its marks, approximate, uncertain."""


class Dated:
    """One date expression. `lo`/`hi` are the years meant, `wlo`/`whi` the years written; `next` the token after it.

    `opening` is "before" or "after" for a bound, else empty. `hedge` is 0 stated, 1 likely, 2 possible.
    `inclusive`: a bound such as "no later than" takes in the whole century or decade it names, "before" leaves it out.
    `codes` are the EDTF ends, one or two; `joint` is "or" when the ends are alternatives rather than a span.
    """

    __slots__ = (
        "circa",
        "codes",
        "grain",
        "hedge",
        "hi",
        "inclusive",
        "joint",
        "lo",
        "next",
        "opening",
        "other",
        "query",
        "rows",
        "settings",
        "start",
        "told",
        "whi",
        "wlo",
    )

    def __init__(self, grain: str, lo: int, hi: int, code: str, start: int, after: int) -> None:
        self.grain = grain
        self.lo = lo
        self.hi = hi
        self.wlo = lo
        self.whi = hi
        self.codes: tuple[Code, ...] = ((code, False, False),)
        self.start = start
        self.next = after
        self.circa = False
        self.query = False
        self.hedge = 0
        self.opening = ""
        self.inclusive = False
        self.joint = ""
        self.rows: tuple[Period, ...] = ()
        self.settings: tuple[str, ...] = ()
        self.other: tuple[tuple[int, int], ...] = ()
        self.told = ""


def year_code(year: int) -> str:
    """A year in EDTF: four digits at least, a minus sign before the year 0, Y before longer ones."""
    if 0 <= year <= 9999:
        return f"{year:04d}"
    if -9999 <= year < 0:
        return f"-{-year:04d}"
    return f"Y{year}"


def span_code(lo: int, hi: int) -> str:
    """Two ends of one expression whose code is an interval: kept as "lo/hi" and split when written."""
    return year_code(lo) if lo == hi else f"{year_code(lo)}/{year_code(hi)}"
