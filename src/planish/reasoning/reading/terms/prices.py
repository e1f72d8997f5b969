"""Prices: a sign or code with a figure, or the words that hide it."""

import re

PRICE = re.compile(
    r"(?:(?:price\s*:?\s*)?(?:[£$€¥]|\b(?:GBP|USD|EUR|US\$))\s?\d{1,9}(?:[.,]\d{1,3})*(?:\.-|,-)?(?:\s?(?:the pair|the set|each|pair|ono|o\.n\.o\.))?"
    r"|\b\d{1,9}(?:[.,]\d{3})*\s?(?:€|EUR|GBP|USD|euros?)(?!\w)"
    r"|\b(?:P\.?O\.?A\.?|price on (?:application|request))(?!\w))",
    re.IGNORECASE,
)
"""One price. Linear: every part is bounded."""


_SIGN = re.compile(r"[£$€¥]|GBP|USD|EUR|eur|P\.?O\.?A|poa|[Pp]rice|PRICE")
"""A quick look first: most texts hold no price."""


def price_in(text: str) -> list[tuple[int, int]]:
    """Characters of every price in `text`."""
    if not _SIGN.search(text):
        return []
    return [match.span() for match in PRICE.finditer(text)]
