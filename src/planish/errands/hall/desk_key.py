"""The desk's own key (P-256): tablets remember its public half at pairing and ask for a signature when the line returns.

Another desk under the same name has another key; a tablet then stops and sends nothing.
"""

import base64
import os
from pathlib import Path

from cryptography.hazmat.primitives.asymmetric.ec import (
    ECDSA,
    SECP256R1,
    EllipticCurvePrivateKey,
    generate_private_key,
)
from cryptography.hazmat.primitives.asymmetric.utils import decode_dss_signature
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    PublicFormat,
    load_pem_private_key,
)

PLACE = Path("keys") / "desk.pem"


class DeskKey:
    """The key of the desk in `folder`, made when first needed."""

    def __init__(self, folder: Path) -> None:
        self._key = _load(folder / PLACE)
        spki = self._key.public_key().public_bytes(Encoding.DER, PublicFormat.SubjectPublicKeyInfo)
        self.public = base64.b64encode(spki).decode()

    def hello(self, fair: str, nonce: str) -> str:
        """The signature (base64 of r and s) over a tablet's nonce."""
        r, s = decode_dss_signature(self._key.sign(hello_bytes(fair, nonce), ECDSA(SHA256())))
        return base64.b64encode(r.to_bytes(32, "big") + s.to_bytes(32, "big")).decode()


def hello_bytes(fair: str, nonce: str) -> bytes:
    """What the desk signs to show which desk it is."""
    return f"planish hello\0{fair}\0{nonce}".encode()


def _load(path: Path) -> EllipticCurvePrivateKey:
    if path.is_file():
        key = load_pem_private_key(path.read_bytes(), password=None)
        if isinstance(key, EllipticCurvePrivateKey):
            return key
        raise ValueError(f"{path} holds no P-256 key")
    made = generate_private_key(SECP256R1())
    path.parent.mkdir(exist_ok=True)
    content = made.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "wb") as out:
        out.write(content)
        out.flush()
        os.fsync(out.fileno())
    return made
