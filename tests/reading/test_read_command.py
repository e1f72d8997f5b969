"""`planish read`: words, a file or standard input in; a table, JSON Lines or a page out; wrong input ends in words."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from planish.doors.cli import main as entry
from planish.doors.cli.read import command

TWO = "Pewter flagon, c. 1720\n\nBrass bell,\nheight 12 cm\n"


def _texts(*words: str, given: str | bytes | None = None) -> list[str]:
    said = CliRunner().invoke(command, [*words, "--json"], input=given)
    assert said.exit_code == 0, said.output
    return [json.loads(line)["text"] for line in said.stdout.splitlines()]


def test_words_a_file_and_standard_input_give_the_same(tmp_path: Path) -> None:
    listed = tmp_path / "labels.txt"
    listed.write_text(TWO, encoding="utf-8-sig")
    by_line = ["Pewter flagon, c. 1720", "Brass bell,", "height 12 cm"]
    assert _texts("Pewter flagon, c. 1720") == by_line[:1]
    assert _texts("--file", str(listed)) == by_line
    assert _texts(given=TWO) == _texts("-", given=TWO) == _texts("--file", "-", given=TWO) == by_line


def test_blocks_keep_the_lines_of_one_label_together() -> None:
    assert _texts("--blocks", given=TWO) == ["Pewter flagon, c. 1720", "Brass bell,\nheight 12 cm"]


def test_the_view_shows_the_words_and_names_its_letters() -> None:
    said = CliRunner().invoke(command, ["Pewter flagon, c. 1720"])
    assert said.exit_code == 0
    assert "Pewter" in said.stdout
    assert "Letters: " in said.stdout


def test_bytes_that_are_no_text_are_read_as_far_as_they_go() -> None:
    assert len(_texts(given=b"Pewter \xff\xfe plate\n")) == 1


@pytest.mark.parametrize("given", ["", " \n\n"])
def test_nothing_to_read_is_said(given: str) -> None:
    said = CliRunner().invoke(command, [], input=given)
    assert said.exit_code == 2
    assert "No label was given" in said.output


def test_a_file_that_is_not_there_is_named() -> None:
    said = CliRunner().invoke(command, ["--file", "no-such-list.txt"])
    assert said.exit_code == 2
    assert "no-such-list.txt could not be opened" in said.output


def test_a_place_that_cannot_be_written_is_told_in_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    page = tmp_path / "no" / "such" / "page.html"
    monkeypatch.setattr("sys.argv", ["planish", "read", "Pewter plate", "--html", str(page)])
    with pytest.raises(SystemExit) as ended:
        entry.main()
    assert ended.value.code == 2
    said = capsys.readouterr().err
    assert f"{page}: cannot be read or written" in said
    assert "fault of its own" not in said
