"""Pictures as tablets upload them: piece by piece, resumable, kept under the SHA-256 of their bytes.

What was sent so far lies under the tablet that sends it, so nobody spoils another's upload; whole files lie once, however
many tablets send them. The original is never served; `doors/web/pictures` serves a re-encoded copy.
"""

import contextlib
import errno
import os
import threading
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from planish.errands.opening.refusing import refuse
from planish.ledger.store import LedgerBrokenError, LedgerFullError

FOLDER, PARTS = "blobs", "parts"
MOST_BYTES = 20 * 1_048_576
CHUNK = 524_288
"""Bytes of one piece."""


class WrongOffset(Exception):
    """A piece does not follow what lies here; `have` says where to go on."""

    def __init__(self, have: int) -> None:
        super().__init__(str(have))
        self.have = have


@dataclass(frozen=True, slots=True, kw_only=True)
class Have:
    """How much of a file the desk has."""

    have: int
    whole: bool


class Blobs:
    """The files of one fair."""

    def __init__(self, folder: Path) -> None:
        self._place = folder / FOLDER
        self._lock = threading.Lock()

    def path(self, digest: str) -> Path:
        """Where a whole file lies, or would."""
        return self._place / digest[:2] / digest

    def have(self, digest: str, dev: str) -> Have:
        """How much of a file is here, for the tablet that asks."""
        whole = self.path(digest)
        if whole.is_file():
            return Have(have=whole.stat().st_size, whole=True)
        part = self._part(digest, dev)
        return Have(have=part.stat().st_size if part.is_file() else 0, whole=False)

    def put(self, digest: str, dev: str, *, offset: int, size: int, piece: bytes) -> Have:
        """Add a piece. Raises WrongOffset; refuses a file that is too large or whose bytes are not those of its name."""
        if not 0 < size <= MOST_BYTES or offset + len(piece) > size or not piece:
            raise refuse(
                "picture",
                f"It is larger than {MOST_BYTES} bytes, or the sizes do not fit.",
                "Take it again, smaller.",
                code="blob.size",
            )
        with self._lock:
            known = self.have(digest, dev)
            if known.whole:
                return known
            if offset != known.have:
                raise WrongOffset(known.have)
            try:
                return self._add(digest, dev, size, piece)
            except OSError as error:
                if error.errno in (errno.ENOSPC, errno.EDQUOT):
                    raise LedgerFullError(
                        "The disk of the desk is full. The picture stays on the tablet."
                    ) from error
                raise LedgerBrokenError(f"The disk of the desk reported a fault ({error}).") from error

    def _add(self, digest: str, dev: str, size: int, piece: bytes) -> Have:
        part = self._part(digest, dev)
        part.parent.mkdir(parents=True, exist_ok=True)
        before = part.stat().st_size if part.is_file() else 0
        try:
            with part.open("ab") as out:
                out.write(piece)
                out.flush()
                os.fsync(out.fileno())
        except OSError:
            with contextlib.suppress(OSError):  # half a piece is no piece
                os.truncate(part, before)
            raise
        if before + len(piece) < size:
            return Have(have=before + len(piece), whole=False)
        if sha256(part.read_bytes()).hexdigest() != digest:
            part.unlink()
            raise refuse(
                "picture",
                "Its bytes are not those it was named after.",
                "Send it again from the start.",
                code="blob.digest",
            )
        self._settle(part, self.path(digest))
        return Have(have=size, whole=True)

    def _settle(self, part: Path, target: Path) -> None:
        """Under its name, then both folders onto the disk."""
        target.parent.mkdir(parents=True, exist_ok=True)
        part.replace(target)
        for folder in (target.parent, target.parent.parent):
            with contextlib.suppress(OSError):  # some systems cannot sync a folder
                handle = os.open(folder, os.O_RDONLY)
                try:
                    os.fsync(handle)
                finally:
                    os.close(handle)

    def _part(self, digest: str, dev: str) -> Path:
        return self._place / PARTS / f"{sha256(dev.encode()).hexdigest()[:16]}-{digest}"
