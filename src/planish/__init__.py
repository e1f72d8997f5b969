"""planish: reads what a label claims, weighs what the object shows, and finds the words a panel can sign.

The public face is small; everything is loaded only when asked for, so that reading a label pulls in neither the
ledger nor the web.
"""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from planish.records import Conventions, Reading

__version__ = "0.1.0"
__all__ = ["__version__", "read_label"]


def read_label(text: str, conventions: "Conventions | None" = None) -> "Reading":
    """Read one label.

    `text` is the label as it hangs, any Unicode, any length. `conventions` says how this fair turns words into
    years; the defaults are house choices and are printed with the result. Never raises on any text.

    Example: `read_label("Pewter flagon, c. 1720").years` gives 1710 to 1730.
    """
    from planish.facts.words import english
    from planish.reasoning.reading import read

    return read(text, words=english(), conventions=conventions)
