"""What more than one room's tests need: the one browser of a run, and how to say that something is missing."""

import os
import shutil
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import settings

# No test is timed: on a busy machine a clock says nothing about the code. Speed lives in bench/.
settings.register_profile("planish", deadline=None)
settings.load_profile("planish")

CHROMIUM = shutil.which("chromium")
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


def missing(what: str) -> None:
    (pytest.fail if os.environ.get("CI") else pytest.skip)(what)


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    """Debian's Chromium, opened for one module: a second one at the same time is more than its driver takes."""
    if CHROMIUM is None:
        missing("Chromium is needed to open the pages: apt-get install chromium")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield started
        started.close()
