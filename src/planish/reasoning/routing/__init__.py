"""Which panels must see an object: a lead, a second for a part, and a question when the words do not say.

Holds: `route`. May import: records. Disciplines are data (`packs/discipline/*/discipline.toml`).
Start with `panels.py`.
"""

from planish.reasoning.routing.panels import route

__all__ = ["route"]
