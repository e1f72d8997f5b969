"""What do the opinions decide? Sealed ballots -> findings, outcome, and every step of the count.

Holds: the count (`settle`), its words (`recount`), talk triggers, condition summaries.
May import: `planish.records`, numpy for dates and agreement. Start with `settle.py`, then `trace.py`.
"""

from planish.reasoning.settling.settle import settle
from planish.reasoning.settling.trace import recount

__all__ = ["recount", "settle"]
