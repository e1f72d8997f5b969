"""What a label claims. `read` turns a text into claims with character spans, leftovers and problems.

Start with `label.py`. Dates are in `dates/`, measures in `measures/`, everything else in `terms/`.
"""

from planish.reasoning.reading.label import read

__all__ = ["read"]
