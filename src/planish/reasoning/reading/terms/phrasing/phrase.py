"""What a phrase of a label is, and what may head one."""

from dataclasses import dataclass

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.tokens import Tokens

_NOUNS = frozenset({"object", "part", "mark", "inscription"})
HEADING = _NOUNS | {"decoration"}
"""Sides whose words may head a phrase."""


@dataclass(frozen=True, slots=True)
class When:
    """Tokens `first` up to `last` read as a date, or a word that looks like a verb: it parts two nouns and heads nothing."""

    first: int
    last: int


@dataclass(slots=True, eq=False)
class Phrase:
    """Hits from token `first` up to `last` under one head. `part` is what its describing words speak of, "" the whole.

    `relation` is how it hangs on what stands before; `told` the word that opens it ("the", "one"); `made` a part that a word such as "lined with" gave it.
    """

    relation: str
    first: int
    last: int
    joined: bool
    told: str
    hits: list[Hit]
    sides: set[str]
    head: Hit | None = None
    noun: str = ""
    made: str = ""
    part: str = ""
    likeness: bool = False
    whole: bool = False
    before: "Phrase | None" = None

    @property
    def headed_first(self) -> bool:
        """True when nothing stands before a thing: "mounts French c. 1745" is said of the mounts."""
        head = self.head
        return head is not None and head.first == self.first and head.side in ("object", "part")


Item = Hit | When | int
"""A hit, a date, or the index of a word that no list has."""


def may_head(hit: Hit) -> bool:
    if hit.side == "mark":
        return hit.entry.value.kind != "unmarked" and not hit.verb
    if hit.side == "inscription":
        return hit.entry.value.term == "presentation"
    if hit.side != "decoration":
        return hit.side in _NOUNS
    return hit.entry.noun or is_motif(hit)


def is_motif(hit: Hit) -> bool:
    """ "engraved with tulips": a noun, but only what the ornament shows."""
    return hit.side == "decoration" and hit.entry.value.kind == "motif"


def only_like(hit: Hit) -> bool:
    """ "after", "in the manner of" and the like, before what is no name of a maker."""
    maker = hit.entry.maker
    return maker is not None and maker.hand == "no" and maker.workshop == "no" and maker.role == "maker"


_DAMAGE = frozenset(
    {"hole", "dent", "crack", "chip", "split", "tear", "dents", "cracks", "chips", "splits", "tears", "holes"}
    | {"bruise", "bruises", "scratch", "scratches", "nick", "nicks", "pit", "pits", "bump", "bumps", "ding", "dings", "loss", "losses"}
)  # fmt: skip


_POINTS = frozenset({"one", "two", "the", "its", "both"})


def names_damage(state: Hit, tokens: Tokens) -> bool:
    """ "bullet dents", "wick hole": the word before says what kind of damage, not what is damaged."""
    told = state.first > 1 and tokens.low[state.first - 2] in _POINTS  # "one axle split"
    return tokens.low[state.last - 1] in _DAMAGE and not (told and tokens.low[state.last - 1] == "split")


def first_of(item: Item) -> int:
    return item if isinstance(item, int) else item.first
