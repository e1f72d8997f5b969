"""Does the label say what a label must say?"""

from collections.abc import Callable, Iterator
from functools import lru_cache

from planish.reasoning.admitting.paper import Paper, broken, met, not_understood
from planish.records import Claim, Clause, ClauseAnswer, DateValue, MakerValue


def check_required(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """One broken answer for each part that is missing, else one that is met."""
    given = clause.settings.get("parts", ())
    known, unknown, said = _asked(tuple(map(str, given)) if isinstance(given, tuple | list) else ())
    if unknown:
        yield not_understood(clause, unknown)
    missing = [part for part in known if not PARTS[part][0](paper)]
    for part in missing:
        _, name, remedy = PARTS[part]
        yield broken(
            clause,
            f"The label does not say the {name}.",
            f"label.no_{part}",
            remedy=remedy,
            claims=_bare_makers(paper) if part == "maker_qualifier" else (),
        )
    if not missing and not unknown:
        yield met(clause, said)


@lru_cache(maxsize=64)
def _asked(parts: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...], str]:
    """Parts that can be looked for, those that cannot, and the sentence when none of the first is missing."""
    known = tuple(part for part in parts if part in PARTS)
    unknown = tuple(part for part in parts if part not in PARTS)
    return known, unknown, f"The label says the {', '.join(PARTS[part][1] for part in known)}."


def _has(*sides: str) -> Callable[[Paper], bool]:
    return lambda paper: any(paper.sides.get(side) for side in sides)


def _has_place(paper: Paper) -> bool:
    """A place, a date word that names its country ("George III", "Ming"), or a hallmark with its town."""
    return bool(paper.sides.get("place")) or any(
        isinstance(claim.value, DateValue) and (claim.value.country or _names_a_town(claim, claim.value))
        for claim in paper.side("date")
    )


def _names_a_town(claim: Claim, value: DateValue) -> bool:
    """ "hallmarked London 1765": a capitalised word after the one that says what gives the date."""
    return "mark" in value.said and any(word[:1].isupper() for word in claim.words.split()[1:])


def _bare_makers(paper: Paper) -> list[Claim]:
    return [c for c in paper.side("maker") if isinstance(c.value, MakerValue) and not c.value.qualifier]


def _has_mark_words(paper: Paper) -> bool:
    """Marks are said, or the label says that there are none."""
    return any(claim.side == "mark" for claim in paper.reading.claims)


PARTS: dict[str, tuple[Callable[[Paper], bool], str, str]] = {
    "object": (_has("object"), "name of the object", "Begin with what it is: candlestick, tankard, plate."),
    "date": (_has("date"), "date", "Add a year, circa and a year, or a century and its part."),
    "place": (_has_place, "place of origin", "Add the country, and the town when it is known."),
    "material": (_has("material", "surface"), "material", "Add the metal or other material."),
    "measure": (_has("measure"), "measurements", "Add height, width or diameter with the unit."),
    "technique": (_has("technique"), "way of making", "Say how it was made: cast, raised, spun."),
    "state": (
        _has("state"),
        "condition",
        "Say repairs, replacements and later work, or that there are none.",
    ),
    "marks": (_has_mark_words, "marks", "Say the marks, or unmarked."),
    "provenance": (_has("provenance"), "provenance", "Say where it has been, with the evidence."),
    "price": (lambda paper: bool(paper.listed.price or paper.sides.get("price")), "price", "Add the price."),
    "maker_qualifier": (
        lambda paper: not _bare_makers(paper),
        "claim made of the maker",
        "Write maker's mark of, attributed to, workshop of or the like before the name.",
    ),
}
"""Part of a label → (is it there?, its name, what to do)."""
