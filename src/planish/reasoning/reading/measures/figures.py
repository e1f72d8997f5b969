"""Figures as the trade writes them: 9¾, 9 3/4, 10-1/8, 24.5, 24,5, 1,250."""

import re
import unicodedata

FIGURE = r"(?:\d{1,3}\s?[/⁄]\s?\d{1,3}(?!\d)|\d+(?:[.,]\d+)*(?:\s?-?\s?[¼½¾⅐-⅞]|(?:\s+|\s?-\s?)\d{1,2}\s?[/⁄]\s?\d{1,2}(?!\d))?|[¼½¾⅐-⅞])"
"""A regular expression for one figure; no capturing groups."""

_FRACTION = re.compile(r"(\d+)\s?[/⁄]\s?(\d+)")
_WHOLE = re.compile(r"\d+(?:[.,]\d+)*")


def value_of(written: str) -> float | None:
    """The number that `written` stands for; None for a fraction over nothing.

    A comma before exactly three digits groups thousands ("1,250"); any other comma is a decimal sign ("24,5").
    """
    if written.isdecimal():
        number = float(written[:15])
        return number if number < 1e12 else None
    total, rest = 0.0, written
    fraction = _FRACTION.search(written) if "/" in written or "⁄" in written else None
    if fraction:
        if int(fraction[2]) == 0:
            return None
        total += int(fraction[1]) / int(fraction[2])
        rest = written[: fraction.start()]
    elif written and not written[-1].isdigit():
        total += unicodedata.numeric(written[-1], 0.0)
        rest = written[:-1]
    whole = _WHOLE.search(rest)
    if whole:
        total += _plain(whole.group())
    return total if total < 1e12 else None


def has_fraction(written: str) -> bool:
    """True when the figure is written with a vulgar fraction, as inches are and millimetres are not."""
    return "/" in written or "⁄" in written or not written[-1].isdigit()


def _plain(digits: str) -> float:
    groups = digits.replace(".", ",").split(",")
    if "," in digits and all(len(g) == 3 for g in groups[1:]) and len(groups[0]) <= 3 and groups[0] != "0":
        return float("".join(groups)[:15])
    if len(groups) > 2:
        return float("".join(groups[:-1])[:15] + "." + groups[-1])
    return float((groups[0] + "." + groups[1]) if len(groups) == 2 else groups[0][:15])
