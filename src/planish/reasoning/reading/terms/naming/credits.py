"""Credits as collections write them: roles in brackets behind a name, and names that are the subject and no maker."""

from dataclasses import dataclass

from planish.reasoning.reading.terms.naming.names import Name, NameFinder
from planish.reasoning.reading.tokens import LOWER
from planish.records import MakerValue, Strength


@dataclass(frozen=True, slots=True)
class MakerFound:
    """Tokens `first` up to `last` read as a maker."""

    first: int
    last: int
    value: MakerValue
    strength: Strength
    qualifier: str = ""
    differs: str = ""


_HEDGES: dict[str, Strength] = {
    "attributed": "likely",
    "probable": "likely",
    "presumed": "likely",
    "possible": "possible",
    "supposed": "possible",
}
"""Words before a role in brackets: "(attributed designer)"."""
_SHOWN = frozenset(
    {"medal", "medallion", "plaque", "plaquette", "portrait", "bust", "figure", "relief", "cameo"}
)
"""Things whose bracketed name is whom they show."""


def role_in_brackets(finder: NameFinder, after: int) -> tuple[str, Strength, int]:
    """The role in "(designer)" or "(attributed designer)" at `after`, how surely it is said, and the token behind it."""
    low = finder.tokens.low
    if low[after : after + 1] != ["("]:
        return "", "stated", after
    at = after + 1
    said: Strength = "stated"
    if low[at : at + 1] and low[at] in _HEDGES:
        said, at = _HEDGES[low[at]], at + 1
    if low[at + 1 : at + 2] != [")"]:
        return "", "stated", after
    role = finder.lexicon.roles.get(low[at]) or finder.lexicon.roles.get(low[at].removesuffix("s"), "")
    return (role, said, at + 2) if role else ("", "stated", after)


def name_before(finder: NameFinder, end: int, taken: set[int]) -> int:
    """Where the name that ends before `end` begins: back to the line's start, a semicolon or a bracket; `end` for none."""
    low, first = finder.tokens.low, end
    while (
        first > 0 and low[first - 1] not in ("\n", ";", ")") and first - 1 not in taken and end - first < 10
    ):
        first -= 1
    while first < end and not low[first][0].isalnum():
        first += 1
    return end if first < end and finder.tokens.cap[first] == LOWER else first


def roles_in_brackets(finder: NameFinder, taken: set[int]) -> list[MakerFound]:
    """Anything before "(Manufacturer)" on its line is a maker's name, known or not."""
    found: list[MakerFound] = []
    low, tokens = finder.tokens.low, finder.tokens
    i = -1
    for _ in range(low.count("(")):
        i = low.index("(", i + 1)
        if i == 0 or i in taken:
            continue
        role, said, last = role_in_brackets(finder, i)
        first = name_before(finder, i, taken) if role else i
        if first == i:
            continue
        name = tokens.text[tokens.start[first] : tokens.end[i - 1]]
        found.append(MakerFound(first, last, MakerValue(name=name, role=role, period="yes"), said))
    return found


def belongs_to(name: Name, finder: NameFinder) -> bool:
    """ "Edmund Harwell's Travels", "George Marsh' medal": a person in the possessive owns or is told of."""
    tokens = finder.tokens
    if name.kind == "firm":
        return False
    owned = any(word.endswith(("'s", "’s")) for word in tokens.low[name.first : name.last])
    after = tokens.end[name.last - 1]
    return owned or (tokens.text[after : after + 1] in ("'", "’") and tokens.low[name.last - 1].endswith("s"))


def without_subjects(found: list[MakerFound], finder: NameFinder) -> list[MakerFound]:
    """Leave out whom a thing shows: "Portrait medallion (Anne Wexcombe)", a heading that is a person's name over the artist's."""
    if len(found) < 2 and "(" not in finder.tokens.low:
        return found
    return [one for one in found if not (_in_brackets(one, found, finder) or _is_heading(one, found, finder))]


def _in_brackets(one: MakerFound, found: list[MakerFound], finder: NameFinder) -> bool:
    """A bare name right behind the bracket of a thing, where another is the maker or the thing is a likeness."""
    if one.qualifier or one.first < 2 or finder.tokens.low[one.first - 1] != "(" or one.last - one.first < 2:
        return False
    thing = finder.at.get(one.first - 2)
    if thing is None or thing.side != "object":
        return False
    return thing.entry.value.term.split(" ")[-1] in _SHOWN or any(
        other is not one and other.value.name != "unknown" for other in found
    )


def _is_heading(one: MakerFound, found: list[MakerFound], finder: NameFinder) -> bool:
    """A person's bare name alone on the first line, with a maker alone or with a role on the next."""
    low = finder.tokens.low
    if one.first or one.qualifier or one.value.role != "maker" or low[one.last : one.last + 1] != ["\n"]:
        return False
    return any(other.first == one.last + 1 and other.value.name != "unknown" for other in found)
