"""Marks that carry a date: registration diamonds and numbers, patents, words, plated-ware and pewter devices.

Every mark bounds its own striking. It bounds the object only when a specialist has said that it is original to it
(`Observation.original` is True), and then only from below: a mark cannot be struck before it existed, but dies are
old, marks are kept, cast and copied. Absence of a mark says nothing.
"""

from planish.facts.book import FactBook
from planish.reasoning.measuring.figures import place, problem
from planish.reasoning.measuring.marks.diamonds import measure_diamond
from planish.reasoning.measuring.marks.numbers import measure_patent, measure_registered
from planish.reasoning.measuring.marks.wording import measure_words
from planish.reasoning.measuring.measured import Measured, Settings, refused
from planish.records import Observation

__all__ = ["measure_diamond", "measure_mark", "measure_patent", "measure_registered", "measure_words"]


def measure_mark(observation: Observation, book: FactBook, settings: Settings | None = None) -> Measured:
    """One mark, by what was noted: `more["diamond"]`, `more["registered"]`, `more["patent"]`, or words and terms."""
    settings = settings or Settings()
    if "diamond" in observation.more:
        return measure_diamond(observation, book, settings)
    if "registered" in observation.more:
        return measure_registered(observation, book, settings)
    if "patent" in observation.more:
        return measure_patent(observation, book, settings)
    if observation.words.strip() or observation.terms:
        return measure_words(observation, book, settings)
    return refused(
        problem(
            place(observation), "No mark is noted.", "Write what is struck, letter for letter.", "mark.empty"
        )
    )
