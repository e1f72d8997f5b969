"""The page of hazards names tests that there are."""

import re
from pathlib import Path

TESTS = Path(__file__).parents[1]
PAGE = TESTS.parent / "docs" / "hazards.md"
_ROW = re.compile(r"^\|.*\| (?P<file>\S+\.py): (?P<words>\S+) \|$", re.MULTILINE)


def test_every_hazard_names_one_test() -> None:
    text = PAGE.read_text(encoding="utf-8")
    rows = [(row["file"], row["words"]) for row in _ROW.finditer(text)]
    lines = [line for line in text.splitlines() if line.startswith("|") and "---" not in line]
    assert len(rows) == len(lines) - text.count("| tried in |")
    for file, words in rows:
        named = re.findall(r"^ *def (test_\w+)", (TESTS / file).read_text(encoding="utf-8"), re.MULTILINE)
        assert sum(words in one for one in named) == 1, (file, words)
