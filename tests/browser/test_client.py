"""The typed client of the pages is what the desk's openapi.json gives."""

import shutil
import subprocess
from pathlib import Path

from tests.conftest import missing

FLOOR = Path(__file__).parents[2] / "src" / "planish" / "doors" / "floor"


def test_the_client_of_the_pages_is_current() -> None:
    node = shutil.which("node")
    if node is None:
        missing("node is needed to write the client anew: apt-get install nodejs")
    said = subprocess.run(
        [str(node), "scripts/make-client.mjs", "--check"], cwd=FLOOR, capture_output=True, text=True
    )
    assert said.returncode == 0, said.stderr
