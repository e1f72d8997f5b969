"""A throw-away PostgreSQL for the tests marked `database`, brought by apt when it is not there and we may."""

import os
import pwd
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))  # so that the tests share `desks`

HOW = "apt-get install postgresql brings PostgreSQL; its server must not run as root, so it runs as postgres or nobody"


def _binaries() -> Path | None:
    homes = sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=lambda path: int(path.parent.name))
    if homes:
        return homes[-1]
    found = shutil.which("initdb")
    return Path(found).resolve().parent if found else None


def _bring() -> Path | None:
    if _binaries() is None and os.geteuid() == 0 and shutil.which("apt-get"):
        quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
        for command in (["update"], ["install", "-y", "--no-install-recommends", "postgresql"]):
            subprocess.run(
                ["apt-get", "-qq", "-o", "DPkg::Lock::Timeout=300", *command],
                env=quiet,
                check=False,
                capture_output=True,
            )
    return _binaries()


def _no_database(why: str) -> None:
    if os.environ.get("CI"):
        pytest.fail(f"{why}. {HOW}")
    pytest.skip(f"{why}. {HOW}")


@pytest.fixture(scope="session")
def conninfo() -> Iterator[str]:
    """How to reach a PostgreSQL that lives in a temporary folder, reachable by its socket only."""
    tools = _bring()
    if tools is None:
        _no_database("PostgreSQL is not installed")
        return
    home = Path(tempfile.mkdtemp(prefix="pg-"))
    user = _unprivileged()
    become = ["setpriv", f"--reuid={user}", "--regid=nogroup", "--clear-groups"] if user else []
    if user:
        shutil.chown(home, user)
    data = home / "data"
    settings = f"-k {home} -c listen_addresses='' -c shared_buffers=16MB"
    quiet = {"check": True, "capture_output": True, "cwd": home}
    try:
        subprocess.run([*become, tools / "initdb", "-D", data, "-U", "planish", "-A", "trust"], **quiet)
        subprocess.run(
            [*become, tools / "pg_ctl", "-D", data, "-o", settings, "-w", "-l", home / "log", "start"],
            **quiet,
        )
    except (OSError, subprocess.CalledProcessError) as error:
        shutil.rmtree(home, ignore_errors=True)
        _no_database(f"PostgreSQL would not start: {getattr(error, 'stderr', error)!r}")
        return
    yield f"host={home} user=planish dbname=postgres"
    subprocess.run(
        [*become, tools / "pg_ctl", "-D", data, "-m", "immediate", "stop"], **{**quiet, "check": False}
    )
    shutil.rmtree(home, ignore_errors=True)


def _unprivileged() -> str:
    if os.geteuid() != 0:
        return ""
    names = {entry.pw_name for entry in pwd.getpwall()}
    return "postgres" if "postgres" in names else "nobody"
