"""The signed list of seals that no longer stand, 16 bytes each, small enough for every phone to carry.

    "PLSEALS1"  8 bytes          key id      8 bytes
    day        10 bytes, ASCII   fair        1 byte of length, then UTF-8
    superseded  4 bytes, count   revoked     4 bytes, count
    then the superseded seals, then the revoked ones: the first 16 bytes of each seal's SHA-256, ascending
    then the Ed25519 signature over everything before it, 64 bytes

Numbers have the most significant byte first. One list has exactly one form: anything else is refused.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from hashlib import sha256
from itertools import pairwise

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey

from planish.ledger.sealing.cose import key_id

MAGIC = b"PLSEALS1"
SHORT = 16
LIMIT = 4_000_000
"""Bytes; a quarter of a million seals."""
_DAY = re.compile(rb"[0-9]{4}-[0-9]{2}-[0-9]{2}")


class ListRefused(ValueError):
    """Not a list of seals, or not signed by a key that is known here."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SealList:
    """Which seals of a fair no longer stood on `day` (ISO 8601)."""

    fair: str
    day: str
    superseded: frozenset[bytes] = frozenset()
    revoked: frozenset[bytes] = frozenset()

    def state(self, sealed: bytes) -> str:
        """ "superseded" or "revoked" when the list names this seal, "" when it does not."""
        short = sha256(sealed).digest()[:SHORT]
        if short in self.revoked:
            return "revoked"
        return "superseded" if short in self.superseded else ""


def write_list(seals: SealList, key: Ed25519PrivateKey) -> bytes:
    """The signed bytes of a list."""
    name = seals.fair.encode("utf-8")
    head = MAGIC + key_id(key.public_key()) + seals.day.encode("ascii") + bytes([len(name)]) + name
    counts = len(seals.superseded).to_bytes(4, "big") + len(seals.revoked).to_bytes(4, "big")
    said = head + counts + b"".join(sorted(seals.superseded)) + b"".join(sorted(seals.revoked))
    return said + key.sign(said)


def read_list(data: bytes, keys: Iterable[Ed25519PublicKey]) -> SealList:
    """The list, if one of `keys` signed exactly these bytes. Raises ListRefused otherwise."""
    if not 99 <= len(data) <= LIMIT or data[:8] != MAGIC or not _DAY.fullmatch(data[16:26]):
        raise ListRefused("This is not a list of seals.")
    said, signature = data[:-64], data[-64:]
    if not any(key_id(key) == data[8:16] and _signed(key, signature, said) for key in keys):
        raise ListRefused("The list is not signed by a key that is known here.")
    at = 27 + data[26]
    superseded, revoked = (
        int.from_bytes(said[at : at + 4], "big"),
        int.from_bytes(said[at + 4 : at + 8], "big"),
    )
    rest = said[at + 8 :]
    if len(rest) != SHORT * (superseded + revoked):
        raise ListRefused("The list is cut short or too long.")
    rows = [rest[start : start + SHORT] for start in range(0, len(rest), SHORT)]
    try:
        fair = said[27:at].decode("utf-8")
    except UnicodeDecodeError:
        raise ListRefused("The fair's name cannot be read.") from None
    return SealList(
        fair=fair,
        day=data[16:26].decode("ascii"),
        superseded=_rising(rows[:superseded]),
        revoked=_rising(rows[superseded:]),
    )


def _signed(key: Ed25519PublicKey, signature: bytes, said: bytes) -> bool:
    try:
        key.verify(signature, said)
    except InvalidSignature:
        return False
    return True


def _rising(rows: list[bytes]) -> frozenset[bytes]:
    if any(before >= after for before, after in pairwise(rows)):
        raise ListRefused("The list is out of order.")
    return frozenset(rows)
