"""Fixtures for the floor: the small fair of the web door."""

from tests.web.conftest import fair, shared_fair

__all__ = ["fair", "shared_fair"]
