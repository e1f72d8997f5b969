"""Taking in a list says when the list itself names another stand."""

from pathlib import Path

from click.testing import CliRunner

from planish.doors.cli.take import command
from planish.errands.opening import wiring
from planish.errands.people import gathering


def test_a_sheet_that_names_another_stand_is_taken_and_the_difference_is_told(tmp_path: Path) -> None:
    fair = wiring.begin(tmp_path / "fair", "saltmere")
    gathering.gather(fair, {"stand": [{"id": "8", "exhibitor": "Sprat & Whiting"}]})
    fair.close()
    listed = tmp_path / "stand-8.csv"
    listed.write_text(
        "Stand;No;Description\n18;1;Brass tray, English, c.1890. Width 40 cm.\n", encoding="utf-8"
    )
    done = CliRunner().invoke(command, [str(listed), "--stand", "8", "--fair", str(tmp_path / "fair")])
    assert done.exit_code == 0, done.output
    assert "1 new" in done.output
    assert "18" in done.output.partition("cells to look at")[2]
