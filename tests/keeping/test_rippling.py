"""A fact is put right: every outcome that leaned on it is named, in every fair and archive that is given."""

import json
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner

from planish.doors.cli import ripple
from planish.doors.papers.lists import read_list
from planish.errands.intake import listing
from planish.errands.intake.finding import find
from planish.errands.intake.relisting import compare_lists
from planish.errands.opening import wiring
from planish.errands.opening.refusing import Refused
from planish.errands.panel import examining
from planish.errands.people import gathering
from planish.errands.record import archiving, rippling
from planish.facts.book import FactBook
from planish.facts.loading import load
from planish.ledger.journal import Draft
from planish.records import Ballot
from tests.keeping.fairs import PEOPLE

FACT = "date.electroplate.1840"
LIST = "No.;Description\n1;Electroplated teapot, English, c. 1790.\n2;Pewter plate, English, c. 1750. Diameter 24 cm.\n"


def fair_with_a_fault(folder: Path) -> None:
    fair = wiring.begin(folder, "saltmere", opens="2026-10-15")
    gathering.gather(fair, PEOPLE)
    taken = read_list(LIST.encode(), name="stand-7.csv")
    listing.take(fair, "7", taken, compare_lists(listing.on_file(fair, "7"), taken))
    for item in ("7/1", "7/2"):
        story = find(fair.state, item)
        ballots = [
            Ballot(object_id=story.listed.id, person=person, round=1, outcome="accept")
            for person in ("ada", "ben", "cleo", "dov")
        ]
        examining.lock(fair, ballots)
        examining.propose(fair, [examining.count(fair, find(fair.state, item))])
    fair.close()


@pytest.fixture(scope="module")
def fairs(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    root = tmp_path_factory.mktemp("fairs")
    for name in ("last year", "this year"):
        fair_with_a_fault(root / name)
    with wiring.open_fair(root / "last year") as fair:
        archiving.archive(fair, root / "archive of last year")
    return [root / "this year", root / "archive of last year"]


def corrected(fact_id: str) -> FactBook:
    """Today's book with one fact's statement put right."""
    return FactBook(
        replace(fact, statement=f"{fact.statement} Put right.") if fact.id == fact_id else fact
        for fact in load("metalware")[0]
    )


def test_an_outcome_keeps_the_facts_it_leaned_on_with_their_digests(fairs: list[Path]) -> None:
    with wiring.open_fair(fairs[0]) as fair:
        facts = find(fair.state, "7/1").outcomes[-1].body["facts"]
        known = fair.kit.book.look(FACT).fact
        assert known is not None
        assert facts[FACT] == rippling.digest_of(known)
        assert FACT not in find(fair.state, "7/2").outcomes[-1].body["facts"]


def test_a_corrected_fact_names_its_outcomes_in_every_fair_and_archive_and_no_other(
    fairs: list[Path],
) -> None:
    found = rippling.ripple(FACT, fairs, corrected(FACT))
    assert [(Path(one.folder).name, one.stand, one.number, one.how) for one in found] == [
        ("this year", "7", "1", "changed since"),
        ("archive of last year", "7", "1", "changed since"),
    ]
    assert {one.how for one in rippling.ripple(FACT, fairs, load("metalware")[0])} == {"as it stands"}
    assert rippling.changed(fairs, load("metalware")[0]) == ()
    assert rippling.changed(fairs, corrected(FACT)) == found
    gone = FactBook(fact for fact in load("metalware")[0] if fact.id != FACT)
    assert {one.how for one in rippling.changed(fairs, gone)} == {"no longer on file"}


def test_every_value_of_a_fact_moves_its_digest() -> None:
    fact = load("metalware")[0].look(FACT).fact
    assert fact is not None
    source = replace(fact.source, where="another page")
    others = [replace(fact, hardness="info"), replace(fact, source=source), replace(fact, more={"year": 1})]
    assert len({rippling.digest_of(one) for one in (fact, *others)}) == 4


def test_an_outcome_from_before_facts_were_kept_is_read_again_and_said_so(tmp_path: Path) -> None:
    fair_with_a_fault(tmp_path / "fair")
    with wiring.open_fair(tmp_path / "fair", write=True) as fair:
        teapot = find(fair.state, "7/1").listed.id
        fair.record([Draft(kind="outcome.proposed", sub=teapot, who="ada", body={"outcome": "refer"})])
        found = rippling.ripple(FACT, [fair.folder], fair.kit.book)
        assert [(one.how, one.outcome, one.standing) for one in found] == [
            ("by today's reading", "refer", True)
        ]


def test_the_command_lists_them_and_records_the_correction(tmp_path: Path) -> None:
    fair_with_a_fault(tmp_path / "fair")
    run = CliRunner().invoke
    said = json.loads(run(ripple.command, [FACT, str(tmp_path / "fair"), "--json"]).output)
    assert [(one["number"], one["fact"], one["standing"]) for one in said] == [("1", FACT, True)]
    done = run(ripple.command, [FACT, str(tmp_path / "fair"), "--record", "cy", "--why", "a better source"])
    assert done.exit_code == 0, done.exception
    with wiring.open_fair(tmp_path / "fair") as fair:
        assert [note.sub for note in fair.state.notes if note.kind == "fact.corrected"] == [FACT]
    assert isinstance(run(ripple.command, [FACT, str(tmp_path)]).exception, Refused)
