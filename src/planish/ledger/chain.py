"""The hash chain of the desk's log.

    leaf_n = SHA-256(0x00 ‖ alg ‖ n ‖ recv_ms ‖ dev ‖ seq ‖ status ‖ SHA-256(raw))
    hash_n = SHA-256(0x01 ‖ hash_{n-1} ‖ leaf_n)
    hash_0 = SHA-256(0x03 ‖ fair)

n, recv_ms and seq are 8 bytes, most significant first; dev is its UTF-8 length in 2 bytes, then the bytes; status is
one byte (`STATUS_BYTES`); alg is 1 for SHA-256, so that another hash can follow.
"""

import hashlib
from collections.abc import Mapping
from typing import Literal

SHA256 = 1
Status = Literal["ok", "stale", "held", "denied"]
"""How an entry was recorded: ok is applied; stale, held and denied are recorded and not applied."""
STATUS_BYTES: Mapping[str, int] = {"ok": 1, "stale": 2, "held": 3, "denied": 4}


def digest(data: bytes) -> bytes:
    """SHA-256 (FIPS 180-4), 32 bytes."""
    return hashlib.sha256(data).digest()


def leaf(*, n: int, recv_ms: int, dev: str, seq: int, status: str, raw: bytes, alg: int = SHA256) -> bytes:
    """The leaf of entry `n`, 32 bytes. Raises ValueError for an algorithm or status that is not known."""
    return leaf_of(n=n, recv_ms=recv_ms, dev=dev, seq=seq, status=status, raw_digest=digest(raw), alg=alg)


def leaf_of(
    *, n: int, recv_ms: int, dev: str, seq: int, status: str, raw_digest: bytes, alg: int = SHA256
) -> bytes:
    """As `leaf`, for whoever has the SHA-256 of `raw` already."""
    if alg != SHA256 or status not in STATUS_BYTES:
        raise ValueError(f"no hash algorithm {alg} or no status {status!r}")
    name = dev.encode()
    head = b"\x00" + bytes([alg]) + n.to_bytes(8, "big") + recv_ms.to_bytes(8, "big")
    tail = len(name).to_bytes(2, "big") + name + seq.to_bytes(8, "big") + bytes([STATUS_BYTES[status]])
    return digest(head + tail + raw_digest)


def link(before: bytes, leaf_hash: bytes) -> bytes:
    """The chain's hash after `leaf_hash`."""
    return digest(b"\x01" + before + leaf_hash)


def genesis(fair: str) -> bytes:
    """hash_0: the chain's hash before entry 1."""
    return digest(b"\x03" + fair.encode())
