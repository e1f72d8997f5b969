"""COSE_Sign1 (RFC 9052, section 4.2) with Ed25519 (alg -8, RFC 9053), in the one form that planish writes and reads.

Protected header: {1: -8, 4: key id of 8 bytes}. Unprotected header: empty. Tagged 18. Anything else is refused.
"""

from collections.abc import Iterable

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from cryptography.hazmat.primitives.hashes import SHA256, Hash
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

from planish.ledger.sealing import cbor

ALG, KID, EDDSA = 1, 4, -8
TAG = 18


class NotSigned(ValueError):
    """Not signed by any of the keys given, or not in the one form that is read."""


def key_id(key: Ed25519PublicKey) -> bytes:
    """The first 8 bytes of the SHA-256 of the raw public key. Two keys may share one: all with that id are tried."""
    digest = Hash(SHA256())
    digest.update(key.public_bytes(Encoding.Raw, PublicFormat.Raw))
    return digest.finalize()[:8]


def _to_be_signed(protected: bytes, payload: bytes) -> bytes:
    return cbor.encode(["Signature1", protected, b"", payload])


def sign(payload: bytes, key: Ed25519PrivateKey) -> bytes:
    """Signed bytes of `payload`."""
    protected = cbor.encode({ALG: EDDSA, KID: key_id(key.public_key())})
    signature = key.sign(_to_be_signed(protected, payload))
    return cbor.encode(cbor.Tagged(TAG, [protected, {}, payload, signature]))


def verify(message: bytes, keys: Iterable[Ed25519PublicKey]) -> tuple[bytes, bytes]:
    """(payload, key id) of `message` if one of `keys` with its key id has signed it; NotSigned otherwise."""
    protected, payload, signature = _parts(message)
    kid = _key_id_of(protected)
    signed = _to_be_signed(protected, payload)
    for key in keys:
        if key_id(key) != kid:
            continue
        try:
            key.verify(signature, signed)
        except InvalidSignature:
            continue  # another key may share these 8 bytes
        return payload, kid
    raise NotSigned("not signed by a key that is known here")


def _parts(message: bytes) -> tuple[bytes, bytes, bytes]:
    match cbor.decode(message):
        case cbor.Tagged(
            tag=18, value=[bytes(protected), dict(unprotected), bytes(payload), bytes(signature)]
        ):
            if not unprotected and len(signature) == 64:
                return protected, payload, signature
    raise NotSigned("not in the form of a seal")


def _key_id_of(protected: bytes) -> bytes:
    match cbor.decode(protected):
        case {1: -8, 4: bytes(kid), **rest} if not rest and len(kid) == 8:
            return kid
    raise NotSigned("its header is not that of a seal")
