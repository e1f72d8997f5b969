"""A marker in every free text of every ballot, then a search of everything that planish prints, writes and keeps.

Every field of every ballot has its own marker, which tells neither who nor what. Reasons may be read where the rule book
gives reasons: those that speak for the outcome or for a claim's finding, never below the floor. Nothing else may show.
"""

import json
import re
import sqlite3
from collections.abc import Iterable, Iterator
from itertools import count
from pathlib import Path

import pypdf
import pytest
from click.testing import CliRunner

from planish.doors.cli import (
    appeal,
    archive,
    like,
    looks,
    people,
    printing,
    report,
    reword,
    settle,
    show,
    verify_log,
)
from planish.errands.intake.finding import find
from planish.errands.opening.wiring import LEDGER, Fair
from planish.errands.panel import examining
from planish.errands.panel.evidence import claim_key
from planish.ledger.backup import back_up
from planish.records import Answer, Ballot
from planish.records.opinions import ConditionFinding
from tests.panel_errands import fairs
from tests.panel_errands.fairs import FIRST, begun

MARKER = re.compile(r"QZMARK\d\d\d")
COUNT = re.compile(
    r"\b[0-5] (?:accept|relabel|remove|hold|holds|do not|cannot say)\b|\b[0-5] of [0-5] decided|\b[0-5] ballots? counted"
)
READERS = ("office", *FIRST, "cy", "gus")


class Marks:
    """Markers handed out: which may be read by anybody who reads reasons, and whose each is."""

    def __init__(self) -> None:
        self._next = count(100)
        self.readable: set[str] = set()
        self.owner: dict[str, str] = {}

    def new(self, person: str, *, readable: bool = False) -> str:
        mark = f"QZMARK{next(self._next)}"
        self.owner[mark] = person
        if readable:
            self.readable.add(mark)
        return mark


def lock(
    fair: Fair, marks: Marks, item: str, votes: dict[str, str], *, round: int = 1, wins: str = ""
) -> None:
    """A ballot a person with a marker in each free text. `wins`: the outcome that its reasons will speak for."""
    story = find(fair.state, item)
    date = next(c for c in examining.count(fair, story).evident.reading.claims if c.side == "date")
    for person, outcome in votes.items():
        won, falls = outcome == wins, outcome != "accept"
        verdict = "does_not_hold" if falls else "holds"
        ballot = Ballot(
            object_id=story.listed.id,
            person=person,
            round=round,  # type: ignore[arg-type]
            answers=(
                Answer(
                    claim=claim_key(date),
                    verdict=verdict,  # type: ignore[arg-type]
                    reason=marks.new(person, readable=won and falls),
                ),
            ),
            conditions=(ConditionFinding(term="worn", severity=1, reason=marks.new(person)),),
            outcome=outcome,  # type: ignore[arg-type]
            reasons=(marks.new(person, readable=won),),
            wording=marks.new(person),
            sets_aside=(("no such conflict", marks.new(person)),),
        )
        examining.lock(fair, [ballot])


@pytest.fixture
def marked(tmp_path: Path) -> tuple[Path, Marks]:
    """9/20: four against one, settled. 7/14 and 9/21: open after the first round. 7/15: two ballots only. 7/16: ballots
    locked, nothing counted."""
    fair, marks = begun(tmp_path / "fair"), Marks()
    lock(fair, marks, "9/20", {**dict.fromkeys(FIRST[:4], "relabel"), "eli": "accept"}, wins="relabel")
    fairs.settle(fair, "9/20")
    split = {**dict.fromkeys(FIRST[:3], "accept"), "dov": "relabel", "eli": "remove"}
    for item in ("7/14", "9/21"):
        lock(fair, marks, item, split)
        fairs.settle(fair, item, confirm=False)
    lock(fair, marks, "7/15", {"ada": "relabel", "ben": "relabel"})
    fairs.settle(fair, "7/15", confirm=False)
    lock(fair, marks, "7/16", dict.fromkeys(FIRST, "accept"))
    folder = fair.folder
    fair.close()
    return folder, marks


def run(command: object, folder: Path, *words: str, passphrase: str = "") -> str:
    done = CliRunner().invoke(
        command,  # type: ignore[arg-type]
        ["--fair", str(folder), *words],
        env={"PLANISH_OWN_PASSPHRASE": passphrase},
    )
    return f"{done.output}{done.exception or ''}"


def printed(folder: Path) -> Iterator[tuple[str, str]]:
    """Everything that the desk's commands print, as words and as data, and every paper as text."""
    items = ("9/20", "7/14", "9/21", "7/15", "7/16")
    for as_data in ((), ("--json",)):
        yield "like", run(like.command, folder, *as_data)
        yield "looks", run(looks.command, folder, *as_data)
        yield "people", run(people.command, folder, *as_data)
        yield "show", run(show.command, folder, *as_data)
        yield "report", run(report.command, folder, *as_data)
        yield "print", run(printing.command, folder, "all", *as_data)
        for item in items:
            for name, command in (("show", show), ("like", like), ("appeal", appeal), ("reword", reword)):
                yield f"{name} {item}", run(command.command, folder, item, *as_data)
            if item != "7/16":  # counting it would close its round
                yield f"settle {item}", run(settle.command, folder, item, *as_data)
    yield "verify-log", run(verify_log.command, folder)
    for path in sorted(folder.rglob("*.pdf")):
        yield path.name, "\n".join(page.extract_text() for page in pypdf.PdfReader(path).pages)


def bad(texts: Iterable[tuple[str, str]], allowed: set[str]) -> dict[str, set[str]]:
    found = ((name, set(MARKER.findall(text)) - allowed) for name, text in texts)
    return {name: marks for name, marks in found if marks}


def test_nothing_printed_shows_a_ballot_beyond_the_reasons_for_an_outcome(marked: tuple[Path, Marks]) -> None:
    folder, marks = marked
    texts = [*printed(folder)]
    assert bad(texts, marks.readable) == {}
    whole = "\n".join(text for _, text in texts)
    assert (
        set(MARKER.findall(whole)) == marks.readable
    )  # what may be read is really there: the search can find
    assert {name: COUNT.findall(text) for name, text in texts if COUNT.search(text)} == {}


def test_no_line_puts_a_person_beside_a_reason(marked: tuple[Path, Marks]) -> None:
    folder, _ = marked
    lines = [line for _, text in printed(folder) for line in text.splitlines() if MARKER.search(line)]
    assert lines
    assert not [line for line in lines if any(f'"{p}"' in line or f"NAME-{p}" in line for p in FIRST)]


def test_below_the_floor_only_the_result_is_told(marked: tuple[Path, Marks]) -> None:
    folder, _ = marked
    said = run(settle.command, folder, "7/15")
    assert "The split is not shown below 3 ballots." in said
    data = json.loads(run(settle.command, folder, "7/15", "--json"))[0]
    assert data["rounds"][0]["split"] is None
    assert data["rounds"][0]["rule"] == ["Talk, then vote again: trigger 1. (clause 8.4)"]
    assert data["rounds"][0]["reasons"] == []


@pytest.mark.parametrize("person", [*FIRST, "cy", "gus"])
def test_the_split_is_read_by_those_whose_own_ballot_is_locked_and_who_prove_who_they_are(
    marked: tuple[Path, Marks], person: str
) -> None:
    folder, marks = marked
    made = json.loads(run(people.command, folder, "--passphrase", person, "--json"))["passphrase"]
    assert "do not belong together" in run(
        settle.command, folder, "9/20", "--as", person, passphrase="a wrong one"
    )
    said = run(settle.command, folder, "9/20", "--as", person, passphrase=made)
    assert ("Outcomes: 1 accept, 4 relabel" in said) is (person in FIRST)
    assert set(MARKER.findall(said)) <= marks.readable
    small = run(settle.command, folder, "7/15", "--as", person, passphrase=made)
    assert not COUNT.search(small)
    assert not MARKER.search(small)


def test_the_chair_reads_the_split_only_while_deciding_and_never_a_ballot(marked: tuple[Path, Marks]) -> None:
    folder, marks = marked
    made = json.loads(run(people.command, folder, "--passphrase", "cy", "--json"))["passphrase"]
    assert not COUNT.search(run(settle.command, folder, "9/21", "--as", "cy", passphrase=made))
    with fairs_open(folder) as fair:
        again = {**dict.fromkeys(FIRST[:3], "accept"), "dov": "relabel", "eli": "remove"}
        lock(fair, marks, "9/21", again, round=2)
    said = run(settle.command, folder, "9/21", "--as", "cy", passphrase=made)
    assert "Outcomes: 3 accept, 1 relabel, 1 remove" in said
    assert "is not the chair" in run(settle.command, folder, "9/21", "--casting", "relabel", "--by", "ada")


def fairs_open(folder: Path):  # type: ignore[no-untyped-def]
    from planish.errands.opening.wiring import open_fair

    return open_fair(folder, write=True)


def test_the_log_keeps_commitments_and_no_counted_trace(marked: tuple[Path, Marks]) -> None:
    folder, _ = marked
    with fairs_open(folder) as fair:
        raw = b"\n".join(entry.raw for entry in fair.journal.entries()).decode()
        bodies = [
            e.body for s in fair.state.objects.values() for e in s.events if e.kind == "outcome.proposed"
        ]
    assert not MARKER.search(raw)
    assert bodies
    assert not [body for body in bodies if COUNT.search(json.dumps(body["trace"])) or "counts" in body]


def test_a_database_and_its_backup_hold_ballots_nowhere_but_among_the_openings(
    marked: tuple[Path, Marks], tmp_path: Path
) -> None:
    folder, marks = marked
    with fairs_open(folder) as fair:
        back_up(fair.journal.store, tmp_path / "backup.db")  # type: ignore[arg-type]
    for path in (folder / LEDGER, tmp_path / "backup.db"):
        tables = dict(_tables(path))
        assert not {
            name
            for name, text in tables.items()
            if name != "opening" and set(MARKER.findall(text)) - marks.readable
        }
    assert len(tables) > 2


def _tables(path: Path) -> Iterator[tuple[str, str]]:
    database = sqlite3.connect(f"file:{path}?mode=ro", uri=True)
    names = [row[0] for row in database.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
    for name in names:
        rows = database.execute(f'SELECT * FROM "{name}"').fetchall()
        yield (
            name,
            "\n".join(
                cell.decode("latin-1") if isinstance(cell, bytes) else str(cell) for r in rows for cell in r
            ),
        )
    database.close()


def test_the_archive_holds_no_ballot(marked: tuple[Path, Marks], tmp_path: Path) -> None:
    folder, marks = marked
    run(printing.command, folder, "all")
    target = tmp_path / "archive"
    said = run(archive.command, folder, "--unsigned", str(target))
    assert "entries and 5 objects" in said
    texts = [(p.name, p.read_bytes().decode("latin-1")) for p in target.rglob("*") if p.is_file()]
    assert bad(texts, marks.readable) == {}
    assert not [name for name, text in texts if name.endswith(".jsonl") and COUNT.search(text)]
