"""Who may sit on a panel for a stand or an object, and is a quorum still within reach?

May import: `planish.records`. Start with `eligible.py`.
"""

from planish.reasoning.seating.eligible import Seat, Seating, Specialist, appeals_panel, eligible

__all__ = ["Seat", "Seating", "Specialist", "appeals_panel", "eligible"]
