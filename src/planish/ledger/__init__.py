"""What happened: append-only events in one hash-chained log, written by one writer.

Holds: `kinds` (every event as a word with a version) and `events` (its bytes), `commitments`, `chain`, `judging` (how
an event is recorded), `accepting`, `upcasting`, `replay` and `story` (the five axes of each object), `store` (the
promise), `sqlite`, `postgres` and `memory` (its keepers), `journal` (the pen of one desk), `verifying`, `backup`.
May import: `planish.records`.
Start with `journal.py`, then `store.py`.
"""
