"""The fair's seal key: made at set-up, encrypted at rest under a passphrase, finished when its recovery sheet opened it.

`keys/seal.pem` holds the private key (PKCS #8, encrypted), `keys/seal.json` the public one with its id. The recovery
sheet is the private key itself in words: whoever holds the sheet holds the key, so it goes into a sealed envelope.
"""

import json
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from cryptography.hazmat.primitives.serialization import (
    BestAvailableEncryption,
    Encoding,
    NoEncryption,
    PrivateFormat,
    PublicFormat,
    load_pem_private_key,
)

from planish.errands.refusing import refuse
from planish.ledger.daywords import WORDS
from planish.ledger.sealing.cose import key_id

PRIVATE, PUBLIC = Path("keys") / "seal.pem", Path("keys") / "seal.json"
SHORTEST = 12
"""Fewest characters of a passphrase (house default): it guards a stolen disk, where nothing slows a guesser."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NewKey:
    """A key just made: its id (hex) and the words of its recovery sheet, to be printed once and locked away."""

    id: str
    words: tuple[str, ...]


def make(folder: Path, passphrase: str, *, secret: bytes) -> NewKey:
    """Make the seal key from 32 random bytes. Refuses a short passphrase, and a folder that has a key already."""
    if (folder / PRIVATE).exists():
        raise refuse(
            str(folder / PRIVATE),
            "This fair has a seal key.",
            "Keep it; a lost one is opened with its sheet.",
        )
    if len(passphrase) < SHORTEST:
        raise refuse(
            "the passphrase", f"It is shorter than {SHORTEST} characters.", "Take four or five words."
        )
    key = Ed25519PrivateKey.from_private_bytes(secret)
    _write(folder, key, passphrase, finished=False)
    return NewKey(id=key_id(key.public_key()).hex(), words=_in_words(secret))


def _write(folder: Path, key: Ed25519PrivateKey, passphrase: str, *, finished: bool) -> None:
    (folder / PRIVATE).parent.mkdir(parents=True, exist_ok=True)
    pem = key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, BestAvailableEncryption(passphrase.encode()))
    (folder / PRIVATE).write_bytes(pem)
    (folder / PRIVATE).chmod(0o600)
    public = key.public_key().public_bytes(Encoding.Raw, PublicFormat.Raw)
    said = {"id": key_id(key.public_key()).hex(), "ed25519": public.hex(), "finished": finished}
    (folder / PUBLIC).write_text(json.dumps(said, indent=2) + "\n", encoding="utf-8")


def _in_words(secret: bytes) -> tuple[str, ...]:
    return tuple(WORDS[byte] for byte in secret + sha256(secret).digest()[:2])


def _from_words(words: str) -> bytes:
    spoken = words.lower().split()
    strange = [word for word in spoken if word not in WORDS]
    if strange or len(spoken) != 34:
        what = (
            f"{strange[0]!r} is not one of its words." if strange else f"It has 34 words, not {len(spoken)}."
        )
        raise refuse("the recovery sheet", what, "Read the sheet again, word by word.")
    raw = bytes(WORDS.index(word) for word in spoken)
    secret, check = raw[:32], raw[32:]
    if sha256(secret).digest()[:2] != check:
        raise refuse(
            "the recovery sheet", "The words do not fit together.", "One word is wrong; read the sheet again."
        )
    return secret


def finish(folder: Path, words: str, passphrase: str) -> str:
    """Open the key with its recovery sheet once; until then nothing can be sealed. Returns the key id.

    Also the way back after a lost passphrase: the key is encrypted anew under `passphrase`.
    """
    key = Ed25519PrivateKey.from_private_bytes(_from_words(words))
    known = _public_file(folder)
    if known["id"] != key_id(key.public_key()).hex():
        raise refuse("the recovery sheet", "It belongs to another key.", "Find the sheet of this fair.")
    if len(passphrase) < SHORTEST:
        raise refuse(
            "the passphrase", f"It is shorter than {SHORTEST} characters.", "Take four or five words."
        )
    _write(folder, key, passphrase, finished=True)
    return str(known["id"])


def _public_file(folder: Path) -> dict[str, object]:
    try:
        content: dict[str, object] = json.loads((folder / PUBLIC).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        raise refuse(
            str(folder), "This fair has no seal key.", "Make one: planish key make.", kind="rule"
        ) from None
    return content


def private(folder: Path, passphrase: str) -> Ed25519PrivateKey:
    """The signing key. Refuses a wrong passphrase, and a key whose recovery sheet has never been tried."""
    if not _public_file(folder)["finished"]:
        remedy = "Type its recovery sheet once: planish key finish."
        raise refuse("the seal key", "Its recovery sheet was never tried.", remedy, kind="rule")
    try:
        key = load_pem_private_key((folder / PRIVATE).read_bytes(), passphrase.encode())
    except (ValueError, TypeError):
        remedy = "Try again; a lost passphrase is replaced with planish key finish and the sheet."
        raise refuse("the passphrase", "It does not open the seal key.", remedy) from None
    assert isinstance(key, Ed25519PrivateKey)  # nothing else is ever written there
    return key


def public_keys(*folders: Path) -> tuple[Ed25519PublicKey, ...]:
    """Public seal keys of these fairs."""
    found = []
    for folder in folders:
        raw = bytes.fromhex(str(_public_file(folder)["ed25519"]))
        found.append(Ed25519PublicKey.from_public_bytes(raw))
    return tuple(found)


def raw_private(key: Ed25519PrivateKey) -> bytes:
    """The 32 secret bytes of a key, for the recovery sheet of a key opened here."""
    return key.private_bytes(Encoding.Raw, PrivateFormat.Raw, NoEncryption())
