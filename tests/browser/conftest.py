"""A fair served by the command a chair would give, and Debian's Chromium to open it with."""

import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.browser.fairs import FRONT, Fair
from tests.conftest import missing


@pytest.fixture(scope="module")
def fair(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Fair]:
    """An empty folder, served; the code for set-up comes from the terminal."""
    if not (FRONT / "index.html").is_file():
        missing("The pages are not built: make web")
    folder = tmp_path_factory.mktemp("fair") / "a small fair"
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "planish", "serve", "--fair", str(folder), "--port", str(port)]
    environment = {**os.environ, "PYTHONUNBUFFERED": "1", "OMP_NUM_THREADS": "1"}
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment)
    try:
        yield Fair(f"http://127.0.0.1:{port}", folder, code_of(process), port)
    finally:
        process.terminate()
        process.wait(timeout=20)


def code_of(process: "subprocess.Popen[str]") -> str:
    assert process.stdout is not None
    for line in process.stdout:
        if line.startswith("Set-up code: "):
            return line.partition(": ")[2].strip()
    raise AssertionError("no set-up code on the terminal")


def listens(port: int) -> bool:
    for _ in range(200):
        with socket.socket() as trying:
            if trying.connect_ex(("127.0.0.1", port)) == 0:
                return True
        time.sleep(0.05)
    return False


@pytest.fixture(autouse=True)
def _up(request: pytest.FixtureRequest) -> None:
    if "fair" in request.fixturenames:
        assert listens(request.getfixturevalue("fair").port)


@pytest.fixture
def pictures() -> Path:
    """Where screens are kept to be looked at."""
    folder = Path(__file__).parents[2] / "out" / "screens"
    folder.mkdir(parents=True, exist_ok=True)
    return folder
