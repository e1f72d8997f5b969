"""The real fact book, and looks made in one line."""

from collections.abc import Callable, Mapping
from typing import Any

import pytest
from hypothesis import settings

from planish.facts.book import FactBook
from planish.facts.loading import load
from planish.reasoning.measuring import Measured, measure
from planish.records import Observation, Quantity, freeze

settings.register_profile("unhurried", deadline=None)  # no test is timed: a busy machine proves nothing
settings.load_profile("unhurried")

Look = Callable[..., Measured]


@pytest.fixture(scope="session")
def book() -> FactBook:
    return load("metalware")[0]


def observation(kind: str, values: Mapping[str, Any] | None = None, **rest: Any) -> Observation:
    """A look whose values are (amount, uncertainty, unit), shorter where the rest is plain."""
    quantities = {}
    for name, value in (values or {}).items():
        parts = value if isinstance(value, tuple) else (value,)
        amount, spread, unit = (*parts, 0.0, "")[:3] if len(parts) < 3 else parts
        quantities[name] = Quantity(amount, unit if isinstance(unit, str) else "", spread)
    more = freeze(rest.pop("more", {}))
    return Observation(
        id="o1", object_id="pot", kind=kind, by="a specialist", values=freeze(quantities), more=more, **rest
    )


@pytest.fixture(scope="session")
def look(book: FactBook) -> Look:
    def one(kind: str, values: Mapping[str, Any] | None = None, **rest: Any) -> Measured:
        return measure(observation(kind, values, **rest), book)

    return one
