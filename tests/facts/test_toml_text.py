"""The quick TOML parser gives what the standard library's gives, pack by pack, and its errors are understood."""

import tomllib
from importlib.resources import files
from pathlib import Path

import pytest

from planish.facts.toml_text import parse

PACKS = sorted(Path(str(files("planish") / "packs")).rglob("*.toml"))


@pytest.mark.parametrize("path", PACKS, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_a_pack_reads_as_with_the_standard_library(path: Path) -> None:
    text = path.read_text("utf-8")
    assert parse(text) == tomllib.loads(text)


def test_what_is_no_toml_is_refused_with_its_line() -> None:
    with pytest.raises(ValueError, match="line 2"):
        parse('sound = 1\nnot sound = "')
