"""The trade vocabulary as data: every TOML table of `packs/words/<language>`, read once and frozen.

Another language is another folder. The reading room compiles what it needs from these tables and knows no file.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from planish.facts.toml_text import parse
from planish.records import freeze


@dataclass(frozen=True, slots=True, eq=False)
class WordBook:
    """All tables of one language: `tables["dates"]` is the content of `dates.toml`. Compared by identity."""

    language: str
    tables: Mapping[str, Mapping[str, Any]]


@cache
def words(language: str) -> WordBook:
    """Read the word pack of `language` ("en"). Raises LookupError naming the languages on file when there is none."""
    root = files("planish") / "packs" / "words"
    folder = root / language
    if not folder.is_dir():
        on_file = ", ".join(sorted(entry.name for entry in root.iterdir() if entry.is_dir()))
        raise LookupError(f"no word pack {language!r}; on file: {on_file}")
    tables = {
        entry.name.removesuffix(".toml"): freeze(parse(entry.read_text(encoding="utf-8")))
        for entry in sorted(folder.iterdir(), key=lambda entry: entry.name)
        if entry.name.endswith(".toml")
    }
    return WordBook(language, freeze(tables))


def english() -> WordBook:
    """The English word pack."""
    return words("en")
