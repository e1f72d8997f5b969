"""Read-only mappings, so that a record is frozen all the way down; and frozen records that are quick to make."""

from collections.abc import Callable, Mapping
from dataclasses import MISSING, fields
from types import MappingProxyType
from typing import Any, TypeVar

K = TypeVar("K")
V = TypeVar("V")
Record = TypeVar("Record")

EMPTY: Mapping[str, Any] = MappingProxyType({})


def freeze(mapping: Mapping[K, V] | None = None) -> Mapping[K, V]:
    """Return a read-only copy of `mapping`; later changes to the original do not reach it."""
    return MappingProxyType(dict(mapping or {}))


def quick(record: type[Record]) -> type[Record]:
    """Give a frozen, slotted record a constructor that costs what an open one does: a third for ten fields.

    A frozen record fills every field by way of `object.__setattr__`. Here a new one is, while it is being filled, of an
    open class with the same slots, and gets its own class back as the last step; from then on it is as frozen as any.
    """
    scope: dict[str, Any] = {"become": object.__setattr__, "own": record, "MISSING": MISSING}
    scope["open_"] = _opened(record)
    listed, filled = ["self"], []
    for field in fields(record):  # type: ignore[arg-type]
        name, default = field.name, f"default_{field.name}"
        if field.kw_only and "*" not in listed:
            listed.append("*")
        if field.default_factory is not MISSING:
            scope[default] = field.default_factory
            listed.append(f"{name}=MISSING")
            filled.append(f"{name} = {default}() if {name} is MISSING else {name}")
        elif field.default is not MISSING:
            scope[default] = field.default
            listed.append(f"{name}={default}")
        else:
            listed.append(name)
        filled.append(f"self.{name} = {name}")
    steps = ["become(self, '__class__', open_)", *filled, "self.__class__ = own"]
    if hasattr(record, "__post_init__"):
        steps.append("self.__post_init__()")
    exec(f"def __init__({', '.join(listed)}):\n    " + "\n    ".join(steps), scope)
    record.__init__ = scope["__init__"]  # type: ignore[method-assign]
    return record


def filler(record: type[Record]) -> Callable[..., Record]:
    """A function that makes a frozen, slotted record without checks of its own from all its fields in order: half the
    cost of naming them. For the few places that make records by the thousand.
    """
    scope: dict[str, Any] = {"open_": _opened(record), "own": record}
    names = [field.name for field in fields(record)]  # type: ignore[arg-type]
    steps = [
        "new = open_()",
        *(f"new.{name} = {name}" for name in names),
        "new.__class__ = own",
        "return new",
    ]
    exec(f"def filled({', '.join(names)}):\n    " + "\n    ".join(steps), scope)
    filled: Callable[..., Record] = scope["filled"]
    return filled


def _opened(record: type[Record]) -> type:
    """An open class with the slots of `record`."""
    return type(record.__name__, (), {"__slots__": record.__slots__})  # type: ignore[attr-defined]
