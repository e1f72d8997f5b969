"""A list as taken in, and what changed since it was last taken: values only, nothing is applied here."""

from dataclasses import dataclass
from typing import Literal

from planish.records.objects import ListedObject, RawRow
from planish.records.problems import Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnGuess:
    """What one column was taken for. `letter` as a spreadsheet names it; `confidence` 0..1 is a house figure, not a chance.

    `field` is empty when nobody could say; such a column is kept in the raw rows. `why` gives the grounds in words.
    """

    sheet: str
    letter: str
    heading: str
    field: str
    confidence: float
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenList:
    """One file as read: every row raw, the objects proposed from it, the columns guessed, and what was odd.

    `digest` is the SHA-256 of the file's bytes. `objects` carry the stand only where the list states one, and no id yet.
    """

    file: str
    digest: str
    form: str = ""
    encoding: str = ""
    sheets: tuple[str, ...] = ()
    rows: tuple[RawRow, ...] = ()
    objects: tuple[ListedObject, ...] = ()
    columns: tuple[ColumnGuess, ...] = ()
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldChange:
    """One field of one object that reads differently: `field` is "text", "price", "number" or a listed field's name."""

    field: str
    before: str
    after: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ObjectChange:
    """One object that is still listed under its number, with every field that differs."""

    old: ListedObject
    new: ListedObject
    changes: tuple[FieldChange, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """Something only the exhibitor can answer. `kind` "renumbered": is `new` the same object as `old`?

    `likeness` is 0..1, the likeness of the words (1 the same words). Nothing is applied until it is answered.
    """

    kind: Literal["renumbered", "same_number_other_words", "moved_stand"]
    sentence: str
    old: ListedObject
    new: ListedObject
    likeness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ListChange:
    """What a list says now against what was on file. `same` counts objects that read exactly as before."""

    same: int = 0
    updated: tuple[ObjectChange, ...] = ()
    added: tuple[ListedObject, ...] = ()
    removed: tuple[ListedObject, ...] = ()
    questions: tuple[Question, ...] = ()

    @property
    def nothing(self) -> bool:
        """True when the list says exactly what was on file."""
        return not (self.updated or self.added or self.removed or self.questions)
