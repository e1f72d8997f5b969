"""Envelopes for backups: files in the open format age v1 (age-encryption.org/v1), for two recipients.

Either recovery sheet opens one. A sheet's 32 bytes give an X25519 key (`keys.backup_key`); age writes keys in Bech32
(BIP 173), so `identity` prints the very line that any age tool takes: a fair can be opened without planish.
"""

import os
from collections.abc import Iterable, Sequence
from hashlib import sha256
from pathlib import Path

import pyrage
from cryptography.hazmat.primitives.asymmetric.x25519 import X25519PublicKey
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat, PublicFormat

from planish.errands.opening.refusing import refuse
from planish.errands.seals.keys import backup_key

_LETTERS = "qpzry9x8gf2tvdw0s3jn54khce6mua7l"
_STEPS = (0x3B6A57B2, 0x26508E6D, 0x1EA119FA, 0x3D4233DD, 0x2A1462B3)
PIECE = 1 << 20


def recipient(key: X25519PublicKey) -> str:
    """A public key as age writes it: age1…"""
    return _bech32("age", key.public_bytes(Encoding.Raw, PublicFormat.Raw))


def identity(secret: bytes) -> str:
    """The key that a sheet's 32 bytes give, as age writes it: AGE-SECRET-KEY-1… Whoever has it opens the backups."""
    raw = backup_key(secret).private_bytes(Encoding.Raw, PrivateFormat.Raw, NoEncryption())
    return _bech32("age-secret-key-", raw).upper()


def close_up(source: Path, target: Path, recipients: Sequence[str]) -> tuple[str, int]:
    """Encrypt a file into a new one, onto the disk, read back and compared; gives SHA-256 (hex) and bytes written.

    The name appears only when all of it is there. Raises OSError when the medium fails or gives back other bytes.
    """
    part = target.with_name(target.name + ".part")
    with source.open("rb") as reading, part.open("wb") as file:
        writing = _Hashing(file)
        pyrage.encrypt_io(reading, writing, [pyrage.x25519.Recipient.from_str(one) for one in recipients])
        file.flush()
        os.fsync(file.fileno())
    if _read_back(part) != writing.digest.hexdigest():
        part.unlink()
        raise OSError(f"{target.parent} gave back other bytes than were written to it")
    part.replace(target)
    return writing.digest.hexdigest(), writing.bytes


def open_up(source: Path, target: Path, secret: bytes) -> None:
    """Decrypt a file with a sheet's 32 bytes. Refuses another fair's sheet, and a file that was changed or cut short."""
    try:
        with source.open("rb") as reading, target.open("wb") as writing:
            pyrage.decrypt_io(reading, writing, [pyrage.x25519.Identity.from_str(identity(secret))])
    except (pyrage.DecryptError, OSError) as error:
        target.unlink(missing_ok=True)
        raise refuse(
            str(source),
            f"This sheet does not open it, or it is not whole ({error}).",
            "Take the other sheet, or an earlier backup.",
            code="backup.unreadable",
        ) from error


class _Hashing:
    """A file that counts and hashes what passes."""

    def __init__(self, file: object) -> None:
        self._file = file
        self.digest, self.bytes = sha256(), 0

    def write(self, data: bytes) -> int:
        """Write and hash."""
        self.digest.update(data)
        self.bytes += len(data)
        return int(self._file.write(data))  # type: ignore[attr-defined]

    def flush(self) -> None:
        """Pass on."""
        self._file.flush()  # type: ignore[attr-defined]


def _read_back(path: Path) -> str:
    """Hash what the medium holds, not what memory remembers of it, where the system lets us say so."""
    digest = sha256()
    with path.open("rb") as file:
        if hasattr(os, "posix_fadvise"):
            os.posix_fadvise(file.fileno(), 0, 0, os.POSIX_FADV_DONTNEED)
        while piece := file.read(PIECE):
            digest.update(piece)
    return digest.hexdigest()


def _bech32(start: str, data: bytes) -> str:
    """BIP 173, without its limit on length, as age uses it."""
    values = _in_fives(data)
    check = _polymod([*_spread(start), *values, 0, 0, 0, 0, 0, 0]) ^ 1
    values += [check >> 5 * (5 - at) & 31 for at in range(6)]
    return start + "1" + "".join(_LETTERS[value] for value in values)


def _in_fives(data: bytes) -> list[int]:
    number, bits = int.from_bytes(data, "big"), len(data) * 8
    padding = -bits % 5
    number, bits = number << padding, bits + padding
    return [number >> at & 31 for at in range(bits - 5, -1, -5)]


def _spread(start: str) -> list[int]:
    return [ord(sign) >> 5 for sign in start] + [0] + [ord(sign) & 31 for sign in start]


def _polymod(values: Iterable[int]) -> int:
    check = 1
    for value in values:
        top = check >> 25
        check = (check & 0x1FFFFFF) << 5 ^ value
        for at, step in enumerate(_STEPS):
            check ^= step if top >> at & 1 else 0
    return check
