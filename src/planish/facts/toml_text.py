"""TOML to plain tables: by tomli where it is installed (the standard library's own parser, compiled: a quarter of the time)."""

from collections.abc import Callable
from importlib import import_module
from importlib.util import find_spec
from typing import Any

parse: Callable[[str], dict[str, Any]] = import_module("tomli" if find_spec("tomli") else "tomllib").loads
"""The table that a text holds. Raises ValueError, naming line and column, when it is no TOML."""
