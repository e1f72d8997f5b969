"""The house keeps its own rules: light to import, no host in a lock file, no path of a machine in a tracked file."""

import json
import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent


def test_reading_a_label_pulls_in_neither_the_ledger_nor_the_web() -> None:
    code = "import sys, planish; planish.read_label('Pewter plate'); print(*sorted(sys.modules))"
    loaded = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    ).stdout.split()
    unwanted = {"planish.ledger", "planish.doors", "planish.errands", "apsw", "fastapi", "typst", "scipy"}
    assert unwanted.intersection(loaded) == set()


def test_no_lock_file_names_a_host() -> None:
    text = (ROOT / "requirements" / "all.txt").read_text(encoding="utf-8")
    assert re.findall(r"://|^--|file:", text, flags=re.MULTILINE) == []


def test_the_lock_of_the_pages_says_what_it_holds_and_from_no_host() -> None:
    text = (ROOT / "src/planish/doors/floor/package-lock.json").read_text(encoding="utf-8")
    packages = json.loads(text)["packages"]
    assert [name for name, entry in packages.items() if "resolved" in entry] == []
    assert [name for name, entry in packages.items() if name and "integrity" not in entry] == []
