"""Measures: figures with unit, role and part. Start with `reading.py`; figures are in `figures.py`, units in `units.py`."""

from planish.reasoning.reading.measures.reading import Measured, MeasureFound, read_measures, value_for

__all__ = ["MeasureFound", "Measured", "read_measures", "value_for"]
