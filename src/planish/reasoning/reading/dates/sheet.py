"""One text on the table, as every reader of units sees it."""

from dataclasses import dataclass

from planish.reasoning.reading.dates.lexicon import Lexicon
from planish.reasoning.reading.dates.scanning import Tokens
from planish.records import Conventions


@dataclass(slots=True)
class Sheet:
    """One text on the table: its tokens, the rules for reading it, and whether the whole text is known to be a date.

    `anchor` is the last year read so far, to which "the century" and "'76" refer; 0 when there is none.
    """

    t: Tokens
    lexicon: Lexicon
    conventions: Conventions
    liberal: bool
    country: str = ""
    anchor: int = 0
