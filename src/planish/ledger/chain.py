"""The hash chain of the desk's log.

    leaf_n = SHA-256(0x00 ‖ alg ‖ n ‖ recv_ms ‖ dev ‖ seq ‖ status ‖ SHA-256(raw))
    hash_n = SHA-256(0x01 ‖ hash_{n-1} ‖ leaf_n)
    hash_0 = SHA-256(0x03 ‖ fair)

n, recv_ms and seq are 8 bytes, most significant first; dev is its UTF-8 length in 2 bytes, then the bytes; status is
one byte (`STATUS_BYTES`); alg is 1 for SHA-256, so that another hash can follow.
"""

import struct
from collections.abc import Mapping
from hashlib import sha256
from typing import Literal

SHA256 = 1
Status = Literal["ok", "stale", "held", "denied"]
"""How an entry was recorded: ok is applied; stale, held and denied are recorded and not applied."""
_HEAD, _TAIL = struct.Struct(">BBQQH").pack, struct.Struct(">QB").pack
STATUS_BYTES: Mapping[str, int] = {"ok": 1, "stale": 2, "held": 3, "denied": 4}


def digest(data: bytes) -> bytes:
    """SHA-256 (FIPS 180-4), 32 bytes."""
    return sha256(data).digest()


def leaf(*, n: int, recv_ms: int, dev: str, seq: int, status: str, raw: bytes, alg: int = SHA256) -> bytes:
    """The leaf of entry `n`, 32 bytes. Raises ValueError for an algorithm or status that is not known."""
    return leaf_of(n=n, recv_ms=recv_ms, dev=dev, seq=seq, status=status, raw_digest=digest(raw), alg=alg)


def leaf_of(
    *, n: int, recv_ms: int, dev: str, seq: int, status: str, raw_digest: bytes, alg: int = SHA256
) -> bytes:
    """As `leaf`, for whoever has the SHA-256 of `raw` already. Raises ValueError too for a number below 0 or too large."""
    if alg != SHA256 or status not in STATUS_BYTES:
        raise ValueError(f"no hash algorithm {alg} or no status {status!r}")
    name = dev.encode()
    try:
        head, tail = _HEAD(0, alg, n, recv_ms, len(name)), _TAIL(seq, STATUS_BYTES[status])
    except struct.error as error:
        raise ValueError(f"a number that 8 bytes do not hold, or a long device name ({error})") from None
    return sha256(head + name + tail + raw_digest).digest()


def link(before: bytes, leaf_hash: bytes) -> bytes:
    """The chain's hash after `leaf_hash`."""
    return sha256(b"\x01" + before + leaf_hash).digest()


def genesis(fair: str) -> bytes:
    """hash_0: the chain's hash before entry 1."""
    return digest(b"\x03" + fair.encode())
