"""Terms of the rule book: what is due when, and that only what is due goes, by two people."""

from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from planish.doors.cli import redact, retention
from planish.errands.opening import wiring
from planish.errands.opening.refusing import Refused
from planish.errands.record import keeping, retaining
from planish.ledger.kinds import KINDS
from tests.keeping.fairs import settled_fair
from tests.keeping.test_restoring import holding

DURING, AFTER_ONE, AFTER_SEVEN = date(2026, 10, 20), date(2028, 1, 1), date(2034, 1, 1)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("PLANISH_NOW", "2026-10-17T18:00:00Z")
    place = tmp_path / "the fair"
    settled_fair(place).close()
    return place


def due(fair: wiring.Fair, day: date) -> set[str]:
    return {one.name for one in retaining.retention(fair, today=day) if one.due}


def test_terms_run_from_the_last_day_and_a_class_without_a_term_is_never_due(folder: Path) -> None:
    with wiring.open_fair(folder) as fair:
        terms = {one.name: (one.years, one.day) for one in retaining.retention(fair)}
        assert terms["ballots"] == (1, date(2027, 10, 17)), "the last entry is younger than the opening day"
        assert due(fair, DURING) == {"prices"}
        assert due(fair, AFTER_ONE) == {"prices", "ballots"}
        assert due(fair, AFTER_SEVEN) == {"prices", "ballots", "pictures"}
        object.__setattr__(fair.rules, "switches", {"retention_years": {"prices": 0}})
        assert due(fair, date(2999, 1, 1)) == {"prices"}


def test_ballots_go_when_they_are_due_and_what_was_decided_stays(folder: Path) -> None:
    with wiring.open_fair(folder, write=True) as fair:
        with pytest.raises(Refused, match="It is due after 2027-10-17"):
            retaining.retire(fair, who="cy", second="office", names=("ballots",), today=DURING)
        assert any(b"ballot" in raw for raw in (entry.raw for entry in fair.journal.entries()))
        with pytest.raises(Refused, match="second person"):
            retaining.retire(fair, who="cy", second="cy", today=AFTER_ONE)
        before = {id_: story.state for id_, story in fair.state.objects.items()}
        done = retaining.retire(fair, who="cy", second="office", today=AFTER_ONE)
        assert done.texts > 8
        assert {id_: story.state for id_, story in fair.state.objects.items()} == before
        gone = {one.name: len(one.texts) for one in retaining.retention(fair, today=AFTER_ONE)}
        assert gone["ballots"] == gone["prices"] == 0
        assert gone["outcomes"] > 0
        assert retaining.retire(fair, who="cy", second="office", today=AFTER_ONE).texts == 0
    assert holding(folder, "9017") == [], "the price of the plate"
    assert keeping.verify_log(folder).problems == ()


def test_every_class_names_kinds_and_fields_that_exist() -> None:
    for kinds in retaining.CLASSES.values():
        for kind, fields in kinds.items():
            assert fields <= KINDS[kind].private | retaining.ALL, kind


def test_the_commands_list_first_and_delete_only_with_two(folder: Path) -> None:
    run = CliRunner().invoke
    shown = run(redact.command, ["--fair", str(folder), "--person", "ada"])
    assert "1 of person.added" in shown.output
    assert "NAME-ada" not in shown.output, "the list names texts and does not show them"
    alone = run(redact.command, ["--fair", str(folder), "--person", "ada", "--by", "cy"])
    assert isinstance(alone.exception, Refused)
    done = run(redact.command, ["--fair", str(folder), "--person", "ada", "--by", "cy", "--second", "office"])
    assert done.output.startswith("1 texts and 0 files are deleted; the log verifies.")
    assert holding(folder, "NAME-ada") == []
    assert "still there" in run(retention.command, ["--fair", str(folder)]).output
