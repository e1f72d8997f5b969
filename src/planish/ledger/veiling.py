"""Ballots as they lie on the disk: covered to a public key, read only while the private half is at hand.

    store.veil = Veil(public, chance=secrets.token_bytes)     from now on openings of ballots are written covered
    store.veil.unlock(private)                                they can be read, and counted
    store.cover_all()                                         covers what was written readable before

A covered opening is a row whose salt is empty and whose value is a box: version, a one-time X25519 key, and AES-256-GCM
over salt and value, filled up to a multiple of 1,024 bytes so that its length tells nothing. The salt is inside: beside
the log's commitment it would let anybody try the few ballots there can be. Entry number and field are bound in, so
that boxes cannot change places. Taking a ballot in needs the public half only.
"""

from collections.abc import Callable
from dataclasses import replace

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.asymmetric.x25519 import X25519PrivateKey, X25519PublicKey
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.kdf.hkdf import HKDF
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

from planish.ledger.commitments import SALT_BYTES, Opening
from planish.ledger.store import Entry, LedgerBrokenError

VERSION, ROUND = b"\x01", 1_024
COVERED = ("ballot.locked", "ballot.appeal", "ballot.recused")
"""Kinds whose openings are covered: what somebody thought, and why somebody stepped back."""


class Veil:
    """How one store covers and uncovers. Without a public key it does neither."""

    def __init__(
        self, public: X25519PublicKey | None = None, *, chance: Callable[[int], bytes] = lambda _: b""
    ) -> None:
        self.public = public
        self._chance = chance
        self._private: X25519PrivateKey | None = None

    @property
    def open(self) -> bool:
        """True while covered openings can be read."""
        return self._private is not None

    @property
    def id(self) -> str:
        """The public key as hex; "" for none."""
        return _raw(self.public).hex() if self.public is not None else ""

    def unlock(self, private: X25519PrivateKey) -> bool:
        """Take the private half; False when it belongs to another key."""
        if self.public is None or _raw(private.public_key()) != _raw(self.public):
            return False
        self._private = private
        return True

    def lock(self) -> None:
        """Forget the private half."""
        self._private = None

    def cover(self, kind: str, n: int, opening: Opening) -> Opening:
        """The opening as it goes to the disk: covered for ballots, as it is for everything else."""
        if self.public is None or kind not in COVERED:
            return opening
        once = X25519PrivateKey.from_private_bytes(self._chance(32))
        inner = opening.salt + len(opening.value).to_bytes(4, "big") + opening.value
        inner += bytes(-len(inner) % ROUND)
        key = _key(once.exchange(self.public), _raw(once.public_key()), _raw(self.public))
        sealed = AESGCM(key).encrypt(bytes(12), inner, _bound(n, opening.path))  # a key is used once
        return Opening(path=opening.path, salt=b"", value=VERSION + _raw(once.public_key()) + sealed)

    def uncover(self, entry: Entry) -> Entry:
        """The entry as it is read: covered openings opened, or left out and named in `covered`."""
        there = [path for path, opening in entry.openings.items() if not opening.salt]
        if not there:
            return entry
        left = {path: opening for path, opening in entry.openings.items() if path not in there}
        if self._private is None:
            return replace(entry, openings=left, covered=frozenset(there))
        opened = {path: self._open(entry.n, entry.openings[path], self._private) for path in there}
        return replace(entry, openings={**left, **opened})

    def _open(self, n: int, box: Opening, private: X25519PrivateKey) -> Opening:
        once, sealed = box.value[1:33], box.value[33:]
        try:
            shared = private.exchange(X25519PublicKey.from_public_bytes(once))
            key = _key(shared, once, _raw(private.public_key()))
            inner = AESGCM(key).decrypt(bytes(12), sealed, _bound(n, box.path))
        except (InvalidTag, ValueError):
            raise LedgerBrokenError(
                f"The covered text of entry {n} is not what was written, or it is covered to another key."
            ) from None
        size = int.from_bytes(inner[SALT_BYTES : SALT_BYTES + 4], "big")
        value = inner[SALT_BYTES + 4 : SALT_BYTES + 4 + size]
        return Opening(path=box.path, salt=inner[:SALT_BYTES], value=value)


def _raw(key: X25519PublicKey) -> bytes:
    return key.public_bytes(Encoding.Raw, PublicFormat.Raw)


def _bound(n: int, path: str) -> bytes:
    return f"{n}\0{path}".encode()


def _key(shared: bytes, once: bytes, public: bytes) -> bytes:
    """HKDF with SHA-256 (RFC 5869) over the shared secret, both public keys bound in."""
    return HKDF(algorithm=SHA256(), length=32, salt=once + public, info=b"planish covered ballot 1").derive(
        shared
    )
