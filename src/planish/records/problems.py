"""A problem is a value: where, what, why it matters, the way out, how bad."""

from dataclasses import dataclass
from typing import Literal

Severity = Literal[1, 2, 3, 4]
"""1 off the floor now; 2 correct before opening; 3 correct today; 4 advice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """Something that could not be read or is not right, said so that a person can mend it.

    `where` is for a person ("stall.xlsx, sheet Stock, cell C14"), `what` was found, `why` it matters, `remedy` the
    way out. `code` is a stable plain word for programs ("date.backwards"). `found` is what was read, unaltered.
    """

    where: str
    what: str
    remedy: str
    why: str = ""
    severity: Severity = 3
    code: str = ""
    found: str = ""

    def __str__(self) -> str:
        why = f" {self.why}" if self.why else ""
        return f"{self.where}: {self.what}{why} {self.remedy}"
