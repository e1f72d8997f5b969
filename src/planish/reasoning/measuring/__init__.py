"""Measuring: what one physical look at an object says, about which event, how strongly, and what it does not say.

Holds: `measure` (an observation in, a `Measured` out) and a direct verb for each instrument: composition, density,
capacity, threads, marks, members, condition. May import: records, the fact book.
Start with `measured.py` (the answer and the house settings), then `threads.py`, the shortest instrument.

Units inside are those of the trade: mm, g, ml, wt%, g/cm3, degC. Uncertainties are standard uncertainties and are
carried by linear propagation unless an instrument says otherwise. A wrong figure is a Problem, never a number.
"""

from planish.reasoning.measuring.dispatching import measure
from planish.reasoning.measuring.measured import Measured, Settings

__all__ = ["Measured", "Settings", "measure"]
