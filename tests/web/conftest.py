"""Fixtures for the web door."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.web.fairs import Served, served


@pytest.fixture
def fair(tmp_path: Path) -> Iterator[Served]:
    """A small fair, fresh for each test."""
    with served(tmp_path) as made:
        yield made


@pytest.fixture(scope="module")
def shared_fair(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A small fair for tests that change nothing."""
    with served(tmp_path_factory.mktemp("web")) as made:
        yield made
