"""Prices: a sign or code with a figure, or the words that hide it."""

import re
from functools import lru_cache

from planish.reasoning.reading.tokens import Tokens

PRICE = re.compile(
    r"(?:(?:price\s*:?\s*)?(?:[£$€¥]|\b(?:GBP|USD|EUR|US\$))\s?\d{1,9}(?:[.,]\d{1,3})*(?:\.-|,-)?(?:\s?(?:the pair|the set|each|pair|ono|o\.n\.o\.))?"
    r"|\b\d{1,9}(?:[.,]\d{3})*\s?(?:€|EUR|GBP|USD|euros?)(?!\w)"
    r"|(?<=[,;.:] )\d{1,5} pounds(?: (?:ono|o\.n\.o\.|the pair|each|only))?(?=[ .]*$)"
    r"|\b(?:P\.?O\.?A\.?|price on (?:application|request))(?!\w))",
    re.IGNORECASE,
)
"""One price; pounds in words only where they close the label, set off. Linear: every part is bounded."""


_SIGNS = frozenset(
    {"£", "$", "€", "¥", "gbp", "usd", "eur", "euro", "euros", "us", "p", "po", "poa", "price", "pounds"}
)
"""A quick look first: most texts hold no price."""


def price_in(tokens: Tokens) -> list[tuple[int, int]]:
    """Characters of every price in the text."""
    if _SIGNS.isdisjoint(tokens.words):
        return []
    return [match.span() for match in PRICE.finditer(tokens.text)]


_FIGURE = re.compile(r"\d[\d.,' ]{0,14}")
_CURRENCY = {"£": "GBP", "$": "USD", "€": "EUR", "¥": "JPY", "US$": "USD", "EURO": "EUR", "EUROS": "EUR"}
_MARK = re.compile(r"US\$|[£$€¥]|\b(?:GBP|USD|EUR|CHF|euros?)\b", re.IGNORECASE)


@lru_cache(maxsize=65536)
def amount_of(price: str) -> tuple[str, float] | None:
    """Currency ("" when none is written) and amount of a price as written; None without a figure ("P.O.A.").

    A point or comma before exactly three figures parts thousands, any other last one parts the decimals: "1.200,50",
    "£1,200", "45.-".
    """
    figure = _FIGURE.search(price)
    if figure is None:
        return None
    mark = _MARK.search(price)
    written = mark.group(0).upper() if mark else ""
    return _CURRENCY.get(written, written), _amount(figure.group(0))


def _amount(figure: str) -> float:
    plain = re.sub(r"[' ]", "", figure).rstrip(".,")
    decimals = re.search(r"[.,](\d{1,2})$", plain)
    whole = plain[: decimals.start()] if decimals else plain
    return float(re.sub(r"[.,]", "", whole) + (f".{decimals.group(1)}" if decimals else ""))
