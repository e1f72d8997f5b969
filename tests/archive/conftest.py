"""One archive for the whole folder."""

from tests.archive.made import kept

__all__ = ["kept"]
