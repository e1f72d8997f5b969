"""One bad file for each mistake; each is named with its place and a way out. The packs on file have none."""

import shutil
from pathlib import Path

import pytest

from planish.facts.checking import check_book, check_everything
from planish.facts.loading import read_packs
from planish.records import Problem

BAD = Path(__file__).parent / "bad"


def problems_of(path: Path, folder: Path) -> list[Problem]:
    """What loading and checking say of one pack file in a folder of its own."""
    shutil.copy(path, folder / path.name)
    book, problems = read_packs([folder])
    return [*problems, *check_book(book)]


@pytest.mark.parametrize("path", sorted(BAD.glob("*.*.toml")), ids=lambda path: path.stem)
def test_each_mistake_is_named_after_its_file(path: Path, tmp_path: Path) -> None:
    problems = problems_of(path, tmp_path)
    assert [p.code for p in problems] == [path.stem]
    assert all(p.where and p.what and p.remedy for p in problems)


def test_the_sound_file_beside_them_has_nothing_to_mend(tmp_path: Path) -> None:
    assert problems_of(BAD / "sound.toml", tmp_path) == []


def test_the_packs_on_file_have_nothing_to_mend() -> None:
    assert [str(p) for p in check_everything()] == []
