"""What a fair's rule book says of one label, clause by clause: met, broken, or cannot tell.

Holds: `admit`, and `undisclosed` for what was seen at the table and is not on the label.
May import: records, the fact book. Start with `clauses.py`; each kind of check has its own file.
"""

from planish.reasoning.admitting.clauses import admit
from planish.reasoning.admitting.disclosing import undisclosed

__all__ = ["admit", "undisclosed"]
