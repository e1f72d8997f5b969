"""The fair's keys: made at set-up, encrypted at rest under a passphrase, finished when both sheets were tried once.

`keys/seal.pem` holds the seal key (PKCS #8, encrypted), `keys/seal.json` what may be public: the seal key's public half
with its id, and the two public keys to which backups are encrypted. Two sheets of 34 words go into two envelopes:
sheet 1 is the seal key itself, and opens backups too; sheet 2 only opens backups. Either sheet alone restores a fair.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

from cryptography.exceptions import UnsupportedAlgorithm
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from cryptography.hazmat.primitives.asymmetric.x25519 import X25519PrivateKey, X25519PublicKey
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.kdf.hkdf import HKDF
from cryptography.hazmat.primitives.serialization import (
    BestAvailableEncryption,
    Encoding,
    PrivateFormat,
    PublicFormat,
    load_pem_private_key,
)

from planish.errands.opening.refusing import refuse
from planish.ledger.daywords import WORDS
from planish.ledger.sealing.cose import key_id

PRIVATE, PUBLIC = Path("keys") / "seal.pem", Path("keys") / "seal.json"
SHORTEST = 12
"""Fewest characters of a passphrase (house default): it guards a stolen disk, where nothing slows a guesser."""


ABOUT = (
    "The seal key itself. With it labels can be sealed in this fair's name, and its ballots and backups can be opened.",
    "Opens this fair's backups, and nothing else.",
)
"""What each of the two sheets is for, as printed on it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """The fair's keys as they stand: the seal key's id (hex), and which of the two sheets were tried."""

    id: str
    tried: tuple[bool, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NewKey:
    """Keys just made: the seal key's id (hex), and the words of the two sheets, to be printed once and locked away."""

    id: str
    words: tuple[str, ...]
    second: tuple[str, ...]


def make(folder: Path, passphrase: str, *, secret: bytes, second: bytes) -> NewKey:
    """Make the seal key from 32 random bytes, and a second backup key from 32 others.

    Refuses a short passphrase, and a folder that has a key already.
    """
    if (folder / PRIVATE).exists():
        raise refuse(
            str(folder / PRIVATE),
            "This fair has a seal key.",
            "Keep it; a lost passphrase is replaced with: planish key finish.",
        )
    _long_enough(passphrase)
    key = Ed25519PrivateKey.from_private_bytes(secret)
    _keep(folder, key, passphrase)
    said = {
        "id": key_id(key.public_key()).hex(),
        "ed25519": _raw(key.public_key()).hex(),
        "backup": [_raw(backup_key(each).public_key()).hex() for each in (secret, second)],
        "ballots": _raw(ballot_key(secret).public_key()).hex(),
        "tried": [False, False],
    }
    _say(folder, said)
    return NewKey(id=str(said["id"]), words=in_words(secret), second=in_words(second))


def _long_enough(passphrase: str) -> None:
    if len(passphrase) < SHORTEST:
        raise refuse(
            "the passphrase", f"It is shorter than {SHORTEST} characters.", "Take four or five words."
        )


def _raw(key: Ed25519PublicKey | X25519PublicKey) -> bytes:
    return key.public_bytes(Encoding.Raw, PublicFormat.Raw)


def backup_key(secret: bytes) -> X25519PrivateKey:
    """The key that opens backups, derived from a sheet's 32 bytes (HKDF with SHA-256, RFC 5869)."""
    derived = HKDF(algorithm=SHA256(), length=32, salt=None, info=b"planish backup key 1").derive(secret)
    return X25519PrivateKey.from_private_bytes(derived)


def ballot_key(secret: bytes) -> X25519PrivateKey:
    """The key that uncovers ballots, derived from sheet 1's 32 bytes (HKDF with SHA-256, RFC 5869)."""
    derived = HKDF(algorithm=SHA256(), length=32, salt=None, info=b"planish ballot key 1").derive(secret)
    return X25519PrivateKey.from_private_bytes(derived)


def ballot_public(folder: Path) -> X25519PublicKey | None:
    """The key to which ballots are covered; None before both sheets were tried: nobody is locked out by a hope."""
    if not has_key(folder):
        return None
    said = _public_file(folder)
    if not all(said["tried"]) or not said.get("ballots"):
        return None
    return X25519PublicKey.from_public_bytes(bytes.fromhex(said["ballots"]))


def ballot_private(key: Ed25519PrivateKey) -> X25519PrivateKey:
    """The key that uncovers ballots, from the unlocked seal key: one passphrase opens both."""
    return ballot_key(key.private_bytes_raw())


def _keep(folder: Path, key: Ed25519PrivateKey, passphrase: str) -> None:
    """Write the encrypted key beside its place, readable by its owner only from the first byte, then move it there."""
    place = folder / PRIVATE
    place.parent.mkdir(parents=True, exist_ok=True)
    part = place.with_name(place.name + ".part")
    part.unlink(missing_ok=True)
    part.touch(mode=0o600)
    pem = key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, BestAvailableEncryption(passphrase.encode()))
    part.write_bytes(pem)
    part.replace(place)


def _say(folder: Path, said: Mapping[str, Any]) -> None:
    (folder / PUBLIC).write_text(json.dumps(said, indent=2) + "\n", encoding="utf-8")


def in_words(secret: bytes) -> tuple[str, ...]:
    """32 bytes and a check of 2 bytes as 34 words of the day-sheet list."""
    return tuple(WORDS[byte] for byte in secret + sha256(secret).digest()[:2])


def from_words(words: str) -> bytes:
    """The 32 bytes of a sheet. Refuses a word that is not on the list, a wrong number of words, words that do not fit."""
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


def finish(folder: Path, words: str, passphrase: str = "") -> tuple[int, bool]:
    """Try a sheet: gives which one it is (1 or 2), and whether both have been tried now; nothing can be sealed before.

    Sheet 1 with a passphrase is also the way back after a lost one: the seal key is encrypted anew under it.
    """
    secret = from_words(words)
    said = _public_file(folder)
    sheet = _sheet(said, secret)
    if sheet == 0 and passphrase:
        _long_enough(passphrase)
        _keep(folder, Ed25519PrivateKey.from_private_bytes(secret), passphrase)
    said["tried"][sheet] = True
    if sheet == 0:  # keys made before ballots were covered learn it here
        said["ballots"] = _raw(ballot_key(secret).public_key()).hex()
    _say(folder, said)
    return sheet + 1, all(said["tried"])


def _sheet(said: Mapping[str, Any], secret: bytes) -> int:
    mine = _raw(backup_key(secret).public_key()).hex()
    if mine not in said["backup"]:
        raise refuse("the recovery sheet", "It belongs to another key.", "Find the sheets of this fair.")
    return int(said["backup"].index(mine))


def sheet_of(folder: Path, words: str) -> int:
    """Which of this fair's sheets these words are, 1 or 2; refuses words of no sheet or of another fair's."""
    return _sheet(_public_file(folder), from_words(words)) + 1


def _public_file(folder: Path) -> dict[str, Any]:
    try:
        content: dict[str, Any] = json.loads((folder / PUBLIC).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        raise refuse(
            str(folder), "This fair has no seal key.", "Make one: planish key make.", kind="rule"
        ) from None
    return content


def has_key(folder: Path) -> bool:
    """True when the fair's keys were made."""
    return (folder / PUBLIC).is_file()


def id_of(folder: Path) -> str:
    """The seal key's id (hex): it tells two fairs under one rule book apart. Refuses a fair without keys."""
    return str(_public_file(folder)["id"])


def standing(folder: Path) -> Standing:
    """Which keys there are and which sheets were tried. Refuses a fair without keys."""
    said = _public_file(folder)
    return Standing(id=str(said["id"]), tried=tuple(bool(one) for one in said["tried"]))


def private(folder: Path, passphrase: str) -> Ed25519PrivateKey:
    """The signing key. Refuses a wrong passphrase, and a key whose sheets have not both been tried."""
    if not all(_public_file(folder)["tried"]):
        remedy = "Type both sheets once: planish key finish."
        raise refuse("the seal key", "Its recovery sheets were not both tried.", remedy, kind="rule")
    try:
        key = load_pem_private_key((folder / PRIVATE).read_bytes(), passphrase.encode())
    except (ValueError, TypeError, UnsupportedAlgorithm):
        remedy = "Try again; a lost passphrase is replaced with planish key finish and sheet 1."
        raise refuse("the passphrase", "It does not open the seal key.", remedy) from None
    assert isinstance(key, Ed25519PrivateKey)  # nothing else is ever written there
    return key


def public_keys(*folders: Path) -> tuple[Ed25519PublicKey, ...]:
    """Public seal keys of these fairs."""
    return tuple(
        Ed25519PublicKey.from_public_bytes(bytes.fromhex(_public_file(folder)["ed25519"]))
        for folder in folders
    )


def keys_in(path: Path) -> tuple[Ed25519PublicKey, ...]:
    """Public keys from a file as `planish key show` writes it: {"ed25519": hex}, or a list of such."""
    try:
        content = json.loads(path.read_text(encoding="utf-8"))
        rows = content if isinstance(content, list) else [content]
        return tuple(Ed25519PublicKey.from_public_bytes(bytes.fromhex(row["ed25519"])) for row in rows)
    except (OSError, ValueError, TypeError, KeyError):
        raise refuse(
            str(path), "It holds no public seal keys.", "Take the file from: planish key show."
        ) from None


def recipients(folder: Path) -> tuple[X25519PublicKey, ...]:
    """The two public keys to which backups are encrypted."""
    raw = (bytes.fromhex(each) for each in _public_file(folder)["backup"])
    return tuple(X25519PublicKey.from_public_bytes(each) for each in raw)


def public_form(key: Ed25519PublicKey) -> dict[str, str]:
    """A public key as files hold it: its id and its 32 bytes, both hex."""
    return {"id": key_id(key).hex(), "ed25519": _raw(key).hex()}
