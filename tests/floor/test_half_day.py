"""A short half day; `python -m tests.floor.half_day` works a longer one."""

from pathlib import Path
from typing import Any

import pytest

from tests.floor.half_day import run

pytestmark = pytest.mark.browser


def test_with_the_line_cut_and_the_desk_killed_at_random_the_log_holds_everything_once(
    chromium: Any, tmp_path: Path
) -> None:
    told = run(chromium, tmp_path / "fair", turns=25, seed=3)
    assert told["made"] == told["in the log"] > 15
    assert told["line turned"] > 0
