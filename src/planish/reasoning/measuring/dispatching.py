"""One verb for every look: an observation goes to the instrument of its kind."""

from collections.abc import Callable

from planish.facts.book import FactBook
from planish.reasoning.measuring.capacity import measure_capacity
from planish.reasoning.measuring.composition import measure_composition
from planish.reasoning.measuring.condition import measure_condition
from planish.reasoning.measuring.density import measure_density
from planish.reasoning.measuring.engraved import measure_engraved
from planish.reasoning.measuring.figures import place, problem
from planish.reasoning.measuring.marks import measure_mark
from planish.reasoning.measuring.measured import Measured, Settings, refused
from planish.reasoning.measuring.members import measure_members
from planish.reasoning.measuring.sizes import measure_size
from planish.reasoning.measuring.threads import measure_thread
from planish.records import Observation

Instrument = Callable[[Observation, FactBook, Settings], Measured]
INSTRUMENTS: dict[str, Instrument] = {
    "composition": measure_composition,
    "density": measure_density,
    "capacity": measure_capacity,
    "thread": measure_thread,
    "mark": measure_mark,
    "members": measure_members,
    "size": lambda seen, _book, _settings: measure_size(seen),
    "condition": measure_condition,
}
NOT_MEASURED = ("construction", "wear", "disclosure", "text")
"""Looks that are words alone: kept for people and for the label, no instrument reads them."""


def measure(observation: Observation, book: FactBook, settings: Settings | None = None) -> Measured:
    """What one look says, of which event, how strongly, and what it does not say. Never raises on a wrong figure."""
    settings = settings or Settings()
    if observation.kind == "weight":
        return _weight(observation, book, settings)
    if observation.kind in INSTRUMENTS:
        return INSTRUMENTS[observation.kind](observation, book, settings)
    if observation.kind in NOT_MEASURED:
        return Measured()
    known = ", ".join([*INSTRUMENTS, "weight"])
    return refused(
        problem(
            place(observation), f"No instrument reads a look of the kind {observation.kind!r}.", f"Use one of: {known}.",
            "measure.kind", found=observation.kind,
        )
    )  # fmt: skip


def _weight(observation: Observation, book: FactBook, settings: Settings) -> Measured:
    if "water" in observation.values:
        return measure_density(observation, book, settings)
    if "engraved" in observation.more:
        return measure_engraved(observation, book, settings)
    return Measured(
        sentences=("A weight alone says nothing: weigh it in water too, or against an engraved weight.",)
    )
