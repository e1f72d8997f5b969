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
    node, rolldown = shutil.which("node"), FLOOR / "node_modules" / ".bin" / "rolldown"
    if node is None or not rolldown.exists():
        missing("The tablet's code is not there to be asked: make web")
    out = Path(tempfile.mkdtemp()) / "pieces.mjs"
    entry = Path(__file__).with_name("pieces.ts")
    subprocess.run(
        [rolldown, entry, "--file", out, "--format", "esm", "--platform", "node"],
        cwd=FLOOR,
        check=True,
        capture_output=True,
    )
    return str(node), out


def ask(what: str, **given: Any) -> Any:
    """Ask the tablet's code one thing."""
    node, bundle = _bundled()
    said = subprocess.run(
        [node, bundle], input=json.dumps({"what": what, **given}), capture_output=True, text=True
    )
    assert said.returncode == 0, said.stderr
    return json.loads(said.stdout)
