"""Lists in: CSV, TSV, XLSX, XLS, ODS, JSON, JSON Lines and typed lists, as people send them.

Holds: the gate (what a file is, before it is opened), the readers of each form, the guess of columns, odd cells.
May import: records, openpyxl, calamine, rapidfuzz. Start with `reading.read_list`; for strangers' files `guarding`.
"""

from planish.doors.papers.lists.grids import HOUSE_LIMITS, Limits
from planish.doors.papers.lists.guarding import read_list_safely
from planish.doors.papers.lists.reading import mapping_words, read_list
from planish.errands.intake.relisting import compare_lists, stand_problems

__all__ = [
    "HOUSE_LIMITS",
    "Limits",
    "compare_lists",
    "mapping_words",
    "read_list",
    "read_list_safely",
    "stand_problems",
]
