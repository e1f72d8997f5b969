"""Searching everything on file: objects by their words, stands, and numbers, while the log goes on."""

import unicodedata
from collections.abc import Callable, Iterable, Iterator

from planish.errands.evidence import as_hung
from planish.errands.listing import stand_order
from planish.ledger.replay import FairState
from planish.ledger.story import Story


class Index:
    """Objects in stand and number order with the words they are found by."""

    def __init__(self) -> None:
        self._words: dict[str, str] = {}
        self._order: list[str] | None = None
        self.away: dict[str, set[str]] = {}

    def follow(self, state: FairState, changed: Iterable[str]) -> None:
        """Take up the objects that changed."""
        for object_id in changed:
            story = state.objects.get(object_id)
            if story is None:
                continue
            if object_id not in self._words:
                self._order = None
            self._words[object_id] = folded(_said(story))
            for cast in story.recused:
                self.away.setdefault(cast.who, set()).add(object_id)

    def ordered(self, state: FairState) -> list[str]:
        """All ids by stand, then id."""
        if self._order is None:
            objects = state.objects
            self._order = sorted(objects, key=lambda one: (stand_order(objects[one].listed.stand), one))
        return self._order

    def find(
        self,
        state: FairState,
        typed: str,
        *,
        may: Callable[[Story], bool],
        among: Iterable[str] | None = None,
    ) -> Iterator[Story]:
        """Objects that hold every word of `typed`, in order, of those that `may` be seen."""
        wanted = folded(typed).split()
        for object_id in self.ordered(state) if among is None else among:
            words = self._words[object_id]
            if all(word in words for word in wanted):
                story = state.objects[object_id]
                if may(story):
                    yield story


def _said(story: Story) -> str:
    listed = story.listed
    return f"{listed.id} {listed.stand}/{listed.number} {as_hung(story).text}"


def folded(text: str) -> str:
    """Words without accents, capitals or width, as a person types them."""
    plain = unicodedata.normalize("NFKD", text)
    return "".join(sign for sign in plain if not unicodedata.combining(sign)).casefold()
