"""One label text to one Reading."""

from planish.facts.words import WordBook
from planish.records import Conventions, Reading, Span, Unread


def read(text: str, *, words: WordBook, conventions: Conventions | None = None) -> Reading:
    """Read one label with the given vocabulary. Never raises on any text."""
    del words
    left = (Unread(text, Span(0, len(text))),) if text.strip() else ()
    return Reading(text=text, unread=left, conventions=conventions or Conventions())
