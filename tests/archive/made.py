"""One archive to look at: a settled fair with printed papers, signed with a test key. All invented."""

import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from planish.doors.cli import printing
from planish.errands.opening import wiring
from planish.errands.record.archiving import archive
from tests.keeping.fairs import settled_fair

KEY = Ed25519PrivateKey.from_private_bytes(bytes(range(32)))
STRANGER = Ed25519PrivateKey.from_private_bytes(bytes(range(1, 33)))


def archived(folder: Path) -> Path:
    """The archive of a small fair whose papers were printed."""
    settled_fair(folder / "fair").close()
    printed = CliRunner().invoke(printing.command, ["all", "--fair", str(folder / "fair")])
    assert printed.exit_code == 0, printed.output
    with wiring.open_fair(folder / "fair") as fair:
        archive(fair, folder / "archive", key=KEY)
    return folder / "archive"


@pytest.fixture(scope="package")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One archive for all tests that only read it."""
    return archived(tmp_path_factory.mktemp("kept"))


def checked(folder: Path) -> tuple[int, str]:
    """What the archive's own verifier says, run by a bare Python: no planish, no site packages, no environment."""
    python = getattr(sys, "_base_executable", "") or sys.executable
    run = subprocess.run(
        [python, "-I", "-S", str(folder / "verify.py")],
        capture_output=True,
        encoding="utf-8",
        env={"PYTHONIOENCODING": "utf-8"},
        cwd="/",
    )
    assert run.stderr == "", run.stderr
    return run.returncode, run.stdout
