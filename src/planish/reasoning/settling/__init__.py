"""What do the opinions decide? Sealed ballots -> findings, outcome, and every step of the count.

Holds: the count (`settle`), its words (`recount`), the process (`open_panel`), pooled dates, who may see a split,
agreement of an object and of a day, appeals.
May import: `planish.records`, numpy and scipy. Start with `settle.py`, then `trace.py`, then `process.py`.
"""

from planish.reasoning.settling.pooling import agree_on_dates, pool_dates
from planish.reasoning.settling.process import PanelProcess, open_panel
from planish.reasoning.settling.seeing import Viewer, answer_without_counts, split_for
from planish.reasoning.settling.settle import settle
from planish.reasoning.settling.trace import recount

__all__ = [
    "PanelProcess",
    "Viewer",
    "agree_on_dates",
    "answer_without_counts",
    "open_panel",
    "pool_dates",
    "recount",
    "settle",
    "split_for",
]
