"""Bytes made to kill a reader: refused after few steps and in little memory, whatever they promise to hold."""

import sys
import tracemalloc
from collections.abc import Callable

import pytest

from planish.ledger.sealing import SealRefused, cbor, open_code, open_seal
from planish.ledger.sealing.codes import NotACode
from tests.sealing.test_seals import PUBLIC

MEMORY, CALLS = 20_000_000, 5_000
"""Bytes beyond what was given, and Python calls: far below 20 MB and 50 ms on any machine, and no clock is asked."""
HOSTILE = {
    "four thousand million items in five bytes": bytes.fromhex("9affffffff"),
    "a map of four thousand million": bytes.fromhex("baffffffff"),
    "a string of 2^62 bytes": bytes.fromhex("5b4000000000000000"),
    "a text of 2^62 bytes": bytes.fromhex("7b4000000000000000"),
    "200,000 levels of lists": b"\x81" * 200_000,
    "200,000 levels of maps": b"\xa1\x01" * 200_000,
    "200,000 tags on tags": b"\xc6" * 200_000,
    "a list that holds itself": bytes.fromhex("d81c81d81d00"),
    "a regular expression": bytes.fromhex("d8237828") + b"(a+)+$" * 6 + b"aaaa",
    "a whole number of a megabyte": bytes.fromhex("c25a00100000") + b"\xff" * 1_048_576,
    "a string without an end": b"\x5f" + b"\x41a" * 100_000,
}


def cost(work: Callable[[], object]) -> tuple[int, int]:
    """Most bytes in use beyond the start, and how many Python functions were called."""
    calls = 0

    def count(_frame: object, event: str, _arg: object) -> None:
        nonlocal calls
        calls += event == "call"

    tracemalloc.start()
    sys.setprofile(count)
    try:
        work()
    finally:
        sys.setprofile(None)
        peak = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
    return peak, calls


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_bytes_are_refused_after_few_steps_and_in_little_memory(name: str) -> None:
    hostile = HOSTILE[name]

    def decoded() -> None:
        with pytest.raises(cbor.NotCanonical):
            cbor.decode(hostile)

    def opened() -> None:
        with pytest.raises(SealRefused):
            open_seal(hostile, [PUBLIC])

    for work in (decoded, opened):
        peak, calls = cost(work)
        assert peak < MEMORY
        assert calls < CALLS


@pytest.mark.parametrize(
    "text", ["PLANISH:1:" + "0" * 3_000_000, "https://x/#" + "A" * 3_000_000, "9" * 3_000_000]
)
def test_a_code_of_millions_of_signs_is_refused_without_being_read(text: str) -> None:
    def opened() -> None:
        with pytest.raises((NotACode, SealRefused)):
            open_code(text)

    peak, calls = cost(opened)
    assert peak < MEMORY
    assert calls < CALLS


def test_the_meter_sees_what_it_is_for() -> None:
    def deep(levels: int) -> None:
        if levels:
            deep(levels - 1)

    peak, calls = cost(lambda: [deep(500) for _ in range(20)])
    assert calls > CALLS
    assert cost(lambda: bytes(30_000_000))[0] > MEMORY
    assert peak < MEMORY
