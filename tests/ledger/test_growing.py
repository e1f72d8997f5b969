"""A mapping that grows against a plain dict: every snapshot stays as it was, whatever is written later."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planish.ledger.growing import Growing

WRITES = st.lists(st.tuples(st.integers(0, 900), st.integers()), max_size=60)


@given(rounds=st.lists(WRITES, max_size=8), filled=st.integers(0, 700))
def test_each_snapshot_is_the_dict_it_was_taken_of(rounds: list[list[tuple[int, int]]], filled: int) -> None:
    growing: Growing[int] = Growing()
    plain: dict[str, int] = {}
    for n in range(filled):
        growing[str(n)] = plain[str(n)] = -n
    taken = [(growing.snapshot(), dict(plain))]
    for writes in rounds:
        for key, value in writes:
            growing[str(key)] = plain[str(key)] = value
        taken.append((growing.snapshot(), dict(plain)))
    for snapshot, then in taken:
        assert snapshot == then
        assert [*snapshot.items()] == [*then.items()]
        assert [*snapshot.values()] == [*then.values()]
        assert [*snapshot] == [*then]
        assert len(snapshot) == len(then)
        for key in map(str, range(905)):
            assert (key in snapshot, snapshot.get(key, 7)) == (key in then, then.get(key, 7))


def test_what_came_after_a_snapshot_is_not_in_it() -> None:
    growing: Growing[str] = Growing()
    growing["a"] = "one"
    then: Any = growing.snapshot()
    growing["b"] = "two"
    with pytest.raises(KeyError):
        _ = then["b"]
    assert "b" not in then
    assert then.get("b") is None
    assert growing["b"] == "two"
    with pytest.raises(TypeError):
        then["a"] = "other"
