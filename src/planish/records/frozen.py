"""Read-only mappings, so that a record is frozen all the way down."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, TypeVar

K = TypeVar("K")
V = TypeVar("V")

EMPTY: Mapping[str, Any] = MappingProxyType({})


def freeze(mapping: Mapping[K, V] | None = None) -> Mapping[K, V]:
    """Return a read-only copy of `mapping`; later changes to the original do not reach it."""
    return MappingProxyType(dict(mapping or {}))
