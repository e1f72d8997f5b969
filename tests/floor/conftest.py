"""A hall for each test that changes something, and tablets to carry through it."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.browser.fairs import FRONT
from tests.conftest import missing
from tests.floor.hall import Hall
from tests.floor.tablet import Tablet

PHONE = {"width": 360, "height": 640}


@pytest.fixture(scope="session")
def small_fair(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a small fair: six stands of six objects, a panel of four. Made once, copied for each hall."""
    if not (FRONT / "floor.html").is_file():
        missing("The pages are not built: make web")
    folder = tmp_path_factory.mktemp("small") / "fair"
    Hall(folder).close()
    return folder


@pytest.fixture(scope="module")
def hall(tmp_path_factory: pytest.TempPathFactory, small_fair: Path) -> Iterator[Hall]:
    """A small fair and a desk that runs, shared by a module: each test goes to a stand of its own."""
    made = Hall(tmp_path_factory.mktemp("hall") / "fair", like=small_fair)
    yield made
    made.close()


@pytest.fixture
def own_hall(tmp_path: Path, small_fair: Path) -> Iterator[Hall]:
    """A desk for one test that breaks it."""
    made = Hall(tmp_path / "fair", like=small_fair)
    yield made
    made.close()


@pytest.fixture
def tablet(chromium: Any, hall: Hall) -> Iterator[Callable[..., Tablet]]:
    """Makes tablets, each with a profile of its own."""
    contexts = []

    def new(at: Hall = hall) -> Tablet:
        context = chromium.new_context(viewport=PHONE, reduced_motion="reduce", has_touch=True)
        contexts.append(context)
        return Tablet(context, at)

    yield new
    for context in contexts:
        context.close()
