"""The fair's keys in a running desk: unlocked with the passphrase, held in memory only, locked again at will.

While locked nothing is sealed, and ballots that lie covered on the disk are taken in and not read.
"""

import threading
from pathlib import Path

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from planish.errands.opening.refusing import refuse
from planish.errands.seals import keys


class Keyring:
    """What one desk holds of its fair's keys."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._private: Ed25519PrivateKey | None = None
        self._lock = threading.Lock()

    @property
    def unlocked(self) -> bool:
        """True while labels can be sealed."""
        return self._private is not None

    def unlock(self, passphrase: str) -> Ed25519PrivateKey:
        """Take the key out from under its passphrase. Refuses a wrong one, and keys whose sheets were not both tried."""
        found = keys.private(self.folder, passphrase)
        with self._lock:
            self._private = found
        return found

    def lock(self) -> None:
        """Forget the key."""
        with self._lock:
            self._private = None

    def private(self) -> Ed25519PrivateKey:
        """The signing key; refuses while it is locked."""
        found = self._private
        if found is None:
            raise refuse(
                "the fair's keys",
                "They are locked, so nothing can be sealed.",
                "Unlock them with their passphrase under Seals.",
                code="keys.locked",
                kind="rule",
            )
        return found
