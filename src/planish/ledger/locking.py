"""One writer at a time on a ledger file: a lock file that the system lets go of when the process ends.

The lock file says who holds it. It is never deleted, and the lock is the system's, not the file's being there; so a
crash leaves nothing to clean up. `sqlite` adds a second guard inside the database, should the file be deleted.
"""

import os
import sys
import time
from pathlib import Path
from typing import Any

from planish.ledger.store import LedgerBusyError

if sys.platform == "win32":  # pragma: no cover
    import msvcrt

    def _try_lock(handle: Any) -> bool:
        try:
            handle.seek(1_000)
            msvcrt.locking(handle.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _try_lock(handle: Any) -> bool:
        try:
            fcntl.flock(handle.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
        return True


class WriterLock:
    """Held from construction to `release`. Raises LedgerBusyError, naming the holder, after `wait_s` seconds."""

    def __init__(self, ledger: Path, *, wait_s: float) -> None:
        self.path = ledger.with_name(ledger.name + ".lock")
        self._handle = self.path.open("a+", encoding="utf-8")
        until = time.monotonic() + wait_s
        while not _try_lock(self._handle):
            if time.monotonic() >= until:
                holder = self._holder()
                self._handle.close()
                raise LedgerBusyError(
                    f"{ledger.name} is being written by another planish ({holder}). "
                    "Wait until it has finished, or close it; reading works meanwhile."
                )
            time.sleep(0.02)
        self._handle.truncate(0)
        self._handle.write(f"process {os.getpid()}")
        self._handle.flush()

    def _holder(self) -> str:
        self._handle.seek(0)
        return self._handle.read(200).strip() or "it has not said which"

    def release(self) -> None:
        """Let the next writer in."""
        self._handle.close()
