"""Browsers with a profile on disk: they can be killed and opened again, and can trust an authority of the tests' own."""

import os
import signal
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import trustme

from tests.conftest import CHROMIUM, FLAGS
from tests.floor.conftest import PHONE

NAME = "hall.test"
"""A name of the tests' own (RFC 6761 keeps `.test` free); the browser is told that it is this computer."""
MAPPED = [*FLAGS, f"--host-resolver-rules=MAP {NAME} 127.0.0.1"]


def open_profile(browser: Any, folder: Path, *, home: Path | None = None) -> Any:
    """Open the browser on a profile; `home` holds the store of authorities it trusts."""
    environment = {**os.environ, **({"HOME": str(home)} if home is not None else {})}
    return browser.browser_type.launch_persistent_context(
        str(folder),
        executable_path=CHROMIUM,
        args=MAPPED,
        viewport=PHONE,
        reduced_motion="reduce",
        has_touch=True,
        env=environment,
    )


def kill_profile(folder: Path) -> int:
    """kill -9 for the processes of this profile, by their ids; says how many there were."""
    killed = 0
    for process in _processes(folder):
        try:
            os.kill(process, signal.SIGKILL)
            killed += 1
        except ProcessLookupError:
            continue
    return killed


def _processes(folder: Path) -> Iterator[int]:
    wanted = f"--user-data-dir={folder}".encode()
    for place in Path("/proc").iterdir():
        if place.name.isdigit():
            try:
                said = (place / "cmdline").read_bytes().split(b"\0")
            except OSError:
                continue
            if wanted in said:
                yield int(place.name)


def authority(folder: Path, certutil: str) -> tuple[Path, Path, Path]:
    """An authority for `NAME` in a throw-away store: (home that trusts it, certificate, key)."""
    made = trustme.CA()
    leaf = made.issue_cert(NAME)
    cert, key, root = folder / "cert.pem", folder / "key.pem", folder / "root.pem"
    cert.write_bytes(b"".join(one.bytes() for one in leaf.cert_chain_pems))
    key.write_bytes(leaf.private_key_pem.bytes())
    made.cert_pem.write_to_path(str(root))
    trust(folder / "home", root, certutil)
    return folder / "home", cert, key


def trust(home: Path, root: Path, certutil: str) -> None:
    """Install an authority in the store that a browser with this home looks into, as a person does in its settings."""
    store = home / ".pki" / "nssdb"
    if not (store / "cert9.db").exists():
        store.mkdir(parents=True, exist_ok=True)
        subprocess.run(
            [certutil, "-d", f"sql:{store}", "-N", "--empty-password"], check=True, capture_output=True
        )
    given = ["-A", "-t", "C,,", "-n", root.name, "-i", str(root)]
    subprocess.run([certutil, "-d", f"sql:{store}", *given], check=True, capture_output=True)
