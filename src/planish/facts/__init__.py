"""What is known: the fact book, and the packs it is read from.

Holds: `book` (look-ups answer *known*, *ended* or *not on file*), `loading` (with `words`, the only file readers
below the errands), `words` (the trade vocabulary as data), `checking` (whether a pack is sound).
May import: `planish.records`. Data lives in `planish/packs`, which holds no Python.
Start with `book.py`.
"""
