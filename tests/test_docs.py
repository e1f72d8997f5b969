"""Docs are under test: every command has an example in its help and a line in a guide."""

import re
from importlib import import_module
from pathlib import Path

import click
import pytest

from planish.doors.cli.main import GROUPS

ROOT = Path(__file__).parent.parent
COMMANDS = {name: module for commands in GROUPS.values() for name, (module, _) in commands.items()}
TOLD = "\n".join(
    path.read_text(encoding="utf-8") for path in [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))]
)


def load(name: str) -> click.Command:
    command: click.Command = import_module(f"planish.doors.cli.{COMMANDS[name]}").command
    return command


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_every_command_helps_with_an_example(name: str) -> None:
    command = load(name)
    assert command.help, name
    text = f"{command.epilog or ''} {command.help}"
    if isinstance(command, click.Group):
        text += " ".join((sub.epilog or "") for sub in command.commands.values())
    assert "planish " in text, f"planish {name} --help shows no example"


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_every_command_is_told_of_in_a_guide(name: str) -> None:
    assert f"planish {name}" in TOLD, f"no guide speaks of planish {name}"


@pytest.mark.parametrize(
    "page", ["README.md", "ARCHITECTURE.md", "GLOSSARY.md", "CONTRIBUTING.md", "CHANGELOG.md", "docs/fair.md"]
)
def test_the_pages_are_there(page: str) -> None:
    assert (ROOT / page).stat().st_size > 300


def test_decisions_are_numbered_without_a_gap_and_every_mention_of_one_leads_to_it() -> None:
    pages = sorted((ROOT / "docs" / "decisions").glob("*.md"))
    assert [int(page.name[:3]) for page in pages] == list(range(1, len(pages) + 1))
    named = set(re.findall(r"decisions/(\d{3}[\w-]*\.md)", TOLD))
    assert named <= {page.name for page in pages}
