"""Signatures of tablets: ECDSA on P-256 with SHA-256 (FIPS 186-5), as r and s of 32 bytes each, over an event's bytes.

The form is that of WebCrypto (W3C Web Cryptography API, section 23: r and s one after the other, IEEE P1363). A key
travels as SubjectPublicKeyInfo in base64.
"""

import base64
import binascii
from functools import lru_cache

from cryptography.exceptions import InvalidSignature, UnsupportedAlgorithm
from cryptography.hazmat.primitives.asymmetric.ec import ECDSA, SECP256R1, EllipticCurvePublicKey
from cryptography.hazmat.primitives.asymmetric.utils import encode_dss_signature
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import load_der_public_key

SIGNATURE_BYTES = 64
KEY_LIMIT = 400
"""Most characters of a key in base64; a P-256 key has 124."""


@lru_cache(maxsize=1_000)
def public_key(spki: str) -> EllipticCurvePublicKey | None:
    """The key of a text in base64; None when it is no P-256 key."""
    if len(spki) > KEY_LIMIT:
        return None
    try:
        key = load_der_public_key(base64.b64decode(spki, validate=True))
    except (ValueError, binascii.Error, UnsupportedAlgorithm):
        return None
    return key if isinstance(key, EllipticCurvePublicKey) and isinstance(key.curve, SECP256R1) else None


def signed(spki: str, data: bytes, signature: bytes) -> bool:
    """True when `signature` (64 bytes) is that key's over `data`."""
    key = public_key(spki)
    if key is None or len(signature) != SIGNATURE_BYTES:
        return False
    r, s = int.from_bytes(signature[:32], "big"), int.from_bytes(signature[32:], "big")
    try:
        key.verify(encode_dss_signature(r, s), data, ECDSA(SHA256()))
    except InvalidSignature:
        return False
    return True
