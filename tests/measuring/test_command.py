"""`planish measure`: every example of the help runs, says its sources, and wrong input ends with 2 and words."""

import json
import shlex

import click
import pytest
from click.testing import CliRunner, Result

from planish.doors.cli.measure import command


def _run(*words: str) -> Result:
    return CliRunner().invoke(command, list(words))


def test_every_instrument_has_an_example_and_the_example_runs() -> None:
    assert set(command.commands) == {
        "composition", "parts", "density", "capacity", "thread", "diamond", "registered", "patent", "mark", "members", "engraved",
        "condition",
    }  # fmt: skip
    for name, one in command.commands.items():
        assert isinstance(one, click.Command)
        assert one.epilog is not None
        assert one.epilog.startswith("Example: planish measure ")
        words = shlex.split(one.epilog.removeprefix("Example: planish measure "))
        assert words[0] == name
        result = _run(*words)
        assert result.exit_code == 0, (name, result.output)
        assert len(result.output) > 80


@pytest.mark.parametrize("name", sorted(command.commands))
def test_every_instrument_prints_json(name: str) -> None:
    words = shlex.split((command.commands[name].epilog or "").removeprefix("Example: planish measure "))
    answer = json.loads(_run(*words, "--json").stdout)
    assert set(answer) == {"items", "sentences", "problems", "cautions", "details"}
    assert answer["sentences"]


def test_sources_and_how_they_are_known_are_printed() -> None:
    out = _run("thread", "--tpi", "20", "--diameter", "6.35").output
    assert "[thread.BSW] Bolt Science" in out
    assert "(read)" in out
    assert "House settings used:" in out
    assert "partly" in out
    assert "from memory" in out


def test_cautions_are_printed() -> None:
    assert "Caution. X-ray analyser" in _run("composition", "Zn=34.1±0.5", "Cu=65").output


@pytest.mark.parametrize(
    "words",
    [
        "composition Zn=70 Cu=60",
        "composition Xx=3",
        "composition Zn",
        "composition Zn=nan",
        "composition Zn=3 Zn=4",
        "composition Zn=30±-2 Cu=65",
        "density --air 700 --water 812",
        "capacity 1 --unit pints",
        "capacity nan",
        "thread --tpi 0 --diameter 4",
        "diamond --top 5 --right B --bottom C --left 1",
        "registered minus",
        "patent gb 12345",
        "members weight 5",
        "engraved 22-25 --weight 700",
        "condition shiny",
        "mark Nobody",
    ],
)
def test_wrong_input_ends_with_two_and_says_the_way_out(words: str) -> None:
    result = _run(*words.split())
    assert result.exit_code == 2
    assert "·" in result.output
    assert "Traceback" not in result.output
