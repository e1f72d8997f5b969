"""Records that are quick to make are as frozen, as equal and as strict as any other."""

import copy
import pickle
from collections.abc import Mapping
from dataclasses import FrozenInstanceError, dataclass, field, replace

import pytest

from planish.records.frozen import EMPTY, filler, quick


@dataclass(frozen=True, slots=True, kw_only=True)
class Plain:
    """The record as dataclasses make it."""

    name: str
    years: tuple[int, ...] = ()
    more: Mapping[str, object] = field(default_factory=lambda: EMPTY)


@quick
@dataclass(frozen=True, slots=True, kw_only=True)
class Quick:
    """The same, quick to make."""

    name: str
    years: tuple[int, ...] = ()
    more: Mapping[str, object] = field(default_factory=lambda: EMPTY)


@quick
@dataclass(frozen=True, slots=True)
class Ordered:
    """A record that checks itself."""

    first: int
    last: int = 9

    def __post_init__(self) -> None:
        if self.first > self.last:
            raise ValueError("backwards")


def test_it_says_and_compares_as_before() -> None:
    assert repr(Quick(name="a", years=(1,))) == repr(Plain(name="a", years=(1,))).replace("Plain", "Quick")
    assert Quick(name="a") == Quick(name="a")
    assert Quick(name="a") != Quick(name="b")
    assert type(Quick(name="a")) is Quick
    assert Quick(name="a").more is EMPTY


def test_nothing_can_be_changed_in_it() -> None:
    one = Quick(name="a")
    with pytest.raises(FrozenInstanceError):
        one.name = "b"  # type: ignore[misc]
    with pytest.raises((FrozenInstanceError, AttributeError, TypeError)):
        one.other = "b"  # type: ignore[attr-defined]


def test_it_takes_what_it_took_before() -> None:
    with pytest.raises(TypeError):
        Quick("a")  # type: ignore[misc]
    with pytest.raises(TypeError):
        Quick()  # type: ignore[call-arg]
    with pytest.raises(TypeError):
        Quick(name="a", colour="red")  # type: ignore[call-arg]
    assert Ordered(1) == Ordered(first=1, last=9)


def test_its_own_check_still_runs() -> None:
    with pytest.raises(ValueError, match="backwards"):
        Ordered(5, 2)


def test_it_is_copied_replaced_and_packed_like_any_record() -> None:
    one = Quick(name="a", years=(1, 2))
    assert replace(one, name="b") == Quick(name="b", years=(1, 2))
    assert copy.copy(one) == one
    assert pickle.loads(pickle.dumps(Ordered(1, 2))) == Ordered(1, 2)


def test_filled_in_order_it_is_the_same_record() -> None:
    filled = filler(Plain)
    one = filled("a", (1,), EMPTY)
    assert type(one) is Plain
    assert one == Plain(name="a", years=(1,))
    with pytest.raises(FrozenInstanceError):
        one.name = "b"  # type: ignore[misc]
    with pytest.raises(TypeError):
        filled("a")
