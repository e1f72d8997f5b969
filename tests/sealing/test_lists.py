"""The signed list of withdrawn seals: one form, one signer, no byte to spare."""

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from planish.ledger.sealing.lists import ListRefused, SealList, read_list, write_list

KEY = Ed25519PrivateKey.from_private_bytes(bytes(range(32)))
OTHER = Ed25519PrivateKey.from_private_bytes(bytes(32))
SEALS = SealList(
    fair="Saltmere 2026",
    day="2026-10-14",
    superseded=frozenset({bytes(range(16)), bytes(16)}),
    revoked=frozenset({b"\xff" * 16}),
)


def test_a_list_reads_back_as_it_was_written() -> None:
    data = write_list(SEALS, KEY)
    assert read_list(data, [KEY.public_key()]) == SEALS
    assert len(data) == 8 + 8 + 10 + 1 + len("Saltmere 2026") + 8 + 3 * 16 + 64


def test_no_flipped_bit_and_no_other_length_is_accepted() -> None:
    data, accepted = write_list(SEALS, KEY), 0
    for bit in range(len(data) * 8):
        bent = bytearray(data)
        bent[bit // 8] ^= 1 << bit % 8
        accepted += readable(bytes(bent))
    accepted += sum(readable(bent) for bent in (data + b"\n", data[:-1], data + data, b"", data[:99]))
    assert accepted == 0


def readable(data: bytes) -> bool:
    try:
        read_list(data, [KEY.public_key()])
    except ListRefused:
        return False
    return True


def test_a_signed_list_out_of_order_is_refused() -> None:
    good = write_list(SEALS, KEY)[:-64]
    at = len(good) - 48
    swapped = good[:at] + good[at + 16 : at + 32] + good[at : at + 16] + good[at + 32 :]
    with pytest.raises(ListRefused, match="out of order"):
        read_list(swapped + KEY.sign(swapped), [KEY.public_key()])


def test_a_list_signed_by_another_key_is_refused() -> None:
    with pytest.raises(ListRefused, match="not signed by a key"):
        read_list(write_list(SEALS, OTHER), [KEY.public_key()])
