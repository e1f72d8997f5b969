"""The tablet's TypeScript, bundled once and asked from Python."""

import functools
import json
import shutil
import subprocess
import tempfile
from pathlib import Path
from typing import Any

from tests.conftest import missing

FLOOR = Path(__file__).parents[2] / "src" / "planish" / "doors" / "floor"


@functools.cache
def _bundled() -> tuple[str, Path]:
    return str(shutil.which("node")), _bundle("pieces.ts", "--format", "esm", "--platform", "node")


@functools.cache
def in_page() -> str:
    """The tablet's outbox as a script that a page of the app can be given."""
    return _bundle("in_page.ts", "--format", "iife", "--platform", "browser").read_text(encoding="utf-8")


def _bundle(name: str, *how: str) -> Path:
    rolldown = FLOOR / "node_modules" / ".bin" / "rolldown"
    if shutil.which("node") is None or not rolldown.exists():
        missing("The tablet's code is not there to be asked: make web")
    out = Path(tempfile.mkdtemp()) / name.replace(".ts", ".mjs")
    entry = Path(__file__).with_name(name)
    subprocess.run([rolldown, entry, "--file", out, *how], cwd=FLOOR, check=True, capture_output=True)
    return out


def ask(what: str, **given: Any) -> Any:
    """Ask the tablet's code one thing."""
    node, bundle = _bundled()
    said = subprocess.run(
        [node, bundle], input=json.dumps({"what": what, **given}), capture_output=True, text=True
    )
    assert said.returncode == 0, said.stderr
    return json.loads(said.stdout)
