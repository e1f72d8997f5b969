"""Who may be added to a fair."""

from pathlib import Path

import pytest

from planish.errands.opening import wiring
from planish.errands.opening.refusing import Refused
from planish.errands.people import gathering


def test_nobody_can_be_called_office(tmp_path: Path) -> None:
    fair = wiring.begin(tmp_path / "fair", "saltmere")
    with pytest.raises(Refused, match="taken by the office"):
        gathering.gather(fair, {"person": [{"id": "office", "name": "Somebody"}]})
    assert "office" not in fair.state.people
