"""Names of styles that tell the taste of an ornament or a part, and no years of the thing."""

from planish.reasoning.reading.terms.phrasing.phrase import Phrase
from planish.records import Claim, DateValue


def is_a_taste(claim: Claim, value: DateValue, phrase: Phrase) -> bool:
    """ "A rococo frieze", "engraved baroque flowers": the taste of an ornament or a part, which dates nothing."""
    taste = value.period != "" and claim.words.lower() in _TASTES
    if not taste or phrase.head is not None:
        return taste and phrase.head is not None and phrase.head.side == "part"
    return phrase.relation != "" and "decoration" in phrase.sides and "material" not in phrase.sides


_TASTES = frozenset(
    {
        "rococo",
        "baroque",
        "gothic",
        "neoclassical",
        "neo-classical",
        "renaissance",
        "régence",
        "regence",
        "art nouveau",
        "art deco",
    }
)
