"""planish: reads what a label claims, weighs what the object shows, and finds the words a panel can sign.

The public face is small; everything is loaded only when asked for, so that reading a label pulls in neither the
ledger nor the web.
"""

from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from planish.facts.words import WordBook
    from planish.reasoning.reading.label import Read
    from planish.records import Conventions, Reading

__version__ = "0.1.0"
__all__ = ["__version__", "read_label"]


def read_label(text: str, conventions: "Conventions | None" = None) -> "Reading":
    """Read one label.

    `text` is the label as it hangs, any Unicode, any length. `conventions` says how this fair turns words into
    years; the defaults are house choices and are printed with the result. Never raises on any text.

    Example: `read_label("Pewter flagon, c. 1720").years` gives 1710 to 1730.
    """
    read, words = _reader()
    return read(text, words=words, conventions=conventions)


@cache
def _reader() -> "tuple[Read, WordBook]":
    """The reader and its words, brought in with the first label."""
    from planish.facts.words import english
    from planish.reasoning.reading import read

    return read, english()
