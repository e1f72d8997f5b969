"""Small databases that lie beside the log and never in it: accounts and tablets. Readable by their owner alone."""

from pathlib import Path

import apsw

_SETTINGS = ("journal_mode=WAL", "synchronous=FULL", "secure_delete=ON", "trusted_schema=OFF")
_PATIENCE_MS = 5_000
"""How long a statement waits for another process (house default)."""


def open_beside(path: Path, layout: str) -> apsw.Connection:
    """Open the database at `path`, made with `layout` where it is new. Raises `apsw.Error` when it cannot be used."""
    database = apsw.Connection(str(path))
    path.chmod(0o600)
    database.set_busy_timeout(_PATIENCE_MS)
    for setting in _SETTINGS:
        database.execute(f"PRAGMA {setting}").fetchall()
    database.execute(layout).fetchall()
    return database
