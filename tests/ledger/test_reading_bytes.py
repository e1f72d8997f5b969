"""Events are read in two ways, a quick one for plainly written bytes and a strict one: they never differ."""

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planish.ledger import events
from planish.ledger.events import Event, MalformedEventError, compose, parse, to_bytes
from tests.ledger.desks import NOW

GOOD = json.loads(
    compose(
        fair="harbour",
        dev="t1",
        seq=1,
        dprev="",
        id="017f22e2-79b0-7cc3-98c4-dc0c0c07398f",
        who="mo",
        kind="observation.made/1",
        sub="o1",
        seen=("e1", 0),
        t=NOW,
        body={"kind": "wear"},
        base="",
        att=("0" * 64,),
    )
)
ODD = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(2**54), 2**54),
    st.floats(allow_nan=False, allow_infinity=False),
    st.text(max_size=5),
    st.sampled_from(["a\n", "", "x" * 201, "0" * 64, "0" * 64 + "\n", "a.b/1", "a.b/0", "\x7f", "é"]),
    st.lists(st.sampled_from(["0" * 64, "G" * 64, ""]), max_size=2),
    st.dictionaries(
        st.sampled_from(["epoch", "n", "more"]), st.one_of(st.integers(-1, 3), st.text(max_size=2))
    ),
)


def strictly(raw: bytes) -> Event | None:
    """What the strict reader says, asked alone."""
    quick = events._plain
    events._plain = lambda _: None
    try:
        return parse(raw)
    except MalformedEventError:
        return None
    finally:
        events._plain = quick


@settings(max_examples=1500, deadline=None)
@given(st.dictionaries(st.sampled_from([*GOOD, "strange"]), ODD, max_size=2), st.booleans(), st.booleans())
def test_what_the_quick_reader_takes_the_strict_one_reads_the_same(
    changed: dict[str, Any], without_base: bool, spaced: bool
) -> None:
    record = {**GOOD, **changed}
    if without_base:
        record.pop("base", None)
    raw = json.dumps(record).encode() if spaced else to_bytes(record)
    plain = events._plain(raw)
    if plain is not None:
        assert strictly(raw) == parse(raw) == events._from_plain(plain, raw)
    elif not spaced and strictly(raw) is not None:
        assert json.loads(raw)  # written in another order or way: read slowly, and read


def test_a_field_that_stands_twice_is_never_taken_by_the_quick_reader() -> None:
    raw = to_bytes(GOOD)
    for double in (
        raw[:-1] + b',"who":"nan"}',
        raw.replace(b'{"kind":"wear"}', b'{"kind":"wear","kind":"mark"}'),
    ):
        assert events._plain(double) is None
        assert strictly(double) is None


def test_every_frozen_sample_and_every_composed_event_takes_the_quick_way() -> None:
    assert events._plain(to_bytes(GOOD)) is not None
    for kept in sorted((Path(__file__).parent / "samples").glob("*.json")):
        raw = json.loads(kept.read_text(encoding="utf-8"))["raw"].encode()
        assert events._plain(raw) is not None, kept.name
        assert strictly(raw) == parse(raw)


@pytest.mark.parametrize("name", ["fair", "dev", "who", "sub", "kind", "id", "dprev", "base", "epoch", "att"])
@pytest.mark.parametrize("bad", ["a\n", "a\x7f", "x" * 201, "0" * 64 + "\n"])
def test_a_word_of_the_wrong_shape_is_refused_by_both_readers(name: str, bad: str) -> None:
    wrong = {"epoch": {"seen": {"epoch": bad, "n": 0}}, "att": {"att": [bad]}}.get(name, {name: bad})
    raw = to_bytes({**GOOD, **wrong})
    assert events._plain(raw) is None
    with pytest.raises(MalformedEventError):
        parse(raw)
