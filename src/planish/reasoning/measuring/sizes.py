"""Sizes taken with rule or calipers: no year follows from them, but the label's figures are held against them."""

from planish.reasoning.measuring.figures import checked, in_words, place, problem
from planish.reasoning.measuring.measured import Measured, refused
from planish.records import Observation, Problem

ROLES = ("height", "width", "depth", "diameter", "length")


def measure_size(observation: Observation) -> Measured:
    """What was measured, in mm, by role (height, width, depth, diameter, length); says nothing of any year."""
    where = place(observation)
    said = []
    for role in ROLES:
        if role not in observation.values:
            continue
        size = checked(role.capitalize(), observation.values[role], "mm", where, least=0.0)
        if isinstance(size, Problem):
            return refused(size)
        said.append(f"{role} {in_words(size)}")
    if not said:
        return refused(problem(where, "No size is given.", f"Give one of: {', '.join(ROLES)}.", "size.empty"))
    return Measured(sentences=(f"Measured: {', '.join(said)}. A size alone dates nothing.",))
