"""The command: text, file or standard input; JSON Lines; a page that loads nothing and escapes everything."""

import json
from pathlib import Path

from click.testing import CliRunner

from planish.doors.cli.read import command


def test_lines_of_standard_input_become_json_lines() -> None:
    result = CliRunner().invoke(command, ["--json"], input="Pewter flagon, 24 cm high\n\nBrass tap\n")
    first, second = (json.loads(line) for line in result.output.splitlines())
    assert first["materials"] == ["pewter"]
    assert first["measures"][0]["height_mm"] == 240
    assert second["object_types"][0] == "tap"


def test_blocks_keep_the_lines_of_a_label_together(tmp_path: Path) -> None:
    file = tmp_path / "labels.txt"
    file.write_text("Pewter flagon\nLondon\n\nBrass tap\n", encoding="utf-8")
    result = CliRunner().invoke(command, ["--json", "--blocks", "--file", str(file)])
    assert [json.loads(line)["text"] for line in result.output.splitlines()] == [
        "Pewter flagon\nLondon",
        "Brass tap",
    ]


def test_the_page_escapes_words_and_loads_nothing(tmp_path: Path) -> None:
    page = tmp_path / "labels.html"
    CliRunner().invoke(command, ["--html", str(page), '<script>alert(1)</script> pewter "plate" & co'])
    text = page.read_text(encoding="utf-8")
    assert "<script" not in text
    assert "http" not in text
    assert '<mark class="material"' in text
    assert "<sup>m</sup>" in text


def test_a_missing_file_is_told_in_words() -> None:
    result = CliRunner().invoke(command, ["--file", "nowhere.txt"])
    assert result.exit_code == 1
    assert "could not be opened" in result.output


def test_the_readable_view_says_what_every_letter_means() -> None:
    result = CliRunner().invoke(command, ["Pewter flagon, zorgled"])
    assert "flagon[o]" in result.output
    assert "Letters: o object, m material, ? unread" in result.output
