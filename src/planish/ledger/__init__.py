"""What happened: append-only events in one hash-chained log, written by one writer.

Holds: `events` (kinds as words with a version), `upcasting`, `replay` (the five axes of each object), `commitments`,
`store` (the promise), `sqlite` and `postgres` (two keepers of it), `verifying`.
May import: `planish.records`.
Start with `store.py`.
"""
