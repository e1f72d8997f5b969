"""What the words right beside a year make of it: a taste, a design, a paper or a sale."""

import re

_STYLE = re.compile(
    r"[\s-]+(?:[a-z]+(?:ian|ish|ese|ch|an)\s+(?=type|style))?(?:style|manner|taste|fashion|type)\b",
    re.IGNORECASE,
)
"""Behind years these name a taste; a country may stand between ("16th-century Venetian type")."""
_PATTERN = re.compile(r"[\"'”’]?\s+(?:pattern|line|range|series)\b", re.IGNORECASE)
"""A period before "pattern" names a design, as flatware does: Louis XIV pattern."""
_DESIGN = re.compile(
    r"\b(?:(?:design|model|pattern) (?:nr|no|number)?\.? ?\d\w{0,5}|(?:lozenge|diamond|kite)(?: mark)?(?: for| of| from)?"
    r"|pattern of) $",
    re.IGNORECASE,
)
"""Before "from 1919", "1868": a number or a lozenge of a design, whose year is told; "Land Pattern of 1738"."""
_PAPER = re.compile(
    r"\b(?:letter|receipt|invoice|bill|photograph|photo|document|certificate|catalogue|newspaper|ticket|note)s?"
    r" (?:of|dated|from) $|\b(?:until|till)(?: the| about)? $",
    re.IGNORECASE,
)
_SALE = re.compile(r"\s+(?:[A-Z]\w+\s+)?(?:sale|auction|catalogue|inventory|census)\b")
"""Behind a year: "lot 12 in the 1923 sale"."""
_FAR = 28
"""Characters before a year in which these are looked for: the longest of them."""


def names_a_taste(text: str, end: int) -> bool:
    """True for years, ending at `end`, before a word such as "style"."""
    return _STYLE.match(text, end) is not None


def of_a_design(text: str, start: int, end: int) -> bool:
    """True for years of a pattern or model."""
    return (
        _PATTERN.match(text, end) is not None or _DESIGN.search(text, max(0, start - _FAR), start) is not None
    )


def of_a_paper(text: str, start: int, end: int) -> bool:
    """True for years of a letter, a receipt or a sale."""
    return _PAPER.search(text, max(0, start - _FAR), start) is not None or _SALE.match(text, end) is not None
