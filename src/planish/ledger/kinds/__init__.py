"""The table of kinds: what each event is for, what `sub` names, what its body holds, who may write it.

A field's name ends in `?` when it may be absent. `private` fields (free text, names, ballot values) travel as
commitments; see `commitments`. Adding a field: make it optional, or make a new version and an upcaster.
"""

from collections.abc import Mapping
from types import MappingProxyType

from planish.ledger.kinds.fair import FAIR, LISTS
from planish.ledger.kinds.floor import FLOOR_KINDS
from planish.ledger.kinds.keeping import KEEPING
from planish.ledger.kinds.labels import LABELS, OUTCOMES
from planish.ledger.kinds.shape import ROLES_ALL, Field, Kind, well_formed

KINDS: Mapping[str, Kind] = MappingProxyType(
    {kind.name: kind for kind in (*FAIR, *LISTS, *FLOOR_KINDS, *LABELS, *OUTCOMES, *KEEPING)}
)

__all__ = ["KINDS", "ROLES_ALL", "Field", "Kind", "well_formed"]
