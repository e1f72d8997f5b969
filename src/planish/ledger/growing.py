"""A mapping that only grows, of which a snapshot costs as good as nothing: what a fold keeps its many objects in.

    objects = Growing()
    objects["7-001"] = story          puts, or puts anew; nothing is ever taken out
    then = objects.snapshot()         read-only; later puts do not reach it

Values lie on pages of 256; a snapshot shares them, and a page is copied when it is first written after one. Order is
that of the first put, as in a dict. One thread writes; snapshots may be read by any number of others meanwhile.
"""

from collections.abc import ItemsView, Iterator, Mapping, ValuesView
from itertools import chain
from typing import Generic, TypeVar

V = TypeVar("V")
_BITS = 8
_SIZE, _REST = 1 << _BITS, (1 << _BITS) - 1


class _Paged(Mapping[str, V]):
    """What a growing mapping and its snapshots have in common. Places and names are shared and only added to."""

    __slots__ = ("_count", "_names", "_pages", "_places")

    _places: dict[str, int]
    _names: list[str]
    _pages: list[list[V]]
    _count: int

    def __getitem__(self, key: str) -> V:
        place = self._places[key]
        if place >= self._count:
            raise KeyError(key)
        return self._pages[place >> _BITS][place & _REST]

    def get(self, key: str, default: V | None = None) -> V | None:  # type: ignore[override]
        """The value, or `default`."""
        place = self._places.get(key, self._count)
        return default if place >= self._count else self._pages[place >> _BITS][place & _REST]

    def __contains__(self, key: object) -> bool:
        return self._places.get(key, self._count) < self._count  # type: ignore[call-overload,no-any-return]

    def __len__(self) -> int:
        return self._count

    def __iter__(self) -> Iterator[str]:
        names = self._names
        return (names[place] for place in range(self._count))

    def values(self) -> ValuesView[V]:
        """The values in order."""
        return _Values(self)

    def items(self) -> ItemsView[str, V]:
        """Keys and values in order."""
        return _Items(self)


class _Values(ValuesView[V]):
    _mapping: _Paged[V]

    def __iter__(self) -> Iterator[V]:
        return chain.from_iterable(self._mapping._pages)


class _Items(ItemsView[str, V]):
    _mapping: _Paged[V]

    def __iter__(self) -> Iterator[tuple[str, V]]:
        return zip(self._mapping, chain.from_iterable(self._mapping._pages), strict=True)


class Snapshot(_Paged[V]):
    """A growing mapping as it was."""

    __slots__ = ()

    def __init__(self, of: "Growing[V]") -> None:
        self._places, self._names, self._count = of._places, of._names, of._count
        self._pages = of._pages.copy()

    def __eq__(self, other: object) -> bool:
        return dict(self) == dict(other) if isinstance(other, Mapping) else NotImplemented

    __hash__ = None  # type: ignore[assignment]

    def __repr__(self) -> str:
        return f"Snapshot({dict(self)!r})"


class Growing(_Paged[V], Generic[V]):
    """The mapping that is written."""

    __slots__ = ("_own",)

    def __init__(self) -> None:
        self._places, self._names, self._pages, self._count = {}, [], [], 0
        self._own: set[int] = set()

    def __setitem__(self, key: str, value: V) -> None:
        place = self._places.get(key)
        if place is None:
            self._add(key, value)
            return
        self._page(place >> _BITS)[place & _REST] = value

    def _add(self, key: str, value: V) -> None:
        page = self._count >> _BITS
        if page == len(self._pages):
            self._pages.append([])
            self._own.add(page)
        self._page(page).append(value)
        self._names.append(key)
        self._places[key] = self._count
        self._count += 1

    def _page(self, page: int) -> list[V]:
        """The page to write on: one that no snapshot shares."""
        if page not in self._own:
            self._pages[page] = self._pages[page].copy()
            self._own.add(page)
        return self._pages[page]

    def snapshot(self) -> Snapshot[V]:
        """The mapping as it is now; its pages are shared until they are written."""
        self._own.clear()
        return Snapshot(self)
