"""Finding objects among many: by their words, their stand, how far they are; counted and turned page by page.

The index follows the log object by object. Nobody's rights lie in it: whoever asks says which objects `may` be seen, and
for which stands that is the same for every object, so that a stand can be counted without looking at each.
"""

import unicodedata
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Protocol

from planish.errands.intake.listing import stand_order
from planish.ledger.replay import FairState
from planish.ledger.story import Story


@dataclass(frozen=True, slots=True)
class Facet:
    """What lists are filtered by, of one object."""

    examination: str
    outcome: str
    label: str
    disciplines: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A filter. Empty words want everything; what was taken out of the fair is found only when asked for."""

    text: str = ""
    stand: str = ""
    discipline: str = ""
    examination: str = ""
    outcome: str = ""
    label: str = ""
    without: Collection[str] = frozenset()
    """Ids that are left out."""

    def fits(self, facet: Facet) -> bool:
        """True when an object with this facet is wanted."""
        if facet.examination == "withdrawn" and self.examination != "withdrawn":
            return False
        return (
            (not self.discipline or self.discipline in facet.disciplines)
            and self.examination in ("", facet.examination)
            and self.outcome in ("", facet.outcome)
            and self.label in ("", facet.label)
        )


class May(Protocol):
    """Which objects somebody may see. `single` are the ids that must be asked one by one, None for all."""

    single: frozenset[str] | None

    def __call__(self, story: Story) -> bool:
        """True when this object may be seen. Outside `single` the answer is the same for a whole stand."""


@dataclass(frozen=True, slots=True)
class OnStand:
    """The objects of one stand in order, and how many there are of each facet. Replaced, never changed."""

    ids: tuple[str, ...] = ()
    counts: Mapping[Facet, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Found:
    """How many fit, and the ids of one page of them."""

    total: int
    ids: tuple[str, ...]


class Index:
    """Objects in stand and number order, with their facets and the words they are found by."""

    def __init__(self) -> None:
        self._stands: dict[str, OnStand] = {}
        self._in_order: tuple[str, ...] = ()
        self._known: dict[str, tuple[str, Facet]] = {}
        self._said: dict[str, tuple[str, str, str]] = {}
        self._words: dict[str, list[str]] = {}
        self._vocabulary: list[str] = []
        self._alike: dict[Facet, Facet] = {}
        self.away: dict[str, set[str]] = {}
        self.told: dict[str, set[str]] = {}
        """By person: objects on which a ballot was locked or from which somebody stepped back; from which alone."""

    # -- following --------------------------------------------------------------------------------------------------

    def follow(self, state: FairState, changed: Iterable[str]) -> None:
        """Take up the objects that changed."""
        moved: dict[str, Counter[Facet]] = {}
        come: dict[str, list[str]] = {}
        gone: dict[str, set[str]] = {}
        for object_id in changed:
            story = state.objects.get(object_id)
            if story is None:
                continue
            stand, facet = story.listed.stand, self._facet(story)
            was = self._known.get(object_id)
            if was != (stand, facet):
                self._known[object_id] = stand, facet
                moved.setdefault(stand, Counter())[facet] += 1
                if was is not None:
                    moved.setdefault(was[0], Counter())[was[1]] -= 1
                if was is None or was[0] != stand:
                    come.setdefault(stand, []).append(object_id)
                if was is not None and was[0] != stand:
                    gone.setdefault(was[0], set()).add(object_id)
            self._note_people(object_id, story)
            self._note_words(object_id, story)
        for stand, counts in moved.items():
            self._put(stand, counts, come.get(stand, []), gone.get(stand, set()))

    def _facet(self, story: Story) -> Facet:
        """The facet; one that many have is kept once."""
        state = story.state
        made = Facet(state.examination, state.outcome, state.label, state.disciplines)
        return self._alike.setdefault(made, made)

    def _put(self, stand: str, moved: Counter[Facet], come: list[str], gone: set[str]) -> None:
        old = self._stands.get(stand, OnStand())
        counts = Counter(old.counts)
        counts.update(moved)
        ids = old.ids
        if come or gone:
            ids = tuple(sorted([*(one for one in old.ids if one not in gone), *come]))
        new = stand not in self._stands
        self._stands[stand] = OnStand(ids, {facet: n for facet, n in counts.items() if n})
        if new:
            self._in_order = tuple(sorted(self._stands, key=lambda one: (stand_order(one), one)))

    def _note_people(self, object_id: str, story: Story) -> None:
        for cast in story.recused:
            self.away.setdefault(cast.who, set()).add(object_id)
            self.told.setdefault(cast.who, set()).add(object_id)
        for cast in story.ballots:
            self.told.setdefault(cast.who, set()).add(object_id)

    def _note_words(self, object_id: str, story: Story) -> None:
        said, was = _said(story), self._said.get(object_id)
        if said == was:
            return
        self._said[object_id] = said
        words, before = _words(object_id, said), _words(object_id, was) if was is not None else set()
        for word in before - words:
            self._words[word] = [one for one in self._words[word] if one != object_id]
        for word in words - before:
            if word not in self._words:
                self._words[word] = []
                self._vocabulary.append(word)
            self._words[word].append(object_id)

    # -- finding ----------------------------------------------------------------------------------------------------

    def ordered(self, stand: str = "") -> Iterator[str]:
        """Ids by stand, then id; of one stand when given."""
        for one in (stand,) if stand else self._in_order:
            yield from self._stands.get(one, OnStand()).ids

    def find(self, state: FairState, typed: str, *, may: Callable[[Story], bool]) -> Iterator[Story]:
        """Objects that hold every word of `typed`, in order, of those that `may` be seen."""
        hits = self._hits(typed)
        for object_id in self._in_turn(hits):
            story = state.objects.get(object_id)
            if story is not None and may(story):
                yield story

    def page(self, state: FairState, wanted: Wanted, *, may: May, offset: int, size: int) -> Found:
        """How many objects fit, and those from `offset` on. A stand of which no object needs a look is only counted."""
        hits = self._hits(wanted.text) if wanted.text else None
        single = None if may.single is None else self._stands_of(may.single)
        without = self._stands_of(wanted.without)
        total, ids, end = 0, list[str](), offset + size
        for stand in (wanted.stand,) if wanted.stand else self._in_order:
            here = self._stands.get(stand, OnStand())
            if hits is None and single is not None and stand not in single and stand not in without:
                count = self._count(state, here, wanted, may)
                if total + count <= offset or total >= end:
                    total += count
                    continue
            for one in here.ids if hits is None else [one for one in here.ids if one in hits]:
                if self._shows(state, one, wanted, may):
                    if offset <= total < end:
                        ids.append(one)
                    total += 1
        return Found(total, tuple(ids))

    def _count(self, state: FairState, here: OnStand, wanted: Wanted, may: May) -> int:
        count = sum(n for facet, n in here.counts.items() if wanted.fits(facet))
        story = state.objects.get(here.ids[0]) if count else None
        return count if story is not None and may(story) else 0

    def _shows(self, state: FairState, one: str, wanted: Wanted, may: May) -> bool:
        if one in wanted.without or not wanted.fits(self._known[one][1]):
            return False
        story = state.objects.get(one)
        return story is not None and may(story)

    def _stands_of(self, ids: Iterable[str]) -> set[str]:
        return {self._known[one][0] for one in ids if one in self._known}

    def _in_turn(self, hits: set[str]) -> Iterator[str]:
        """Hits in order: sorted when they are few, else picked out of everything as it stands."""
        if len(hits) * 16 > len(self._known):
            return (one for one in self.ordered() if one in hits)
        places = {stand: place for place, stand in enumerate(self._in_order)}
        return iter(sorted(hits, key=lambda one: (places.get(self._known[one][0], len(places)), one)))

    def _hits(self, typed: str) -> set[str]:
        """Ids of the objects that hold every word of `typed`, wherever in their words it stands."""
        hits: set[str] | None = None
        for word in sorted(folded(typed).split(), key=len, reverse=True):
            holding = {one for known in self._vocabulary if word in known for one in self._words[known]}
            hits = holding if hits is None else hits & holding
            if not hits:
                break
        return set(self._known) if hits is None else hits


def _said(story: Story) -> tuple[str, str, str]:
    """What an object is found by: stand, number, and the words of its newest label."""
    label, listed = story.label, story.listed
    return listed.stand, listed.number, label.text if label is not None and label.text else listed.text


def _words(object_id: str, said: tuple[str, str, str]) -> set[str]:
    stand, number, text = said
    return set(folded(f"{object_id} {stand}/{number} {text}").split())


def folded(text: str) -> str:
    """Words without accents, capitals or width, as a person types them."""
    if text.isascii():
        return text.casefold()
    plain = unicodedata.normalize("NFKD", text)
    return "".join(sign for sign in plain if not unicodedata.combining(sign)).casefold()
